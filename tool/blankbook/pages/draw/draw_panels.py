"""The drawings in panels: one for each point of measure, with sizes or washes along it."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from blankbook.pages.charts.chart_data import PANEL, PLOT, TITLE
from blankbook.pages.draw.axis_labels import shortened
from blankbook.pages.draw.canvas import XY, Canvas, Polyline
from blankbook.pages.draw.chart_style import SMALL_TEXT

Data = Mapping[str, Any]
LEFT, RIGHT = 52.0, 6.0
"""Pixels beside the marks; the scale's words stand at the left."""
DASHES, DOTS = (5.0, 2.5), (1.2, 2.2)
LANE = 5.0
"""Pixels between pieces that would cover each other."""


class PanelPlot:
    """One panel with its own scale, from *low* to *high*, and a number of columns."""

    def __init__(
        self, canvas: Canvas, top: float, span: tuple[float, float], columns: int,
        plot: float = PLOT,
    ) -> None:  # fmt: skip
        self.canvas, self.columns = canvas, columns
        self.low, self.high = span
        self.top, self.bottom = top + TITLE, top + TITLE + plot
        self.right = canvas.width - RIGHT
        self.wide = (self.right - LEFT) / columns

    def y(self, value: float) -> float:
        """Return the level of a value."""
        share = (value - self.low) / (self.high - self.low)
        return self.bottom - share * (self.bottom - self.top)

    def x(self, column: int) -> float:
        """Return the middle of a column."""
        return LEFT + self.wide * (column + 0.5)

    def name(self, title: str, beside: str = "") -> None:
        """Write what the panel is about, and what it lacks."""
        level = self.top - TITLE + 9
        self.canvas.text(4, level, title, bold=True)
        self.canvas.text(
            self.right, level, shortened(beside, 32), size=SMALL_TEXT, align="right", role="grey"
        )

    def rule(self, value: float, **look: Any) -> None:
        """Draw a level from side to side."""
        level = self.y(value)
        self.canvas.lines([[(LEFT, level), (self.right, level)]], **look)

    def scale(self, marks: Iterable[tuple[float, str]]) -> None:
        """Write values beside their levels, leaving out what would cover an earlier one."""
        taken: list[float] = []
        for value, words in marks:
            level = self.y(value)
            if all(abs(level - other) >= SMALL_TEXT for other in taken):
                taken.append(level)
                self.canvas.text(
                    LEFT - 5, level, words, size=SMALL_TEXT, align="right", role="grey"
                )

    def tolerance(self, allowed: Data) -> None:
        """Write how far from the chart is allowed; what would overlap is joined."""
        if self.y(0.0) - self.y(allowed["mm"]) >= SMALL_TEXT:
            self.scale([
                (0.0, "chart"), (allowed["mm"], allowed["above"]),
                (-allowed["mm"], allowed["below"]),
            ])  # fmt: skip
        else:
            self.scale([(0.0, allowed["both"])])

    def feet(self, column: int, words: str, below: str = "") -> None:
        """Write what a column is, and what it rests on, as much as fits."""
        most = max(int(self.wide / 7), 3)
        x = self.x(column)
        self.canvas.text(x, self.bottom + 10, shortened(words, most), align="center")
        self.canvas.text(x, self.bottom + 24, below, size=SMALL_TEXT, align="center", role="grey")

    def means(self, columns: Sequence[Data | None], shift: float = 0.0) -> None:
        """Draw every mean with its limits, those that fail in vermilion."""
        half = min(8.0, self.wide / 5)
        for role in ("blue", "vermilion"):
            spans: list[Polyline] = []
            bars: list[Polyline] = []
            for column, data in enumerate(columns):
                if data and data["fails"] == (role == "vermilion"):
                    x, level = self.x(column) + shift, self.y(data["mean"])
                    low, high = self.y(data["low"]), self.y(data["high"])
                    caps = [[(x - 3, end), (x + 3, end)] for end in (low, high)]
                    spans += [[(x, low), (x, high)], *caps]
                    bars.append([(x - half, level), (x + half, level)])
            self.canvas.lines(spans, role=role, width=1.0)
            self.canvas.lines(bars, role=role, width=2.6)


def swarm_lanes(levels: Sequence[float]) -> list[int]:
    """Return a lane for each level, so that none covers another.

    >>> swarm_lanes([10.0, 11.0, 30.0, 10.0])
    [0, 1, 0, 2]
    """
    lanes: list[list[float]] = []
    found = []
    for level in levels:
        free = (n for n, lane in enumerate(lanes) if all(abs(level - o) >= LANE for o in lane))
        lane = next(free, len(lanes))
        if lane == len(lanes):
            lanes.append([])
        lanes[lane].append(level)
        found.append(lane)
    return found


