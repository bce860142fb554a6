"""The drawing of a blank over time: all sizes together, and a panel for each size below."""

from collections.abc import Mapping, Sequence
from math import cos, pi, sin
from typing import Any

from blankbook.pages.charts.canvas import Canvas, Line, Place
from blankbook.pages.charts.draw_panels import DASHES, DOTS
from blankbook.pages.charts.labels import safe, spaced
from blankbook.pages.charts.over_time import (
    APART,
    DATES,
    HEAD,
    LANE,
    LEFT,
    LOWER,
    NAME,
    RIGHT,
    STRIP,
    UPPER,
)
from blankbook.pages.charts.style import SMALL
from blankbook.pages.charts.time_axis import TimeAxis

Data = Mapping[str, Any]
DATE = 50.0
"""Pixels that a date takes."""
LETTER = 10.0
"""Pixels that a letter takes."""
RADIUS = 2.9
CIRCLE = [(cos(turn * pi / 6), sin(turn * pi / 6)) for turn in range(12)]
LEFT_HALF = [(cos(turn * pi / 6), sin(turn * pi / 6)) for turn in range(3, 10)]


class Plot:
    """One panel: levels from *-reach* to *reach* beside an axis of days."""

    def __init__(
        self, canvas: Canvas, axis: TimeAxis, top: float, tall: float, reach: float
    ) -> None:
        self.canvas, self.axis, self.reach = canvas, axis, reach
        self.top, self.bottom = top, top + tall

    def y(self, off: float) -> float:
        """Return the level of a distance, kept in the panel."""
        kept = min(max(off, -self.reach), self.reach)
        return (self.top + self.bottom) / 2 - kept / self.reach * (self.bottom - self.top) / 2

    def ground(self, bands: Sequence[Data]) -> None:
        """Draw what each chart allows from its day on, and where the one before it stood."""
        left, right = self.axis.left, self.axis.right
        for one in bands:
            begin, end = self.axis.span(one["chart"])
            self.canvas.band(begin, self.y(one["allowed"]), end, self.y(-one["allowed"]))
        edges = [
            [(x, self.y(off)) for x in self.axis.span(one["chart"])]
            for one in bands
            for off in (one["allowed"], -one["allowed"])
        ]
        self.canvas.lines(edges, role="grey", width=0.6)
        was = [
            [(x, self.y(one["was"])) for x in self.axis.span(one["chart"])]
            for one in bands
            if one["was"] is not None and abs(one["was"]) < self.reach and self._begins(one)
        ]
        self.canvas.lines(was, role="grey", width=1.0, dashes=DASHES)
        self.canvas.lines([[(left, self.y(0.0)), (right, self.y(0.0))]], width=1.0)
        self.canvas.lines(
            [[(x, self.top), (x, self.bottom)] for x in self.axis.charts if x is not None],
            width=1.0, dashes=DASHES,
        )  # fmt: skip

    def _begins(self, band: Data) -> bool:
        return self.axis.charts[band["chart"]] is not None

    def scale(self, allowed: Data) -> None:
        """Write at the left how far from the chart is allowed now."""
        marks = [
            (allowed["mm"], allowed["above"]),
            (0.0, "chart"),
            (-allowed["mm"], allowed["below"]),
        ]
        if self.y(0.0) - self.y(allowed["mm"]) < SMALL + 1:
            marks = [(0.0, allowed["both"])]
        for off, words in marks:
            self.canvas.text(LEFT - 5, self.y(off), words, size=SMALL, align="right", role="grey")

    def stands(self, stands: Sequence[Data]) -> None:
        """Draw the lots, their limits, the moving average with its own, and every alarm."""
        across = self.axis.lots
        limits = [(across[s["at"]], s["limits"]) for s in stands if s["limits"]]
        ends: list[Line] = [
            [(x - 4, self.y(end)), (x + 4, self.y(end))]
            for x, both in limits
            for end in both
            if abs(end) <= self.reach
        ]
        self.canvas.lines(ends, role="grey", width=1.4)
        kept = [s for s in stands if s["average"] is not None]
        average = [(across[s["at"]], self.y(s["average"])) for s in kept]
        if len(kept) > 1:
            self.canvas.lines([average], width=1.2)
            beyond = [
                [(across[s["at"]], self.y(s["averages"][side])) for s in kept] for side in (0, 1)
            ]
            self.canvas.lines(beyond, width=1.0, dashes=DOTS)
        for alarm, role, shape in ((False, "blue", "dot"), (True, "vermilion", "square")):
            places = [(across[s["at"]], self.y(s["off"])) for s in stands if s["alarm"] == alarm]
            self.canvas.marks(places, role=role, shape=shape, size=RADIUS)
        for one in (s for s in stands if s["alarm"]):
            level = self.y(one["off"])
            aside = -11.0 if level - self.top > 16 else 11.0
            self.canvas.text(across[one["at"]], level + aside, "!", bold=True, align="center",
                             role="vermilion")  # fmt: skip

    def sizes(self, marks: Sequence[Data]) -> None:
        """Draw one size, lot by lot, each by its answer."""
        places = {mark["at"]: (self.axis.lots[mark["at"]], self.y(mark["off"])) for mark in marks}
        self.canvas.lines([list(places.values())], role="grey", width=0.7)
        by_answer: dict[str, list[Place]] = {}
        for mark in marks:
            by_answer.setdefault(mark["answer"], []).append(places[mark["at"]])
        self.canvas.marks(by_answer.get("meets", []), role="blue", size=RADIUS)
        self.canvas.marks(by_answer.get("fails", []), role="vermilion", shape="square", size=RADIUS)
        unknown = by_answer.get("not shown", [])
        self.canvas.fill([_around(place, LEFT_HALF) for place in unknown], role="ink")
        self.canvas.lines([_around(place, CIRCLE) for place in unknown], closed=True)


