"""The drawings in panels, one for each point of measure, with a column for each size or wash."""

from collections.abc import Iterable, Sequence
from typing import Any

from blankbook.pages.charts.chart_data import PANEL_HEIGHT, PLOT_HEIGHT, TITLE_HEIGHT
from blankbook.pages.charts.chart_types import (
    StepColumn,
    StepsData,
    StepsPanel,
    WashingData,
)
from blankbook.pages.charts.panel_types import Column, Tick, Tolerance
from blankbook.pages.draw.axis_labels import shortened
from blankbook.pages.draw.canvas import XY, Canvas, Polyline
from blankbook.pages.draw.chart_style import SMALL_TEXT

PANEL_LEFT, _RIGHT = 52.0, 6.0
"""Pixels beside the marks; the scale's words stand at the left."""
DASHES, DOTS = (5.0, 2.5), (1.2, 2.2)
_LANE = 5.0
"""Pixels between pieces that would cover each other."""
ROUNDING = 0.125
"""Millimetres: a tape's fraction that lies on the line of the tolerance may be rounded past it."""


class PanelPlot:
    """One panel with its own scale, from *low* to *high*, and a number of columns."""

    def __init__(
        self, canvas: Canvas, top: float, span: tuple[float, float], columns: int,
        plot: float = PLOT_HEIGHT,
    ) -> None:  # fmt: skip
        self.canvas, self.columns = canvas, columns
        self.low, self.high = span
        self.top, self.bottom = top + TITLE_HEIGHT, top + TITLE_HEIGHT + plot
        self.right = canvas.width - _RIGHT
        self.wide = (self.right - PANEL_LEFT) / max(columns, 1)

    def y(self, value: float) -> float:
        """Return the level of a value."""
        share = (value - self.low) / (self.high - self.low)
        return self.bottom - share * (self.bottom - self.top)

    def x(self, column: int) -> float:
        """Return the middle of a column."""
        return PANEL_LEFT + self.wide * (column + 0.5)

    def name(self, title: str, beside: str = "") -> None:
        """Write what the panel is about, and what it lacks."""
        level = self.top - TITLE_HEIGHT + 9
        self.canvas.text(4, level, title, bold=True)
        self.canvas.text(
            self.right, level, shortened(beside, 32), size=SMALL_TEXT, align="right", role="grey"
        )

    def rule(self, value: float, **look: Any) -> None:
        """Draw a level from side to side."""
        level = self.y(value)
        self.canvas.lines([[(PANEL_LEFT, level), (self.right, level)]], **look)

    def scale(self, marks: Iterable[Tick]) -> None:
        """Write values beside their levels, leaving out what would cover an earlier one."""
        taken: list[float] = []
        for mark in marks:
            level = self.y(mark.at)
            if all(abs(level - other) >= SMALL_TEXT for other in taken):
                taken.append(level)
                self.canvas.text(
                    PANEL_LEFT - 5, level, mark.words, size=SMALL_TEXT, align="right", role="grey"
                )

    def tolerance(self, allowed: Tolerance) -> None:
        """Write how far from the chart is allowed: both edges, or in one where they would touch."""
        if self.y(0.0) - self.y(allowed.mm) >= SMALL_TEXT:
            ends = [Tick(allowed.mm, allowed.above), Tick(-allowed.mm, allowed.below)]
            self.scale([Tick(0.0, "chart"), *ends])
        else:
            self.scale([Tick(0.0, allowed.both)])

    def feet(self, column: int, words: str, below: str = "") -> None:
        """Write what a column is, and what it rests on, as much as fits."""
        most = max(int(self.wide / 7), 3)
        x = self.x(column)
        self.canvas.text(x, self.bottom + 10, shortened(words, most), align="center")
        self.canvas.text(x, self.bottom + 24, below, size=SMALL_TEXT, align="center", role="grey")

    def means(self, columns: Sequence[Column | StepColumn | None], shift: float = 0.0) -> None:
        """Draw every mean with its limits, those that fail in vermilion."""
        half = min(8.0, self.wide / 5)
        for role in ("blue", "vermilion"):  # one path for each colour keeps the file small
            spans: list[Polyline] = []
            bars: list[Polyline] = []
            for place, column in enumerate(columns):
                if column and column.fails == (role == "vermilion"):
                    x, level = self.x(place) + shift, self.y(column.mean.mean)
                    low, high = self.y(column.mean.low), self.y(column.mean.high)
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
        free = (n for n, lane in enumerate(lanes) if all(abs(level - o) >= _LANE for o in lane))
        lane = next(free, len(lanes))
        if lane == len(lanes):
            lanes.append([])
        lanes[lane].append(level)
        found.append(lane)
    return found


