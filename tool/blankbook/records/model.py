"""What the shop wrote, typed. Nothing here is computed; every value is frozen.

Lengths are `Length` (exact millimetres, and the text as written); dates are `datetime.date`.
Keys of points are those of `blankbook.words.points.POINTS`; size labels are text, in the order
that the style gives them.
"""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.records.lengths import Length

Readings = Mapping[str, tuple[Length, ...]]
"""By point of measure: one reading, or repeat readings of the same piece."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a record stands written."""

    path: str
    """Relative to the ledger, with forward slashes."""
    line: int = 1
    """1-based; 1 where nobody has asked for it yet."""


@dataclass(frozen=True, slots=True)
class Tape:
    """What the lengths of a file were read with."""

    unit: str
    """``in``, ``cm`` or ``mm``: what a bare number means."""
    reads_to: Length
    """The smallest step that was read off."""


@dataclass(frozen=True, slots=True)
class Prior:
    """What is assumed of a spread before there is evidence."""

    deviation: float
    """Standard deviation: millimetres, or percent where a percentage spreads."""
    worth: float
    """The number of degrees of freedom that the assumption weighs."""


@dataclass(frozen=True, slots=True)
class Shop:
    """shop.yaml: the shop's own rules. What it leaves out is filled from the vocabulary."""

    source: Source
    name: str
    unit: str
    """The unit that results are shown in: ``in`` or ``cm``."""
    currency: str
    tape: Tape
    repeatability: Prior
    """Of one reading by one person, millimetres."""
    tolerance: Mapping[str, float]
    """By point, millimetres either way, where a chart states none."""
    step: Mapping[str, float]
    """By point, the usual grade step in millimetres, where no chart says."""
    step_tolerance: Mapping[str, float]
    """By point, millimetres either way."""
    spread: Mapping[str, Prior]
    """By point: between pieces of one size, lot and colour, millimetres."""
    lot_spread: float
    """Assumed standard deviation between lots, as a share of the spread between pieces."""
    wash_limit: Mapping[str, float]
    """``along`` and ``across``: the largest dimensional change accepted, percent either way."""
    wash_spread: Prior
    """Between pieces, percent."""
    mass_tolerance: float
    """Percent either way of the claimed mass per unit area."""
    mass_spread: Prior
    """Between swatches, percent."""
    mix_up_limit: float
    """The largest accepted chance that two neighbouring sizes measure the wrong way round."""
    risk: float
    """One-sided risk of a wrong answer, such as 0.05."""
    deciding_points: tuple[str, ...]
    """The points of measure that the verdict rests on."""
    required: tuple[str, ...]
    """Keys of the checks that a blank must meet to be approved."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Supplier:
    """suppliers/SUPPLIER.yaml."""

    source: Source
    key: str
    name: str
    contact: str = ""
    website: str = ""
    terms: str = ""
    lead_time_days: int | None = None
    sends: str = ""
    """A key of `blankbook.words.garments.PICKINGS`."""
    minimum: str = ""
    since: datetime.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Chart:
    """A size chart that the supplier published, from a date on."""

    since: datetime.date
    origin: str
    """The document, page and date that it was taken from."""
    unit: str
    sizes: Mapping[str, Mapping[str, Length]]
    """By size label, then by point."""
    tolerance: Mapping[str, Length] = field(default_factory=dict)
    how: Mapping[str, str] = field(default_factory=dict)
    """By point: which variant of the vocabulary the chart measures by."""


@dataclass(frozen=True, slots=True)
class Price:
    """What one piece costs, from a date on."""

    since: datetime.date
    each: float
    currency: str
    sizes: Mapping[str, float] = field(default_factory=dict)
    """Sizes that cost something else."""


@dataclass(frozen=True, slots=True)
class Style:
    """blanks/SUPPLIER/STYLE/style.yaml: what the supplier claims."""

    source: Source
    key: str
    """``supplier/style``."""
    supplier: str
    name: str
    sizes: tuple[str, ...]
    """Labels from the smallest to the largest."""
    colours: tuple[str, ...]
    fibre: str = ""
    knit: str = ""
    mass: float | None = None
    """Claimed mass per unit area, g/m2."""
    mass_written: str = ""
    construction: str = ""
    """A key of `blankbook.words.garments.CONSTRUCTIONS`."""
    neck_label: str = ""
    """A key of `blankbook.words.garments.NECK_LABELS`."""
    wearer: str = "adult"
    """A key of `blankbook.words.garments.WEARERS`."""
    charts: tuple[Chart, ...] = ()
    """In order of their dates."""
    prices: tuple[Price, ...] = ()
    uses: tuple[str, ...] = ()
    note: str = ""

    def chart_on(self, day: datetime.date) -> Chart | None:
        """Return the chart that held on *day*: the latest that is not younger."""
        held = [chart for chart in self.charts if chart.since <= day]
        return held[-1] if held else None


@dataclass(frozen=True, slots=True)
class Washed:
    """One piece measured again after washing."""

    cycles: int
    readings: Readings


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
    """A key of `blankbook.words.care.WASHES`."""
    dry: str
    """A key of `blankbook.words.care.DRYINGS`."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided, whatever the evidence advises."""

    decision: str
    """A value of `blankbook.words.answers.Advice`."""
    date: datetime.date
    by: str
    reason: str = ""
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

    @property
    def chart_day(self) -> datetime.date:
        """The day whose chart the round is judged by: when it was bought, else measured."""
        return self.bought or self.date


@dataclass(frozen=True, slots=True)
class Blank:
    """A style with everything that was measured on it."""

    style: Style
    supplier: Supplier
    rounds: tuple[Round, ...]
    """In order of their dates."""


@dataclass(frozen=True, slots=True)
class Ledger:
    """All that a shop wrote."""

    shop: Shop
    suppliers: Mapping[str, Supplier]
    blanks: Mapping[str, Blank]
    """By ``supplier/style``, sorted."""
