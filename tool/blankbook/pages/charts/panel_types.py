"""What the panels of several charts show alike.

Lengths are millimetres, + is larger than the chart; changes are percent, - is shrinkage.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

Lengths: TypeAlias = Mapping[str, float]
"""By point of measure."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far from the chart is allowed, and the ways to write it beside a scale."""

    mm: float
    above: str
    below: str
    both: str


@dataclass(frozen=True, slots=True)
class MeanLimits:
    """A mean with its limits; where a limit is missing it is the mean."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Tick:
    """A value of a scale, and what is written beside it."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a panel: the pieces of a size, or of a number of washes, and their mean."""

    label: str
    foot: str
    """What the mean rests on."""
    mean: MeanLimits
    fails: bool
    pieces: tuple[float, ...]
    allowed: float | None = None
    """How far a piece may be off, either way; None where nothing is asked of single pieces."""
