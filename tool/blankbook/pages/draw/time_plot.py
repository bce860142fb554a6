"""One panel over time, and the paths that all panels of a drawing share."""

from collections.abc import Sequence

from blankbook.pages.charts.over_time_charts import TIME_LEFT
from blankbook.pages.charts.over_time_types import LotStand, SizeMark, SizePanel, ToleranceBand
from blankbook.pages.charts.panel_types import Tolerance
from blankbook.pages.draw.canvas import XY, Canvas, Polyline
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_panels import DASHES, DOTS
from blankbook.pages.draw.time_axis import TimeAxis
from blankbook.words.answers import Answer

_RADIUS = 2.9
_RIGHT_HALF = ((0.0, -0.7), (0.5, -0.5), (0.7, 0.0), (0.5, 0.5), (0.0, 0.7))
"""What is left open of a dot that is not shown."""


class SharedPaths:
    """What all panels of a drawing draw alike: one path for each kind keeps the file small."""

    def __init__(self) -> None:
        self.bands: list[Polyline] = []
        self.edges: list[Polyline] = []
        self.was: list[Polyline] = []
        self.zeros: list[Polyline] = []
        self.begun: list[Polyline] = []
        self.strokes: list[Polyline] = []
        self.averages: list[Polyline] = []
        self.beyond: list[Polyline] = []
        self.joined: list[Polyline] = []
        self.marks: dict[Answer, list[XY]] = {}
        """By answer; a lot with an alarm is drawn like one that fails, the others like those that
        meet."""

    def draw(self, canvas: Canvas) -> None:
        """Draw all of it, the ground first."""
        canvas.fill(self.bands, role="band")
        canvas.lines(self.edges, role="grey", width=0.6)
        canvas.lines(self.was, role="grey", width=1.0, dashes=DASHES)
        canvas.lines(self.zeros, width=1.0)
        canvas.lines(self.begun, width=1.0, dashes=DASHES)
        canvas.lines(self.strokes, role="grey", width=1.4)
        canvas.lines(self.averages, width=1.2)
        canvas.lines(self.beyond, width=1.0, dashes=DOTS)
        canvas.lines(self.joined, role="grey", width=0.7)
        canvas.marks(self.marks.get(Answer.MEETS, []), role="blue", size=_RADIUS)
        outside = self.marks.get(Answer.FAILS, [])
        canvas.marks(outside, role="vermilion", shape="square", size=_RADIUS)
        unknown = self.marks.get(Answer.NOT_SHOWN, [])
        canvas.marks(unknown, role="ink", size=_RADIUS)
        canvas.fill([_around(place, _RIGHT_HALF) for place in unknown], role="band")


class TimePlot:
    """One panel: levels from *-reach* to *reach* beside an axis of days."""

    def __init__(
        self,
        canvas: Canvas,
        ink: SharedPaths,
        axis: TimeAxis,
        top: float,
        tall: float,
        reach: float,
    ) -> None:
        self.canvas, self.ink, self.axis, self.reach = canvas, ink, axis, reach
        self.top, self.bottom = top, top + tall

    def y(self, off: float) -> float:
        """Return the level of a distance from the chart."""
        return (self.top + self.bottom) / 2 - off / self.reach * (self.bottom - self.top) / 2

    def ground(self, bands: Sequence[ToleranceBand]) -> None:
        """Draw what each chart allows from its day on, and where the one before it stood."""
        for band in bands:
            begin, end = self.axis.span(band.chart)
            top, bottom = self.y(band.allowed), self.y(-band.allowed)
            self.ink.bands.append([(begin, top), (end, top), (end, bottom), (begin, bottom)])
            self.ink.edges += [[(begin, level), (end, level)] for level in (top, bottom)]
            begins = self.axis.charts[band.chart] is not None
            if begins and band.was is not None and abs(band.was) < self.reach:
                self.ink.was.append([(begin, self.y(band.was)), (end, self.y(band.was))])
        self.ink.zeros.append([(self.axis.left, self.y(0.0)), (self.axis.right, self.y(0.0))])
        begun = (x for x in self.axis.charts if x is not None)
        self.ink.begun += [[(x, self.top), (x, self.bottom)] for x in begun]

    def scale(self, allowed: Tolerance) -> None:
        """Write at the left how far from the newest chart is allowed."""
        marks = [(allowed.mm, allowed.above), (0.0, "chart"), (-allowed.mm, allowed.below)]
        if self.y(0.0) - self.y(allowed.mm) < SMALL_TEXT + 1:
            marks = [(0.0, allowed.both)]
        for off, words in marks:
            self.canvas.text(
                TIME_LEFT - 5, self.y(off), words, size=SMALL_TEXT, align="right", role="grey"
            )

    def stands(self, stands: Sequence[LotStand]) -> None:
        """Draw the lots, their limits, the moving average with its own, and every alarm."""
        across = self.axis.lots
        limits = [
            (across[stand.at], self.y(end))
            for stand in stands
            if stand.limits
            for end in (stand.limits.low, stand.limits.high)
        ]
        self.ink.strokes += [[(x - 4, level), (x + 4, level)] for x, level in limits]
        averages = [(across[stand.at], stand.average) for stand in stands if stand.average]
        if len(averages) > 1:
            self.ink.averages.append([(x, self.y(average.mean)) for x, average in averages])
            self.ink.beyond.append([(x, self.y(average.low)) for x, average in averages])
            self.ink.beyond.append([(x, self.y(average.high)) for x, average in averages])
        for stand in stands:
            place = (across[stand.at], self.y(stand.off))
            answer = Answer.FAILS if stand.alarm else Answer.MEETS
            self.ink.marks.setdefault(answer, []).append(place)
            if stand.alarm:
                aside = -11.0 if place[1] - self.top > 16 else 11.0
                self.canvas.text(place[0], place[1] + aside, "!", bold=True, align="center",
                                 role="vermilion")  # fmt: skip

    def sizes(self, marks: Sequence[SizeMark]) -> None:
        """Draw one size, lot by lot; the mark of each says its answer."""
        places = [(self.axis.lots[mark.at], self.y(mark.off)) for mark in marks]
        if places:
            self.ink.joined.append(places)
        for mark, place in zip(marks, places, strict=True):
            self.ink.marks.setdefault(mark.answer, []).append(place)


def _around(place: XY, shape: Sequence[XY]) -> Polyline:
    return [(place[0] + _RADIUS * x, place[1] + _RADIUS * y) for x, y in shape]


def reach_of(
    stands: Sequence[LotStand], panels: Sequence[SizePanel], bands: Sequence[ToleranceBand]
) -> float:
    """Return the furthest distance that the panels of a point must hold, the same for all."""
    offs = [stand.off for stand in stands]
    spans = [span for stand in stands for span in (stand.limits, stand.average) if span]
    offs += [end for span in spans for end in (span.low, span.high)]
    offs += [mark.off for panel in panels for mark in panel.marks]
    allowed = max((band.allowed for band in bands), default=0.0)
    return 1.12 * max([1.3 * allowed, 1.0, *(abs(off) for off in offs)])
