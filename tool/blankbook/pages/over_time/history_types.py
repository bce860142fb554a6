"""A blank over time as its template shows it: points, lots, charts and decisions."""

from dataclasses import dataclass

from blankbook.pages.over_time.chart_version_table import VersionTable
from blankbook.pages.page_types import AnswerSign, ChartImage, SupplierName


@dataclass(frozen=True, slots=True)
class SizeCell:
    """One size of one lot; no sign where it was not measured."""

    off: str
    sign: AnswerSign | None


@dataclass(frozen=True, slots=True)
class LotLine:
    """One lot at one point: all its sizes together, and each in a cell."""

    day: str
    """The day whose chart it is judged by."""
    measured: str
    """The day it was measured, where that is another."""
    lot: str
    page: str
    """The place of the round or delivery with all its readings."""
    chart: str
    """From when the chart held."""
    pieces: int
    off: str
    limits: str
    average: str
    averages: str
    """The limits of the moving average."""
    alarm: bool
    by: str
    """What raises the alarm."""
    allowed: str
    cells: tuple[SizeCell, ...]


@dataclass(frozen=True, slots=True)
class PointSection:
    """One point of measure over time."""

    key: str
    name: str
    says: str
    """How much so many lots can say."""
    drawing: ChartImage | None
    reason: str
    watched: bool
    """Whether it raises alarms."""
    rows: tuple[LotLine, ...]
    sizes: tuple[str, ...]
    undrawn: str
    """The sizes without a panel."""


@dataclass(frozen=True, slots=True)
class DecisionRow:
    """One decision on a round or a delivery."""

    day: str
    letter: str
    sign: AnswerSign
    by: str
    on: str
    page: str


@dataclass(frozen=True, slots=True)
class OverTimeContext:
    """All that the page of a blank over time shows."""

    up: str
    page: str
    name: str
    supplier: SupplierName
    unit: str
    lots: int
    first: str
    last: str
    left_out: int
    """How many of the oldest lots are neither drawn nor listed."""
    earlier: str
    out_of_turn: bool
    signs: tuple[AnswerSign, ...]
    points: tuple[PointSection, ...]
    alone: str
    before: str
    """The points that were read only in lots that are left out."""
    apart: tuple[str, ...]
    versions: tuple[VersionTable, ...]
    decided: tuple[DecisionRow, ...]


@dataclass(frozen=True, slots=True)
class OverTimeLink:
    """A blank over time as its supplier's page shows it."""

    page: str
    strip: ChartImage | None
