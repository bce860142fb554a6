"""What is known of the spread at a point, where from, and what it is made of: types alone."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot
from typing import Any

from blankbook.records.model import Prior


@dataclass(frozen=True, slots=True)
class Spread:
    """A moderated standard deviation, what it is made of and what it rests on."""

    deviation: float
    """Of a single reading of a single piece."""
    freedom: float
    """Degrees of freedom."""
    assumed: float
    """The share of the degrees of freedom that was not measured on this blank, 0 to 1."""
    origin: str
    """Where that share comes from: ``shop`` (an assumption) or ``ledger`` (other blanks)."""
    tape: float
    """The part that the step of the tape brings."""
    hand: float
    """The part that one hand brings when it reads the same piece again."""
    people: float = 0.0
    """What people differ by who read the same piece: beside the deviation, not in it."""
    people_freedom: float = 1.0
    between_lots: float = 0.0
    """What lots are stated to differ by: beside the deviation, not in it."""

    @property
    def reading(self) -> float:
        """The part of the deviation that one reading brings: tape and hand."""
        return hypot(self.tape, self.hand)

    @property
    def pieces(self) -> float:
        """What is left of the deviation for the pieces themselves."""
        return float(max(self.deviation**2 - self.reading**2, 0.0) ** 0.5)


@dataclass(frozen=True, slots=True)
class Learned:
    """What the whole ledger teaches about one blank. What is missing was not learned."""

    spread: Mapping[str, Prior] = field(default_factory=dict)
    """By point: between pieces of one size, lot and colour, millimetres."""
    hand: Prior | None = None
    """One person's repeat readings of one piece, millimetres."""
    hand_learned: bool = False
    """Whether the hand rests on readings more than on the assumption."""
    people: Prior | None = None
    """Between people who measure the same piece, millimetres; only a measuring study tells."""
    inspection: Mapping[str, Any] | None = None
    """How strictly the supplier's deliveries are inspected: `severities.Series.as_data`."""
    nearest: Sequence[Mapping[str, Any]] = ()
    """What could stand in for it, the nearest first, as `nearest.nearest` gives it."""


NOTHING_LEARNED = Learned()


@dataclass(frozen=True, slots=True)
class UncertaintyPart:
    """One part of the uncertainty of a reading."""

    key: str
    """``tape``, ``hand``, ``pieces``, ``people`` or ``lots``."""
    name: str
    deviation: float | None
    """Millimetres; None where nothing is known of it."""
    averages: bool
    """Whether it shrinks with the number of pieces."""
    origin: str
    """Where it comes from, in words."""


@dataclass(frozen=True, slots=True)
class UncertaintyBudget:
    """What the uncertainty at one point of measure is made of. Standard deviations, millimetres."""

    point: str
    parts: tuple[UncertaintyPart, ...]
    pieces: int
    """The pieces of a size that the mean is taken of: the usual number in the judged round."""
    of_reading: float
    """Of the reading alone: tape and hand."""
    of_piece: float
    """Of one reading of one piece, as what it says of its size."""
    of_mean: float
    """Of the mean of so many pieces, for the lot at hand."""
    of_next_lot: float
    """Of the same mean as what it says of another lot."""
    freedom: float
    """Degrees of freedom behind the mean."""