def _dots(panel: PanelPlot, columns: Sequence[Data | None], shift: float) -> None:
    """Draw every piece beside its mean; one outside what is allowed is a square."""
    inside: list[XY] = []
    outside: list[XY] = []
    for column, found in enumerate(columns):
        if not found:
            continue
        levels = [panel.y(value) for value in found["dots"]]
        lanes = swarm_lanes(levels)
        room = panel.wide / 2 - shift - 3
        step = min(LANE, room / max(*lanes, 1))
        limit = found.get("allowed")
        for value, level, lane in zip(found["dots"], levels, lanes, strict=True):
            place = (panel.x(column) + shift + step * lane, level)
            # An eighth of a millimetre: what is on the line was rounded there.
            wrong = limit is not None and abs(value) > limit + 0.125
            (outside if wrong else inside).append(place)
    panel.canvas.marks(inside, role="grey", size=2.2)
    panel.canvas.marks(outside, role="vermilion", shape="square", size=2.4)


def _ends(columns: Sequence[Data | None]) -> list[float]:
    """Return everything that a panel's scale must hold."""
    return [v for c in columns if c for v in (*c["dots"], c["low"], c["high"])]


def draw_deviation(canvas: Canvas, data: Data) -> None:
    """Draw, for each point, every size's distance from the chart."""
    for place, shown in enumerate(data["panels"]):
        columns = shown["columns"]
        reach = 1.08 * max(1.3 * shown["tolerance"]["mm"], 1.0, *(abs(v) for v in _ends(columns)))
        panel = PanelPlot(canvas, place * PANEL, (-reach, reach), len(columns))
        panel.name(shown["title"], shown["missing"])
        for column, found in enumerate(columns):
            if found:
                x, half = panel.x(column), panel.wide / 2 - 2
                allowed = found["allowed"]
                canvas.band(x - half, panel.y(allowed), x + half, panel.y(-allowed))
        panel.rule(0.0, width=1.0)
        panel.tolerance(shown["tolerance"])
        shift = min(8.0, panel.wide / 6)
        for column, (size, found) in enumerate(zip(data["sizes"], columns, strict=True)):
            panel.feet(column, size if found else "", found["foot"] if found else "")
        panel.means(columns, -shift)
        _dots(panel, columns, shift)


def draw_steps(canvas: Canvas, data: Data) -> None:
    """Draw, for each point, every grade step beside the one that is asked."""
    for place, shown in enumerate(data["panels"]):
        columns = shown["columns"]
        panel = PanelPlot(canvas, place * PANEL, (shown["low"], shown["high"]), len(columns))
        panel.name(shown["title"])
        half = panel.wide / 2 - 4
        for column, found in enumerate(columns):
            if found["charted"]:
                x, (least, most) = panel.x(column), found["sound"]
                top, bottom = panel.y(most), panel.y(least)
                canvas.band(x - half, max(top, panel.top), x + half, min(bottom, panel.bottom))
        panel.rule(0.0, width=1.0)
        panel.scale([(mark["mm"], mark["words"]) for mark in shown["ticks"]])
        for charted, dashes in ((True, DASHES), (False, DOTS)):
            asked = [
                [(panel.x(c) - half, panel.y(f["asked"])), (panel.x(c) + half, panel.y(f["asked"]))]
                for c, f in enumerate(columns)
                if f["charted"] == charted
            ]
            canvas.lines(asked, width=1.2, dashes=dashes)
        for column, found in enumerate(columns):
            panel.feet(column, found["label"], found["foot"])
        panel.means(columns)
    canvas.text(LEFT, canvas.height - 9, data["key"], size=SMALL_TEXT, role="grey")


def draw_washing(canvas: Canvas, data: Data) -> None:
    """Draw, for each point, every piece's change after each number of washes."""
    for place, shown in enumerate(data["panels"]):
        columns = shown["columns"]
        panel = PanelPlot(canvas, place * PANEL, (shown["low"], shown["high"]), len(columns))
        panel.name(shown["title"])
        panel.rule(0.0, width=1.0)
        for limit in shown["limits"]:
            panel.rule(limit["at"], width=1.0, dashes=DASHES)
        marks = [*shown["limits"], *shown["ticks"]]
        panel.scale([(mark["at"], mark["words"]) for mark in marks])
        for column, found in enumerate(columns):
            panel.feet(column, found["label"], found["foot"])
        panel.means(columns, -10.0)
        _dots(panel, columns, 10.0)
