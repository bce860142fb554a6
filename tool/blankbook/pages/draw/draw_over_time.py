"""The drawing of a blank over time: all sizes together, and a panel for each size below."""

from collections.abc import Mapping, Sequence
from typing import Any

from blankbook.pages.charts.over_time_charts import (
    DATES,
    HEAD,
    LANE,
    LEFT,
    LOWER,
    NAME,
    PANEL_GAP,
    RIGHT,
    STRIP,
    UPPER,
)
from blankbook.pages.draw.axis_labels import shortened, spread_apart
from blankbook.pages.draw.canvas import XY, Canvas, Polyline
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_panels import DASHES, DOTS
from blankbook.pages.draw.time_axis import TimeAxis

Data = Mapping[str, Any]
DATE = 50.0
"""Pixels that a date takes."""
BEGUN = 96.0
"""Pixels that the name of a new chart takes."""
STRIP_LEFT = 96.0
"""Pixels beside a strip, for the name of its point."""
LETTER = 10.0
"""Pixels that a letter takes."""
RADIUS = 2.9
RIGHT_HALF = ((0.0, -0.7), (0.5, -0.5), (0.7, 0.0), (0.5, 0.5), (0.0, 0.7))
"""What is left open of a dot that is not shown."""


class SharedPaths:
    """What several panels draw alike, gathered so that each kind is one path of the file."""

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
        self.marks: dict[str, list[XY]] = {}
        """By answer; alarms and the other lots are under "fails" and "meets"."""

    def lay(self, canvas: Canvas) -> None:
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
        for answer, role, shape in (("meets", "blue", "dot"), ("fails", "vermilion", "square")):
            canvas.marks(self.marks.get(answer, []), role=role, shape=shape, size=RADIUS)
        unknown = self.marks.get("not shown", [])
        canvas.marks(unknown, role="ink", size=RADIUS)
        canvas.fill([_around(place, RIGHT_HALF) for place in unknown], role="band")


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

    def ground(self, bands: Sequence[Data]) -> None:
        """Draw what each chart allows from its day on, and where the one before it stood."""
        for band in bands:
            begin, end = self.axis.span(band["chart"])
            top, bottom = self.y(band["allowed"]), self.y(-band["allowed"])
            self.ink.bands.append([(begin, top), (end, top), (end, bottom), (begin, bottom)])
            self.ink.edges += [[(begin, level), (end, level)] for level in (top, bottom)]
            was = band["was"]
            if was is not None and abs(was) < self.reach and self._begins(band):
                self.ink.was.append([(begin, self.y(was)), (end, self.y(was))])
        self.ink.zeros.append([(self.axis.left, self.y(0.0)), (self.axis.right, self.y(0.0))])
        begun = (x for x in self.axis.charts if x is not None)
        self.ink.begun += [[(x, self.top), (x, self.bottom)] for x in begun]

    def _begins(self, band: Data) -> bool:
        return self.axis.charts[band["chart"]] is not None

    def scale(self, allowed: Data) -> None:
        """Write at the left how far from the chart is allowed now."""
        ends = [(allowed["mm"], allowed["above"]), (-allowed["mm"], allowed["below"])]
        marks = [ends[0], (0.0, "chart"), ends[1]]
        if self.y(0.0) - self.y(allowed["mm"]) < SMALL_TEXT + 1:
            marks = [(0.0, allowed["both"])]
        for off, words in marks:
            self.canvas.text(
                LEFT - 5, self.y(off), words, size=SMALL_TEXT, align="right", role="grey"
            )

    def stands(self, stands: Sequence[Data]) -> None:
        """Draw the lots, their limits, the moving average with its own, and every alarm."""
        across = self.axis.lots
        limits = [(across[s["at"]], self.y(end)) for s in stands for end in s["limits"] or ()]
        self.ink.strokes += [[(x - 4, level), (x + 4, level)] for x, level in limits]
        kept = [s for s in stands if s["average"] is not None]
        if len(kept) > 1:
            self.ink.averages.append([(across[s["at"]], self.y(s["average"])) for s in kept])
            self.ink.beyond += [
                [(across[s["at"]], self.y(s["averages"][side])) for s in kept] for side in (0, 1)
            ]
        for stand in stands:
            place = (across[stand["at"]], self.y(stand["off"]))
            self.ink.marks.setdefault("fails" if stand["alarm"] else "meets", []).append(place)
            if stand["alarm"]:
                aside = -11.0 if place[1] - self.top > 16 else 11.0
                self.canvas.text(place[0], place[1] + aside, "!", bold=True, align="center",
                                 role="vermilion")  # fmt: skip

    def sizes(self, marks: Sequence[Data]) -> None:
        """Draw one size, lot by lot, each by its answer."""
        places = [(self.axis.lots[mark["at"]], self.y(mark["off"])) for mark in marks]
        self.ink.joined.append(places)
        for mark, place in zip(marks, places, strict=True):
            self.ink.marks.setdefault(mark["answer"], []).append(place)


