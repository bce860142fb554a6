"""A delivery of one style that was inspected, and what was decided on it."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.records.model.basics import Source, Tape
from blankbook.records.model.round_record import Photo, Piece, Round


@dataclass(frozen=True, slots=True)
class Inspection:
    """How deliveries are inspected: single sampling by MIL-STD-105E."""

    level: str
    """A key of `blankbook.words.delivery_terms.INSPECTION_LEVELS`."""
    aql: float
    """Bad pieces per 100; one of `blankbook.words.delivery_terms.AQLS`."""
    reduced: str
    """A key of `blankbook.words.delivery_terms.REDUCED_INSPECTION`."""


@dataclass(frozen=True, slots=True)
class Flaw:
    """A piece that is bad without being measured, or several with the same fault."""

    size: str
    fault: str
    """A key of `blankbook.words.delivery_terms.FAULTS`."""
    count: int = 1
    colour: str = ""
    piece: str = ""
    """The measured piece that has it; empty where it was not measured."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class DeliveryDecision:
    """What a person decided on a delivery, whatever the plan says."""

    decision: str
    """A key of `blankbook.words.delivery_terms.DELIVERY_DECISIONS`."""
    date: datetime.date
    by: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Delivery:
    """blanks/SUPPLIER/STYLE/DATE-WORD-delivery.yaml: one delivery of one style, inspected."""

    source: Source
    key: str
    """The file's name without its ending, such as ``2026-05-02-first-delivery``."""
    style: str
    date: datetime.date
    by: str
    lot: str
    delivered: Mapping[str, int]
    """By size: how many pieces were counted."""
    inspected: int
    """How many pieces were looked at, the measured ones among them; 0 while it is only counted."""
    invoiced: Mapping[str, int] | None = None
    """By size: how many pieces the paper says."""
    order: str = ""
    again: str = ""
    """The key of the rejected delivery that is handed in again with this one."""
    changed: str = ""
    corrected: str = ""
    approved: str = ""
    """The key of the round to compare with; empty for the last approved one."""
    tape: Tape | None = None
    pieces: tuple[Piece, ...] = ()
    """Those that were measured, or are to be: without readings."""
    flaws: tuple[Flaw, ...] = ()
    decision: DeliveryDecision | None = None
    photos: tuple[Photo, ...] = ()
    note: str = ""
    how: Mapping[str, str] = field(default_factory=dict)
    """By point: the variant it was measured by, where that is not the first of the vocabulary."""

    @property
    def size(self) -> int:
        """How many pieces came."""
        return sum(self.delivered.values())

    @property
    def flawed(self) -> int:
        """How many pieces are bad without being measured."""
        return sum(flaw.count for flaw in self.flaws)

    @property
    def as_round(self) -> Round | None:
        """The pieces as a round, so that its rules apply; None without any."""
        return self._as_round(self.pieces)

    @property
    def measured(self) -> Round | None:
        """As `as_round`, with the measured pieces alone."""
        return self._as_round(tuple(piece for piece in self.pieces if piece.received))

    @property
    def as_tagged(self) -> Round | None:
        """As `measured`, without wrongly tagged pieces: they say nothing of the size on the tag."""
        wrong = {flaw.piece for flaw in self.flaws if flaw.fault == "wrong_label"}
        right = (piece for piece in self.pieces if piece.received and piece.key not in wrong)
        return self._as_round(tuple(right))

    def _as_round(self, pieces: tuple[Piece, ...]) -> Round | None:
        if self.tape is None or not pieces:
            return None
        head = (self.source, self.key, self.style, self.date, self.by, self.lot, self.tape)
        return Round(*head, pieces, how=self.how)
