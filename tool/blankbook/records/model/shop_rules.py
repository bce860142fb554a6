"""The shop's own rules: shop.yaml."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from blankbook.records.model.basics import Prior, Source, Tape
from blankbook.records.model.delivery_record import Inspection


@dataclass(frozen=True, slots=True)
class OrderRules:
    """What a bulk order is worked out with; None where the shop states no amount."""

    printing: Decimal | None = None
    refund: Decimal | None = None
    """What a shirt that comes back costs beside a new one."""
    left_over: Decimal | None = None
    measuring: Decimal | None = None
    washing: Decimal | None = None
    sending_back: Decimal | None = None
    enough: int = 95
    """The chance, in 100, with which there must be enough good shirts of every size."""
    spoiled_share: float = 0.02
    """What is assumed to spoil in the press, 0 to 1."""
    spoiled_worth: int = 50
    """The number of shirts that this assumption weighs."""
    comes_back: float = 0.5
    """Of shirts that are not what was approved: the share that comes back, 0 to 1."""


@dataclass(frozen=True, slots=True)
class Shop:
    """shop.yaml: the shop's own rules. What it leaves out is filled from `shop_defaults`."""

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
    """The largest accepted chance that a piece measures at least as large as one a size larger."""
    least_grade: Mapping[str, float]
    """By check, the least grade that is accepted."""
    grade_spread: Prior
    """Between the grades of pieces."""
    skew_limit: float
    """Percent of the side seam's length, either way."""
    skew_spread: Prior
    """Between pieces, percent."""
    risk: float
    """One-sided risk of a wrong answer, such as 0.05."""
    deciding_points: tuple[str, ...]
    """The points of measure that the verdict rests on."""
    required: tuple[str, ...]
    """Keys of the checks that a blank must meet to be approved."""
    inspection: Inspection
    """How deliveries are inspected."""
    deciding_methods: tuple[str, ...] = ()
    """The ways of decorating that the verdict rests on; without any, all that were tested."""
    note: str = ""
    site: str = ""
    """The address that the shop's site is published at; empty where none is given."""
    orders: OrderRules = OrderRules()
    """What a bulk order is worked out with."""
    ease: float = 101.6
    """Millimetres: how much more a shirt measures around than the chest of its wearer."""
