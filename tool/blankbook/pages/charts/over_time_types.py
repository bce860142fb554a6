"""What the charts over time show: days, lots, and what was allowed and decided."""

from dataclasses import dataclass

from blankbook.pages.charts.panel_types import MeanLimits, Tolerance
from blankbook.words.answers import Answer


@dataclass(frozen=True, slots=True)
class AxisDays:
    """The days of an axis of time, counted from its first lot."""

    lots: tuple[int, ...]
    charts: tuple[int, ...]
    """From when each chart holds."""
    names: tuple[str, ...]
    """Of the charts: the month that each holds from."""
    dates: tuple[str, ...]
    """Of the lots."""
    end: int


@dataclass(frozen=True, slots=True)
class ToleranceBand:
    """What one chart allows, from its day until the next."""

    chart: int
    """Its place among the charts of the axis."""
    allowed: float
    was: float | None
    """Where the chart before it stood; None where that asked for the same, or for nothing."""


@dataclass(frozen=True, slots=True)
class LotStand:
    """One lot, all its sizes together, with the limits for lots."""

    at: int
    """Its place on the axis."""
    off: float
    alarm: bool
    limits: MeanLimits | None = None
    average: MeanLimits | None = None
    """The moving average, with limits of its own."""


@dataclass(frozen=True, slots=True)
class SizeMark:
    """One size of one lot."""

    at: int
    off: float
    answer: Answer


@dataclass(frozen=True, slots=True)
class SizePanel:
    """One size over time."""

    label: str
    bands: tuple[ToleranceBand, ...]
    marks: tuple[SizeMark, ...]


@dataclass(frozen=True, slots=True)
class DecisionLetter:
    """A decision on the axis."""

    day: int
    letter: str


@dataclass(frozen=True, slots=True)
class OverTimeData:
    """One point of measure over time: all sizes together, and each in a panel of its own."""

    days: AxisDays
    head: int
    """Pixels above the panel of all sizes."""
    title: str
    tolerance: Tolerance
    bands: tuple[ToleranceBand, ...]
    stands: tuple[LotStand, ...]
    decided: tuple[DecisionLetter, ...]
    beside: int
    """How many panels stand side by side."""
    panels: tuple[SizePanel, ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """One point of measure in short."""

    title: str
    tolerance: Tolerance
    bands: tuple[ToleranceBand, ...]
    stands: tuple[LotStand, ...]


@dataclass(frozen=True, slots=True)
class StripData:
    """A blank over time in short, a strip for each point."""

    days: AxisDays
    strips: tuple[Strip, ...]