def _around(place: Place, shape: Sequence[Place]) -> Line:
    return [(place[0] + RADIUS * x, place[1] + RADIUS * y) for x, y in shape]


def reach_of(stands: Sequence[Data], panels: Sequence[Data], bands: Sequence[Data]) -> float:
    """Return the furthest distance that the panels of a point must hold, the same for all."""
    offs = [one["off"] for one in stands]
    offs += [one["average"] for one in stands if one["average"] is not None]
    offs += [mark["off"] for panel in panels for mark in panel["marks"]]
    allowed = max(one["allowed"] for one in bands)
    return 1.12 * max(1.3 * allowed, 1.0, *(abs(off) for off in offs))


def draw_over_time(canvas: Canvas, data: Data) -> None:
    """Draw one point of measure: all sizes together on top, each size below, on one axis."""
    reach = reach_of(data["stands"], data["panels"], data["bands"])
    axis = _axis(data, LEFT, canvas.width - RIGHT)
    canvas.text(4, 9, data["title"], bold=True)
    upper = Plot(canvas, axis, HEAD, UPPER, reach)
    upper.ground(data["bands"])
    upper.scale(data["tolerance"])
    upper.stands(data["stands"])
    _begun(canvas, axis, data["names"])
    _dates(canvas, axis.lots, data["dates"], upper.bottom)
    _decided(canvas, axis, data["decided"], upper.bottom + DATES + LANE / 2)
    top = upper.bottom + DATES + LANE
    room = (canvas.width - LEFT - RIGHT + APART) / max(data["beside"], 1)
    for place, panel in enumerate(data["panels"]):
        row, column = divmod(place, data["beside"])
        left = LEFT + column * room
        level = top + row * (NAME + LOWER) + NAME
        own = _axis(data, left, left + room - APART)
        plot = Plot(canvas, own, level, LOWER, reach)
        plot.ground(panel["bands"])
        plot.sizes(panel["marks"])
        most = max(int((room - APART) / 7.5), 2)
        canvas.text((own.left + own.right) / 2, level - 8, safe(panel["label"], most),
                    align="center")  # fmt: skip
        if column == 0:
            plot.scale(data["tolerance"])


def _axis(data: Data, left: float, right: float) -> TimeAxis:
    return TimeAxis(data["lots"], data["charts"], data["end"], left, right)


def _begun(canvas: Canvas, axis: TimeAxis, names: Sequence[str]) -> None:
    """Name each new chart above the place where it begins, as many as fit."""
    last = 150.0  # beside the name of the point
    for x, name in zip(axis.charts, names, strict=True):
        if x is not None:
            words = f"chart {name}"
            middle = min(max(x, last + 46), canvas.width - 46.0)
            if middle - last >= 46:
                canvas.text(middle, 9, words, size=SMALL, align="center", role="grey")
                last = middle + 46


def _dates(canvas: Canvas, across: Sequence[float], dates: Sequence[str], level: float) -> None:
    """Write the dates of lots, as many as fit, with a tick for each lot."""
    canvas.lines([[(x, level), (x, level + 4)] for x in across], role="grey")
    last = -DATE
    for x, date in zip(across, dates, strict=True):
        middle = min(x, canvas.width - DATE / 2)
        if middle - last >= DATE:
            canvas.text(middle, level + 11, date, size=SMALL, align="center", role="grey")
            last = middle


def _decided(canvas: Canvas, axis: TimeAxis, decided: Sequence[Data], level: float) -> None:
    """Write a letter for each decision at its day, moved apart where two would touch."""
    if not decided:
        return
    canvas.text(LEFT - 5, level, "decided", size=SMALL, align="right", role="grey")
    wanted = [axis.day(one["day"]) for one in decided]
    gap = min(LETTER, (axis.right - axis.left) / len(decided))
    for x, one in zip(spaced(wanted, gap, axis.left + 4, axis.right - 4), decided, strict=True):
        canvas.text(x, level, one["letter"], size=SMALL, align="center")


def draw_strip(canvas: Canvas, data: Data) -> None:
    """Draw a blank in short: for each point, all sizes together over time."""
    left = 96.0
    axis = _axis(data, left, canvas.width - RIGHT)
    for place, one in enumerate(data["strips"]):
        plot = Plot(
            canvas, axis, place * STRIP + 3, STRIP - 6, reach_of(one["stands"], [], one["bands"])
        )
        canvas.text(4, plot.y(0.0) - 7, one["title"], size=SMALL)
        canvas.text(4, plot.y(0.0) + 7, one["tolerance"]["both"], size=SMALL, role="grey")
        plot.ground([{**band, "was": None} for band in one["bands"]])
        bare = [{**s, "limits": None, "average": None} for s in one["stands"]]
        plot.stands(bare)
    _dates(canvas, axis.lots, data["dates"], STRIP * len(data["strips"]) - 3)
