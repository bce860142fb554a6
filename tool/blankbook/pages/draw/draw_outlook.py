"""The drawings of what is to come: the next lot, and what a delivery's plan lets through."""

from blankbook.pages.charts.chart_types import (
    ApprovalData,
    NextLotData,
    NextLotPanel,
    OperatingData,
    PlanChance,
)
from blankbook.pages.charts.next_lot_chart import LANES
from blankbook.pages.charts.panel_types import Tolerance
from blankbook.pages.draw.canvas import XY, Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_panels import is_off

_LEFT, _RIGHT = 52.0, 14.0
"""Pixels beside the marks; what a row is stands at the left."""
_SEEN, _AHEAD, _SCALE = 30.0, 52.0, 74.0
"""Levels below a point's top: the lots so far, the next one, and the scale's words."""
_TOP, _FLOOR = 24.0, 148.0
"""Levels of all accepted and of none accepted."""

_WORDS = 122.0
"""Pixels that the words beside a share take at most."""
_DASHES = ((1, 2), (4, 2), None, (6, 2, 1, 2))
"""Tell lines apart without a colour."""


def draw_next_lot(canvas: Canvas, data: NextLotData) -> None:
    """Draw, for each point, the lots so far above the next one with its limits."""
    for place, shown in enumerate(data.panels):
        _lane(canvas, place * LANES, shown)


def _lane(canvas: Canvas, top: float, shown: NextLotPanel) -> None:
    """Draw the lots so far in one row, and the next one with its limits in the row below."""
    allowed, ahead = shown.tolerance.mm, shown.next
    ends = [*shown.lots, ahead.low, ahead.high]
    reach = 1.08 * max(1.3 * allowed, 1.0, *(abs(off) for off in ends))
    middle = (_LEFT + canvas.width - _RIGHT) / 2
    scale = (middle - _LEFT) / reach

    def x(off: float) -> float:
        return middle + off * scale

    canvas.text(4, top + 9, f"{shown.title}: the next lot", bold=True)
    canvas.band(x(-allowed), top + _SEEN - 10, x(allowed), top + _AHEAD + 10)
    canvas.lines([[(middle, top + _SEEN - 10), (middle, top + _AHEAD + 10)]], width=1.0)
    for level, words in ((_SEEN, "so far"), (_AHEAD, "next")):
        canvas.text(4, top + level, words, size=SMALL_TEXT, role="grey")
    for outside, role, shape in ((False, "grey", "dot"), (True, "vermilion", "square")):
        some = [off for off in shown.lots if is_off(off, allowed) == outside]
        places = [(x(off), top + _SEEN) for off in some]
        canvas.marks(places, role=role, shape=shape, size=2.8)
    role = "vermilion" if is_off(ahead.mean, allowed) else "blue"
    _span(canvas, (x(ahead.low), x(ahead.mean), x(ahead.high)), top + _AHEAD, role)
    _words(canvas, shown.tolerance, allowed * scale, middle, top + _SCALE)


def _span(canvas: Canvas, places: tuple[float, float, float], level: float, role: str) -> None:
    """Draw a mean with its limits, from left to right."""
    low, mean, high = places
    caps = [[(x, level - 4), (x, level + 4)] for x in (low, high)]
    canvas.lines([[(low, level), (high, level)], *caps], role=role, width=1.2)
    canvas.lines([[(mean, level - 7), (mean, level + 7)]], role=role, width=2.6)


def _words(canvas: Canvas, allowed: Tolerance, away: float, middle: float, level: float) -> None:
    """Write the tolerance below its two edges, or in the middle alone where they would touch."""
    marks = [(0.0, "chart"), (-away, allowed.below), (away, allowed.above)]
    if away < 48:  # the words of the edges and of the middle would touch
        marks = [(0.0, f"chart {allowed.both}")]
    for off, words in marks:
        canvas.text(middle + off, level, words, size=SMALL_TEXT, align="center", role="grey")


def draw_operating(canvas: Canvas, data: OperatingData) -> None:
    """Draw the chance of acceptance over the share bad, with the two shares that matter."""
    most, right = data.most, canvas.width - _RIGHT - 8

    def place(at: PlanChance) -> XY:
        return _LEFT + at.share / most * (right - _LEFT), _FLOOR - at.accepted * (_FLOOR - _TOP)

    _times_in_100(canvas, "accepted", right)
    for twentieth in range(int(most * 20) + 1):
        x = place(PlanChance(twentieth / 20, 0.0))[0]
        canvas.lines([[(x, _FLOOR), (x, _FLOOR + 4)]], role="grey")
        canvas.text(
            x, _FLOOR + 13, f"{5 * twentieth} %", size=SMALL_TEXT, align="center", role="grey"
        )
    canvas.text((_LEFT + right) / 2, _FLOOR + 31, "made bad by the supplier", size=SMALL_TEXT,
                align="center", role="grey")  # fmt: skip
    canvas.lines([[place(at) for at in data.curve]], role="blue", width=1.6)
    canvas.marks([place(at) for at in data.table], role="blue", size=2.4)
    for mark in data.marks:
        x, level = place(mark.at)
        canvas.marks([(x, level)], role="ink", shape="diamond", size=3.6)
        if x + 9 + _WORDS <= canvas.width:
            canvas.text(x + 9, level - 5, mark.words, size=SMALL_TEXT)
        else:  # above the curve, which falls to the right
            canvas.text(canvas.width - 4, level - 20, mark.words, size=SMALL_TEXT, align="right")


def _times_in_100(canvas: Canvas, what: str, right: float) -> None:
    """Draw the levels of a chance, and what it is the chance of."""
    canvas.text(4, 9, f"{what}, times in 100", bold=True)
    for chance in (0, 50, 100):
        level = _FLOOR - chance / 100 * (_FLOOR - _TOP)
        canvas.lines([[(_LEFT, level), (right, level)]], role="ink" if not chance else "band")
        canvas.text(_LEFT - 6, level, str(chance), size=SMALL_TEXT, align="right", role="grey")


def draw_approval(canvas: Canvas, data: ApprovalData) -> None:
    """Draw the chance of an approval over how far one size is off, a line for each purchase."""
    right = canvas.width - _RIGHT - 8

    def place(off: float, chance: float) -> XY:
        return _LEFT + off / data.most * (right - _LEFT), _FLOOR - chance * (_FLOOR - _TOP)

    _times_in_100(canvas, "approved", right)
    for half in range(int(data.most * 2) + 1):
        x = place(half / 2, 0.0)[0]
        canvas.lines([[(x, _FLOOR), (x, _FLOOR + 4)]], role="grey")
        canvas.text(x, _FLOOR + 13, f"{half / 2:g}", size=SMALL_TEXT, align="center", role="grey")
    canvas.text((_LEFT + right) / 2, _FLOOR + 28, "tolerances that one size is off",
                size=SMALL_TEXT, align="center", role="grey")  # fmt: skip
    for at, line in enumerate(data.lines):
        dashes, level = _DASHES[at % len(_DASHES)], _FLOOR + 46 + 14 * at
        canvas.lines([[place(*chance) for chance in line.chances]], role="blue", width=1.6,
                     dashes=dashes)  # fmt: skip
        canvas.lines([[(_LEFT, level), (_LEFT + 34, level)]], role="blue", width=1.6, dashes=dashes)
        canvas.text(_LEFT + 42, level, line.name, size=SMALL_TEXT)
