"""Suppliers, and what each claims of its styles: charts, prices, fabric."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from blankbook.records.lengths import Length
from blankbook.records.model.basics import Source


@dataclass(frozen=True, slots=True)
class Pack:
    """The fewest pieces that are sold together."""

    pieces: int
    mixed: bool
    """Whether it may hold any sizes and colours; else it holds one size and colour."""


@dataclass(frozen=True, slots=True)
class Supply:
    """On what terms blanks are sold, from a date on; None where nothing is stated."""

    since: datetime.date
    currency: str = ""
    pack: Pack | None = None
    minimum_pieces: int | None = None
    minimum_of: str = "order"
    """What they are counted over: ``order``, ``colour`` or ``size_and_colour``."""
    minimum_money: Decimal | None = None
    freight: Decimal | None = None
    free_from: Decimal | None = None
    """What the pieces must cost for a shipment without freight."""
    lead_time_days: int | None = None


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
    """A key of `blankbook.words.garment_terms.SHIPPING_WAYS`."""
    minimum: str = ""
    since: datetime.date | None = None
    note: str = ""
    supply: tuple[Supply, ...] = ()
    """In order of their dates."""


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
    """By point: the variant that the chart measures by, where that is not the first."""
    confirmed: str = ""
    """Why a chart with sizes that shrink is right."""


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """What each of all the pieces costs, from so many on."""

    pieces: int
    each: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """What one piece costs, from a date on."""

    since: datetime.date
    each: float
    currency: str
    sizes: Mapping[str, float] = field(default_factory=dict)
    """By size label, where it costs something else than `each`."""
    extra: Mapping[str, Decimal] = field(default_factory=dict)
    """By size label: what a piece costs on top, at any quantity."""
    breaks: tuple[PriceBreak, ...] = ()
    """The fewest pieces first."""
    together: str = ""
    """What counts together for a break: ``order``, ``colour`` or ``size_and_colour``."""

    def of_size(self, size: str) -> float:
        """Return what a single piece of *size* costs, without any break."""
        if size in self.sizes:
            return self.sizes[size]
        extra = self.extra.get(size)
        return self.each if extra is None else float(Decimal(repr(self.each)) + extra)


@dataclass(frozen=True, slots=True)
class ClaimChange:
    """A claim that the supplier has changed, from a day on."""

    since: datetime.date
    what: str
    """A key of `blankbook.words.garment_terms.CHANGED_CLAIMS`."""
    was: str = ""
    """What was claimed before, in words."""
    source: str = ""
    """Where the supplier says so."""


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
    """A key of `blankbook.words.garment_terms.CONSTRUCTIONS`."""
    neck_label: str = ""
    """A key of `blankbook.words.garment_terms.NECK_LABELS`."""
    wearer: str = "adult"
    """A key of `blankbook.words.garment_terms.WEARERS`."""
    charts: tuple[Chart, ...] = ()
    """In order of their dates."""
    prices: tuple[Price, ...] = ()
    uses: tuple[str, ...] = ()
    note: str = ""
    called: str = ""
    """The name that clients see; `name` is the supplier's."""
    changed: tuple[ClaimChange, ...] = ()
    """In order of their days."""
    supply: tuple[Supply, ...] = ()
    """In order of their dates; they go before the supplier's."""

    def chart_on(self, day: datetime.date) -> Chart | None:
        """Return the chart that held on *day*: the latest that is not younger."""
        held = [chart for chart in self.charts if chart.since <= day]
        return held[-1] if held else None