def _around(place: XY, shape: Sequence[XY]) -> Polyline:
    return [(place[0] + RADIUS * x, place[1] + RADIUS * y) for x, y in shape]


def reach_of(stands: Sequence[Data], panels: Sequence[Data], bands: Sequence[Data]) -> float:
    """Return the furthest distance that the panels of a point must hold, the same for all."""
    offs = [stand["off"] for stand in stands]
    offs += [end for stand in stands for key in ("limits", "averages") for end in stand[key] or ()]
    offs += [mark["off"] for panel in panels for mark in panel["marks"]]
    allowed = max(band["allowed"] for band in bands)
    reach: float = 1.12 * max(1.3 * allowed, 1.0, *(abs(off) for off in offs))
    return reach


def draw_over_time(canvas: Canvas, data: Data) -> None:
    """Draw one point of measure: all sizes together on top, each size below, on one axis."""
    reach = reach_of(data["stands"], data["panels"], data["bands"])
    axis = _axis(data, LEFT, canvas.width - RIGHT)
    canvas.text(4, 9, data["title"], bold=True)
    ink = SharedPaths()
    upper = TimePlot(canvas, ink, axis, data["head"], UPPER, reach)
    upper.ground(data["bands"])
    upper.scale(data["tolerance"])
    upper.stands(data["stands"])
    _begun(canvas, axis, data["names"])
    _dates(canvas, axis.lots, data["dates"], upper.bottom)
    _decided(canvas, axis, data["decided"], upper.bottom + DATES + LANE / 2)
    top = upper.bottom + DATES + LANE
    room = (canvas.width - LEFT - RIGHT + PANEL_GAP) / max(data["beside"], 1)
    for place, panel in enumerate(data["panels"]):
        row, column = divmod(place, data["beside"])
        left = LEFT + column * room
        level = top + row * (NAME + LOWER) + NAME
        own = _axis(data, left, left + room - PANEL_GAP)
        plot = TimePlot(canvas, ink, own, level, LOWER, reach)
        plot.ground(panel["bands"])
        plot.sizes(panel["marks"])
        most = max(int((room - PANEL_GAP) / 7.5), 2)
        canvas.text((own.left + own.right) / 2, level - 8, shortened(panel["label"], most),
                    align="center")  # fmt: skip
        if column == 0:
            plot.scale(data["tolerance"])
    ink.lay(canvas)


def _axis(data: Data, left: float, right: float) -> TimeAxis:
    return TimeAxis(data["lots"], data["charts"], data["end"], left, right)


def _begun(canvas: Canvas, axis: TimeAxis, names: Sequence[str]) -> None:
    """Name each new chart above the place where it begins, as many as fit."""
    last = 0.0
    for x, name in zip(axis.charts, names, strict=True):
        if x is not None:
            words = f"chart {name}"
            middle = min(x, canvas.width - BEGUN / 2)
            if middle - last >= BEGUN:
                canvas.text(middle, HEAD, words, size=SMALL_TEXT, align="center", role="grey")
                last = middle


def _dates(canvas: Canvas, across: Sequence[float], dates: Sequence[str], level: float) -> None:
    """Write the dates of lots, as many as fit, with a tick for each lot."""
    canvas.lines([[(x, level), (x, level + 4)] for x in across], role="grey")
    last = -DATE
    for x, date in zip(across, dates, strict=True):
        middle = min(x, canvas.width - DATE / 2)
        if middle - last >= DATE:
            canvas.text(middle, level + 11, date, size=SMALL_TEXT, align="center", role="grey")
            last = middle


def _decided(canvas: Canvas, axis: TimeAxis, decided: Sequence[Data], level: float) -> None:
    """Write a letter for each decision at its day, moved apart where two would touch."""
    if not decided:
        return
    canvas.text(LEFT - 5, level, "decided", size=SMALL_TEXT, align="right", role="grey")
    wanted = [axis.day(decision["day"]) for decision in decided]
    gap = min(LETTER, (axis.right - axis.left) / len(decided))
    for x, decision in zip(
        spread_apart(wanted, gap, axis.left + 4, axis.right - 4), decided, strict=True
    ):
        canvas.text(x, level, decision["letter"], size=SMALL_TEXT, align="center")


def draw_strip(canvas: Canvas, data: Data) -> None:
    """Draw a blank in short: for each point, all sizes together over time."""
    axis, ink = _axis(data, STRIP_LEFT, canvas.width - RIGHT), SharedPaths()
    for place, strip in enumerate(data["strips"]):
        reach = reach_of(strip["stands"], [], strip["bands"])
        plot = TimePlot(canvas, ink, axis, place * STRIP + 3, STRIP - 6, reach)
        canvas.text(4, plot.y(0.0) - 7, strip["title"], size=SMALL_TEXT)
        canvas.text(4, plot.y(0.0) + 7, strip["tolerance"]["both"], size=SMALL_TEXT, role="grey")
        plot.ground(strip["bands"])
        plot.stands(strip["stands"])
    ink.lay(canvas)
    _dates(canvas, axis.lots, data["dates"], STRIP * len(data["strips"]) - 3)
