"""The drawing of a blank over time: all sizes together, and a panel for each size below."""

from collections.abc import Sequence

from blankbook.pages.charts.over_time_charts import (
    DATES,
    HEAD,
    LANE,
    LOWER,
    NAME,
    PANEL_GAP,
    STRIP,
    TIME_LEFT,
    TIME_RIGHT,
    UPPER,
)
from blankbook.pages.charts.over_time_types import (
    AxisDays,
    DecisionLetter,
    OverTimeData,
    StripData,
)
from blankbook.pages.draw.axis_labels import shortened, spread_apart
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.time_axis import TimeAxis
from blankbook.pages.draw.time_plot import SharedPaths, TimePlot, reach_of

_DATE = 50.0
"""Pixels that a date takes."""
_BEGUN = 96.0
"""Pixels that the name of a new chart takes."""
_STRIP_LEFT = 96.0
"""Pixels beside a strip, for the name of its point."""
_LETTER = 10.0
"""Pixels that a letter takes."""


def draw_over_time(canvas: Canvas, data: OverTimeData) -> None:
    """Draw one point of measure: all sizes together on top, each size below, on one axis."""
    reach = reach_of(data.stands, data.panels, data.bands)
    axis = _axis(data.days, TIME_LEFT, canvas.width - TIME_RIGHT)
    canvas.text(4, 9, data.title, bold=True)
    ink = SharedPaths()
    upper = TimePlot(canvas, ink, axis, data.head, UPPER, reach)
    upper.ground(data.bands)
    upper.scale(data.tolerance)
    upper.stands(data.stands)
    _begun(canvas, axis, data.days.names)
    _dates(canvas, axis.lots, data.days.dates, upper.bottom)
    _decided(canvas, axis, data.decided, upper.bottom + DATES + LANE / 2)
    top, beside = upper.bottom + DATES + LANE, max(data.beside, 1)
    room = (canvas.width - TIME_LEFT - TIME_RIGHT + PANEL_GAP) / beside
    for place, panel in enumerate(data.panels):
        row, column = divmod(place, beside)
        left = TIME_LEFT + column * room
        level = top + row * (NAME + LOWER) + NAME
        own = _axis(data.days, left, left + room - PANEL_GAP)
        plot = TimePlot(canvas, ink, own, level, LOWER, reach)
        plot.ground(panel.bands)
        plot.sizes(panel.marks)
        most = max(int((room - PANEL_GAP) / 7.5), 2)
        canvas.text((own.left + own.right) / 2, level - 8, shortened(panel.label, most),
                    align="center")  # fmt: skip
        if column == 0:
            plot.scale(data.tolerance)
    ink.draw(canvas)


def _axis(days: AxisDays, left: float, right: float) -> TimeAxis:
    return TimeAxis(days.lots, days.charts, days.end, left, right)


def _begun(canvas: Canvas, axis: TimeAxis, names: Sequence[str]) -> None:
    """Name each new chart above the place where it begins, as many as fit."""
    last = 0.0
    for x, name in zip(axis.charts, names, strict=True):
        if x is not None:
            words = f"chart {name}"
            middle = min(x, canvas.width - _BEGUN / 2)
            if middle - last >= _BEGUN:
                canvas.text(middle, HEAD, words, size=SMALL_TEXT, align="center", role="grey")
                last = middle


def _dates(canvas: Canvas, across: Sequence[float], dates: Sequence[str], level: float) -> None:
    """Write the dates of lots, as many as fit, with a tick for each lot."""
    canvas.lines([[(x, level), (x, level + 4)] for x in across], role="grey")
    last = -_DATE
    for x, date in zip(across, dates, strict=True):
        middle = min(x, canvas.width - _DATE / 2)
        if middle - last >= _DATE:
            canvas.text(middle, level + 11, date, size=SMALL_TEXT, align="center", role="grey")
            last = middle


def _decided(
    canvas: Canvas, axis: TimeAxis, decided: Sequence[DecisionLetter], level: float
) -> None:
    """Write a letter for each decision at its day, moved apart where two would touch."""
    if not decided:
        return
    canvas.text(TIME_LEFT - 5, level, "decided", size=SMALL_TEXT, align="right", role="grey")
    wanted = [axis.day(decision.day) for decision in decided]
    gap = min(_LETTER, (axis.right - axis.left) / len(decided))
    for x, decision in zip(
        spread_apart(wanted, gap, axis.left + 4, axis.right - 4), decided, strict=True
    ):
        canvas.text(x, level, decision.letter, size=SMALL_TEXT, align="center")


def draw_strip(canvas: Canvas, data: StripData) -> None:
    """Draw a blank in short: for each point, all sizes together over time."""
    axis, ink = _axis(data.days, _STRIP_LEFT, canvas.width - TIME_RIGHT), SharedPaths()
    for place, strip in enumerate(data.strips):
        reach = reach_of(strip.stands, [], strip.bands)
        plot = TimePlot(canvas, ink, axis, place * STRIP + 3, STRIP - 6, reach)
        canvas.text(4, plot.y(0.0) - 7, strip.title, size=SMALL_TEXT)
        canvas.text(4, plot.y(0.0) + 7, strip.tolerance.both, size=SMALL_TEXT, role="grey")
        plot.ground(strip.bands)
        plot.stands(strip.stands)
    ink.draw(canvas)
    _dates(canvas, axis.lots, data.days.dates, STRIP * len(data.strips) - 3)
