"""The drawing of a size ladder: a rung for each size, lengths along one scale."""

from collections.abc import Callable, Iterator, Sequence
from math import cos, sin, tau

from blankbook.pages.charts.ladder_chart import LADDER_TOP, RUNG_HEIGHT
from blankbook.pages.charts.ladder_types import LadderData, Rung
from blankbook.pages.draw.axis_labels import shortened
from blankbook.pages.draw.canvas import XY, Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_panels import is_off, swarm_lanes

_LEFT, _RIGHT = 52.0, 12.0
"""Pixels beside the scale; the sizes' names stand at the left."""
_HALF = RUNG_HEIGHT / 2 - 1.5
"""Pixels from the middle of a rung to the ends of its chart mark."""
_DOT, _RING = 2.6, 3.0
_NEW, _WASHED, _LANE = -3.0, 4.0, 4.5
"""Pixels from the middle of a rung to the pieces as received, and washed, and between lanes."""
_LETTER = 6.3
"""Pixels of a letter of the key."""


def draw_ladder(canvas: Canvas, data: LadderData) -> None:
    """Draw every size's pieces, the charted length, and what is allowed about it."""
    plot = _Plot(canvas, data)
    canvas.text(4, 10, data.title, bold=True)
    plot.charted()
    plot.limits()
    plot.pieces()
    plot.scale()
    _key(canvas, data.rungs, plot.bottom + 28)


class _Plot:
    """The rungs on their scale."""

    def __init__(self, canvas: Canvas, data: LadderData) -> None:
        self.canvas, self.data = canvas, data
        self.right = canvas.width - _RIGHT
        self.bottom = LADDER_TOP + RUNG_HEIGHT * len(data.rungs)

    def x(self, mm: float) -> float:
        """Return the place of a length."""
        data = self.data
        return _LEFT + (self.right - _LEFT) * (mm - data.low) / (data.high - data.low)

    def levels(self) -> Iterator[tuple[Rung, float]]:
        """Yield each rung with its middle."""
        for place, rung in enumerate(self.data.rungs):
            yield rung, LADDER_TOP + RUNG_HEIGHT * (place + 0.5)

    def charted(self) -> None:
        """Draw each size's name, its charted length, and the tolerance about that."""
        posts = []
        for rung, level in self.levels():
            role = "vermilion" if rung.fails else "ink"
            self.canvas.text(4, level, shortened(rung.label, 7), role=role, bold=rung.fails)
            if rung.charted is not None:
                ends = rung.charted - rung.allowed, rung.charted + rung.allowed
                left, right = map(self.x, ends)
                self.canvas.band(left, level - _HALF, right, level + _HALF)
                at = self.x(rung.charted)
                posts.append([(at, level - _HALF), (at, level + _HALF)])
        self.canvas.lines(posts, width=1.4)

    def limits(self) -> None:
        """Draw the limits of each mean, those of sizes that fail in vermilion."""
        for role in ("blue", "vermilion"):
            spans = [
                [(self.x(rung.mean.low), level), (self.x(rung.mean.high), level)]
                for rung, level in self.levels()
                if rung.mean and rung.fails == (role == "vermilion")
            ]
            self.canvas.lines(spans, role=role, width=1.4)

    def pieces(self) -> None:
        """Draw each piece: filled as received, hollow after washing, a square where it is off."""
        marks: dict[bool, list[XY]] = {False: [], True: []}
        rings: list[list[XY]] = []
        for rung, level in self.levels():
            for mm, lane in zip(rung.new, _lanes(rung.new, self.x), strict=True):
                marks[_is_bad(rung, mm)].append((self.x(mm), level + _NEW - _LANE * lane))
            for mm, lane in zip(rung.washed, _lanes(rung.washed, self.x), strict=True):
                rings.append(_ring(self.x(mm), level + _WASHED + _LANE * lane))
        self.canvas.marks(marks[False], role="grey", size=_DOT)
        self.canvas.marks(marks[True], role="vermilion", shape="square", size=_DOT)
        self.canvas.lines(rings, width=1.2, closed=True)

    def scale(self) -> None:
        """Draw the scale below the rungs."""
        top, marks = self.bottom + 1, self.data.ticks
        strokes = [[(self.x(mark.at), top), (self.x(mark.at), top + 4)] for mark in marks]
        self.canvas.lines([[(_LEFT, top), (self.right, top)], *strokes], role="grey")
        for mark in marks:
            self.canvas.text(
                self.x(mark.at), top + 12, mark.words, size=SMALL_TEXT, align="center", role="grey"
            )


def _is_bad(rung: Rung, mm: float) -> bool:
    return rung.fails or (rung.charted is not None and is_off(mm - rung.charted, rung.allowed))


def _lanes(lengths: Sequence[float], x: Callable[[float], float]) -> list[int]:
    """Return a lane for each piece, of two: a third on the same spot covers the first."""
    return [lane % 2 for lane in swarm_lanes([x(mm) for mm in lengths])]


def _ring(x: float, y: float) -> list[XY]:
    turns = (tau * place / 10 for place in range(10))
    return [(x + _RING * cos(turn), y + _RING * sin(turn)) for turn in turns]


def _key(canvas: Canvas, rungs: Sequence[Rung], level: float) -> None:
    """Draw each mark that there is beside what it means, in two lines."""
    canvas.marks([(_LEFT, level)], role="grey", size=_DOT)
    at = _said(canvas, _LEFT, level, "a piece, new")
    if any(rung.washed for rung in rungs):
        canvas.lines([_ring(at, level)], width=1.2, closed=True)
        at = _said(canvas, at, level, "washed")
    if any(_is_bad(rung, mm) for rung in rungs for mm in rung.new):
        canvas.marks([(at, level)], role="vermilion", shape="square", size=_DOT)
        _said(canvas, at, level, "off, or sizes touch")
    if any(rung.charted is not None for rung in rungs):
        level += 15
        canvas.band(_LEFT - 5, level - 5, _LEFT + 5, level + 5)
        canvas.lines([[(_LEFT, level - 5), (_LEFT, level + 5)]], width=1.4)
        at = _said(canvas, _LEFT + 3, level, "chart, tolerance")
        canvas.lines([[(at - 5, level), (at + 5, level)]], role="blue", width=1.4)
        _said(canvas, at + 3, level, "limits of the mean")


def _said(canvas: Canvas, at: float, level: float, words: str) -> float:
    """Write what a mark means beside it, and return where the next mark stands."""
    canvas.text(at + 7, level, words, size=SMALL_TEXT, role="grey")
    return at + 7 + _LETTER * len(words) + 13