def is_off(value: float, allowed: float | None) -> bool:
    """Say whether a value lies beyond what is allowed either way; never where nothing is asked."""
    return allowed is not None and abs(value) > allowed + ROUNDING


def _dots(panel: PanelPlot, columns: Sequence[Column | None], shift: float) -> None:
    """Draw every piece beside its mean; one outside what is allowed is a square."""
    inside: list[XY] = []
    outside: list[XY] = []
    for place, column in enumerate(columns):
        if not column:
            continue
        levels = [panel.y(value) for value in column.pieces]
        lanes = swarm_lanes(levels)
        room = panel.wide / 2 - shift - 3
        step = min(_LANE, room / max([1, *lanes]))
        for value, level, lane in zip(column.pieces, levels, lanes, strict=True):
            spot = (panel.x(place) + shift + step * lane, level)
            (outside if is_off(value, column.allowed) else inside).append(spot)
    panel.canvas.marks(inside, role="grey", size=2.2)
    panel.canvas.marks(outside, role="vermilion", shape="square", size=2.4)


def draw_steps(canvas: Canvas, data: StepsData) -> None:
    """Draw, for each point, every grade step beside the one that is asked."""
    for place, shown in enumerate(data.panels):
        panel = PanelPlot(canvas, place * PANEL_HEIGHT, (shown.low, shown.high), len(shown.columns))
        panel.name(shown.title)
        _asked_steps(panel, shown)
        for at, column in enumerate(shown.columns):
            panel.feet(at, column.label, column.foot)
        panel.means(shown.columns)
    canvas.text(PANEL_LEFT, canvas.height - 9, data.key, size=SMALL_TEXT, role="grey")


def _asked_steps(panel: PanelPlot, shown: StepsPanel) -> None:
    """Draw the scale, what is sound where a chart says so, and the step that is asked."""
    half = panel.wide / 2 - 4
    for at, column in enumerate(shown.columns):
        if column.sound:
            x, (least, most) = panel.x(at), column.sound
            top, bottom = max(panel.y(most), panel.top), min(panel.y(least), panel.bottom)
            panel.canvas.band(x - half, top, x + half, bottom)
    panel.rule(0.0, width=1.0)
    panel.scale(shown.ticks)
    for charted, dashes in ((True, DASHES), (False, DOTS)):
        asked = [
            [(panel.x(at) - half, panel.y(c.asked)), (panel.x(at) + half, panel.y(c.asked))]
            for at, c in enumerate(shown.columns)
            if (c.sound is not None) == charted
        ]
        panel.canvas.lines(asked, width=1.2, dashes=dashes)


def draw_washing(canvas: Canvas, data: WashingData) -> None:
    """Draw, for each point, every piece's change after each number of washes."""
    for place, shown in enumerate(data.panels):
        panel = PanelPlot(canvas, place * PANEL_HEIGHT, (shown.low, shown.high), len(shown.columns))
        panel.name(shown.title)
        panel.rule(0.0, width=1.0)
        for limit in shown.limits:
            panel.rule(limit.at, width=1.0, dashes=DASHES)
        panel.scale([*shown.limits, *shown.ticks])
        for at, column in enumerate(shown.columns):
            panel.feet(at, column.label, column.foot)
        panel.means(shown.columns, -10.0)
        _dots(panel, shown.columns, 10.0)
