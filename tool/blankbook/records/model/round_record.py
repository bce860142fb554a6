"""A round of samples: its pieces with their readings, and what was decided on it."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.records.model.basics import Readings, Source, Tape
from blankbook.records.model.grade_records import Decorated, Grades, Seam, Workmanship, Worn


@dataclass(frozen=True, slots=True)
class Washed:
    """One piece measured again after washing."""

    cycles: int
    readings: Readings
    grades: Grades = field(default_factory=dict)
    """By a key of `blankbook.words.grade_scales.AFTER_WASHING`."""
    seam: Seam | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """One physical garment."""

    source: Source
    key: str
    size: str
    colour: str
    lot: str
    received: Readings
    washed: tuple[Washed, ...] = ()
    """In order of their cycles."""
    confirmed: str = ""
    """Why readings that look like a slip are right."""
    note: str = ""
    seam: Seam | None = None
    """As received; what has moved since is in each washed stage."""
    workmanship: Workmanship | None = None
    worn: tuple[Worn, ...] = ()
    """In order of their days."""


@dataclass(frozen=True, slots=True)
class Swatch:
    """A piece of cloth cut out and weighed."""

    area: float
    """Square millimetres."""
    mass: float
    """Grams."""
    piece: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Laundering:
    """How the pieces of a round were washed and dried."""

    wash: str
    """A key of `blankbook.words.wash_procedures.WASHES`."""
    dry: str
    """A key of `blankbook.words.wash_procedures.DRYINGS`."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided, whatever the evidence advises."""

    decision: str
    """A value of `blankbook.words.answers.Advice`."""
    date: datetime.date
    by: str
    reason: str = ""
    sizes: tuple[str, ...] = ()
    """Those that it is about; empty for the measured ones that do not fail."""
    uses: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture beside the round's file."""

    file: str
    """Relative to the round's folder."""
    shows: str


@dataclass(frozen=True, slots=True)
class Round:
    """blanks/SUPPLIER/STYLE/DATE-WORD.yaml: pieces of one style measured on one occasion."""

    source: Source
    key: str
    """The file's name without its ending, such as ``2026-03-14-first``."""
    style: str
    date: datetime.date
    by: str
    lot: str
    tape: Tape
    pieces: tuple[Piece, ...]
    bought: datetime.date | None = None
    each: float | None = None
    currency: str = ""
    laundering: Laundering | None = None
    swatches: tuple[Swatch, ...] = ()
    decision: Decision | None = None
    photos: tuple[Photo, ...] = ()
    note: str = ""
    decorated: tuple[Decorated, ...] = ()
    planned: datetime.date | None = None
    """The day the purchase was planned."""
    how: Mapping[str, str] = field(default_factory=dict)
    """By point: the variant it was measured by, where that is not the first of the vocabulary."""

    @property
    def chart_day(self) -> datetime.date:
        """The day whose chart the round is judged by: the day of purchase, else of measuring."""
        return self.bought or self.date


@dataclass(frozen=True, slots=True)
class PlannedRound:
    """A round's file before anything was measured: what to buy, and no evidence yet."""

    source: Source
    key: str
    """The file's name without its ending."""
    style: str
    planned: datetime.date
    pieces: tuple[Piece, ...]
    """Without readings; a lot is empty where it is not known yet."""
    by: str = ""
    lot: str = ""
    tape: Tape | None = None
    bought: datetime.date | None = None
    each: float | None = None
    currency: str = ""
    note: str = ""
    how: Mapping[str, str] = field(default_factory=dict)
    """By point: the variant to measure by, where that is not the first of the vocabulary."""
