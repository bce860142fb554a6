"""Types for the spread at a point: its parts, and where it comes from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot
from typing import Any

from blankbook.records.model import Prior


@dataclass(frozen=True, slots=True)
class Spread:
    """A moderated standard deviation, its parts and its origin."""

    deviation: float
    """Of a single reading of a single piece."""
    freedom: float
    """Degrees of freedom."""
    assumed: float
    """The share of the degrees of freedom that was not measured on this blank, 0 to 1."""
    origin: str
    """Where that share comes from: ``shop`` (an assumption) or ``ledger`` (other blanks)."""
    tape: float
    """The part of the tape's step."""
    hand: float
    """The repeatability: the part of one person who reads the same piece again."""
    people: float = 0.0
    """The reproducibility, between people who read the same piece; not in the deviation."""
    people_freedom: float = 1.0
    seen: int = 0
    """How often a piece was measured beyond what tells sizes, lots and colours apart."""
    between_lots: float = 0.0
    """What lots are stated to differ by; not in the deviation."""

    @property
    def reading(self) -> float:
        """The part of one reading: tape and repeatability together."""
        return hypot(self.tape, self.hand)

    @property
    def pieces(self) -> float:
        """The rest of the deviation: between pieces."""
        return float(max(self.deviation**2 - self.reading**2, 0.0) ** 0.5)


@dataclass(frozen=True, slots=True)
class Learned:
    """What the whole ledger teaches about one blank. What is missing was not learned."""

    spread: Mapping[str, Prior] = field(default_factory=dict)
    """By point: between pieces of one size, lot and colour, millimetres."""
    between_lots: Mapping[str, float] = field(default_factory=dict)
    """By point: between lots of one style, one deviation, millimetres."""
    hand: Prior | None = None
    """The repeatability, millimetres."""
    hand_learned: bool = False
    """Whether the repeatability rests on readings more than on the assumption."""
    people: Prior | None = None
    """The reproducibility between people, millimetres; only a measuring study shows it."""
    inspection: Mapping[str, Any] | None = None
    """How strictly the supplier's deliveries are inspected: `InspectionSeries.as_data`."""
    expired: bool = False
    """Whether nothing was measured of the blank for longer than the shop allows."""
    nearest: Sequence[Mapping[str, Any]] = ()
    """What could stand in for it, the nearest first, as `nearest_by_blank` gives it."""
    orders: Sequence[Mapping[str, Any]] = ()
    """The shop's orders that are through, as `order_facts` gives them; only with own orders."""
    prices: Mapping[str, float | None] = field(default_factory=dict)
    """By blank: what a piece costs; only with own orders."""


NOTHING_LEARNED = Learned()


@dataclass(frozen=True, slots=True)
class UncertaintyPart:
    """One part of the uncertainty of a reading, a standard deviation."""

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
    """The parts of the uncertainty at one point of measure. Standard deviations, millimetres."""

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
