"""What shows sizes beside each other: a ladder of one point, and the shirt that clients see."""

from dataclasses import dataclass

from blankbook.pages.charts.panel_types import Lengths, MeanLimits, Tick


@dataclass(frozen=True, slots=True)
class Rung:
    """One size; lengths in millimetres, pieces in the order of their readings."""

    label: str
    charted: float | None
    allowed: float
    """How far from the chart a piece may be; 0 where no chart speaks of it."""
    mean: MeanLimits | None
    new: tuple[float, ...]
    washed: tuple[float, ...]
    fails: bool
    """Whether its mean is shown to be off the chart, or its step to a neighbour to be none."""


@dataclass(frozen=True, slots=True)
class LadderData:
    """All sizes at one point, with the ends and marks of their scale."""

    point: str
    title: str
    low: float
    high: float
    ticks: tuple[Tick, ...]
    rungs: tuple[Rung, ...]


@dataclass(frozen=True, slots=True)
class ClientShirtData:
    """The outlines of all sizes, and the points where a tape is drawn on the largest."""

    labels: tuple[str, ...]
    sizes: tuple[Lengths, ...]
    scale: float
    """Pixels in a millimetre."""
    points: tuple[str, ...]
    names: tuple[str, ...]
    """Of the points."""
