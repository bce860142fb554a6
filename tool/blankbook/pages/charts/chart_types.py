"""What each chart shows: frozen values, made from results in this folder, drawn in `pages.draw`.

Numbers are rounded already, to far less than a pixel; words are as the chart writes them.
"""

from dataclasses import dataclass
from typing import TypeAlias

from blankbook.pages.charts.ladder_types import ClientShirtData, LadderData
from blankbook.pages.charts.over_time_types import OverTimeData, StripData
from blankbook.pages.charts.panel_types import Column, Lengths, MeanLimits, Tick, Tolerance


@dataclass(frozen=True, slots=True)
class StepColumn:
    """One grade step beside the one that is asked."""

    label: str
    foot: str
    mean: MeanLimits
    fails: bool
    asked: float
    sound: tuple[float, float] | None
    """The smallest and the largest sound step; None where no chart asks for one."""


@dataclass(frozen=True, slots=True)
class StepsPanel:
    """The grade steps at one point, with the ends and marks of their scale."""

    title: str
    low: float
    high: float
    ticks: tuple[Tick, ...]
    columns: tuple[StepColumn, ...]


@dataclass(frozen=True, slots=True)
class StepsData:
    """The grade steps beside those asked."""

    key: str
    """What the dashes mean."""
    panels: tuple[StepsPanel, ...]


@dataclass(frozen=True, slots=True)
class WashingPanel:
    """The change at one point, a column for each number of washes, and the ends of its scale."""

    title: str
    low: float
    high: float
    limits: tuple[Tick, ...]
    ticks: tuple[Tick, ...]
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True)
class WashingData:
    """The change of every piece after washing."""

    panels: tuple[WashingPanel, ...]


@dataclass(frozen=True, slots=True)
class LotMark:
    """One size in one lot."""

    at: int
    """The place of its round among the days."""
    off: float


@dataclass(frozen=True, slots=True)
class LotsSize:
    """One size, lot after lot."""

    label: str
    marks: tuple[LotMark, ...]


@dataclass(frozen=True, slots=True)
class LotsPanel:
    """One point of measure, a line for each size."""

    title: str
    tolerance: Tolerance
    sizes: tuple[LotsSize, ...]


@dataclass(frozen=True, slots=True)
class LotsData:
    """How far every size was from the chart, round after round."""

    plot: int
    """Pixels that the marks of a panel take."""
    days: tuple[int, ...]
    """Of each round, counted from the first."""
    dates: tuple[str, ...]
    panels: tuple[LotsPanel, ...]


@dataclass(frozen=True, slots=True)
class NextLotPanel:
    """The lots so far at one point, and where the next one may lie."""

    title: str
    tolerance: Tolerance
    lots: tuple[float, ...]
    next: MeanLimits


@dataclass(frozen=True, slots=True)
class NextLotData:
    """Where the next lot may lie."""

    panels: tuple[NextLotPanel, ...]


@dataclass(frozen=True, slots=True)
class PlanChance:
    """How often a delivery is accepted, 0 to 1, when this share of its pieces is bad."""

    share: float
    accepted: float


@dataclass(frozen=True, slots=True)
class PlanMark:
    """A place on the curve that has a name."""

    at: PlanChance
    words: str


@dataclass(frozen=True, slots=True)
class OperatingData:
    """The operating characteristic of a delivery's plan."""

    most: float
    """The largest share on the scale."""
    curve: tuple[PlanChance, ...]
    table: tuple[PlanChance, ...]
    """The shares that the table beside it has."""
    marks: tuple[PlanMark, ...]


@dataclass(frozen=True, slots=True)
class ApprovalLine:
    """How often simulated styles were approved, by what was bought of them."""

    name: str
    chances: tuple[tuple[float, float], ...]
    """Tolerances that one size is off, and the chance of an approval; from the left."""


@dataclass(frozen=True, slots=True)
class ApprovalData:
    """The operating characteristic of the advice."""

    most: float
    """The largest distance on the scale, in tolerances."""
    lines: tuple[ApprovalLine, ...]


@dataclass(frozen=True, slots=True)
class DrawnSize:
    """A size with the lengths that its outline is drawn with."""

    label: str
    lengths: Lengths


@dataclass(frozen=True, slots=True)
class SizeGroup:
    """Sizes that the eye cannot tell apart, which share a name."""

    label: str
    places: tuple[int, ...]
    """Among the sizes drawn."""


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """How long the bar is, and what it says."""

    mm: float
    words: str


@dataclass(frozen=True, slots=True)
class SizesData:
    """The measured sizes laid over each other, to scale, with the charted ones."""

    sizes: tuple[DrawnSize, ...]
    charted: tuple[Lengths, ...]
    scale: float
    """Pixels in a millimetre."""
    bar: ScaleBar
    spread: Lengths
    """One standard deviation between pieces, at the points that have whiskers."""
    hems: tuple[SizeGroup, ...]
    sides: tuple[SizeGroup, ...]
    assumed: bool
    """Whether parts that nobody measured are drawn."""


@dataclass(frozen=True, slots=True)
class SmallSizesData:
    """The outlines alone, for a row of the catalogue."""

    sizes: tuple[DrawnSize, ...]


@dataclass(frozen=True, slots=True)
class WashedShirtData:
    """One size as received, and after washing."""

    new: Lengths
    washed: Lengths
    scale: float
    """Pixels in a millimetre."""
    bar: ScaleBar
    words: tuple[str, str]
    """What the two outlines are."""


@dataclass(frozen=True, slots=True)
class GuideData:
    """Where the tape goes at one point."""

    point: str
    label: str
    lengths: Lengths


ChartData: TypeAlias = (
    StepsData | WashingData | LotsData | NextLotData | OperatingData
    | LadderData | SizesData | SmallSizesData | WashedShirtData | GuideData
    | ClientShirtData | OverTimeData | StripData | ApprovalData
)  # fmt: skip
"""All that can be drawn; a further chart joins here, and mypy asks for its drawing."""
