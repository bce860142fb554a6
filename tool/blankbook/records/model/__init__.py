"""What the shop wrote, typed: the one place to import records from.

Nothing here is computed; every value is frozen. Lengths are `Length` (exact millimetres, and the
text as written); dates are `datetime.date`. Keys of points are those of
`blankbook.words.points.POINTS`; size labels are text, in the order that the style gives them.

basics: readings, tapes, assumed spreads, and the place of a record
claims: suppliers, styles, charts, prices
delivery_record: deliveries, bad pieces, and what was decided on them
grade_records: grades, twist, wear and decoration tests
order_record: bulk orders, what was bought, and how they went
round_record: rounds, planned rounds, pieces, washing, decisions
shop_defaults: what holds where shop.yaml says nothing
shop_rules: the shop's own rules
study_record: studies of measuring
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blankbook.records.model.basics import DatedRecord, Prior, Readings, Source, Tape
from blankbook.records.model.claims import (
    Chart,
    ClaimChange,
    Pack,
    Price,
    PriceBreak,
    Style,
    Supplier,
    Supply,
)
from blankbook.records.model.delivery_record import Delivery, DeliveryDecision, Flaw, Inspection
from blankbook.records.model.grade_records import (
    Decorated,
    Grade,
    Grades,
    Heat,
    Seam,
    Temperature,
    WashedPrint,
    Workmanship,
    Worn,
)
from blankbook.records.model.order_record import (
    BoughtPieces,
    Counts,
    Line,
    Order,
    OrderOutcome,
    ShirtMoney,
)
from blankbook.records.model.round_record import (
    Decision,
    Laundering,
    Photo,
    Piece,
    PlannedRound,
    Round,
    Swatch,
    Washed,
)
from blankbook.records.model.shop_rules import OrderRules, Shop
from blankbook.records.model.study_record import StudiedPiece, Study

__all__ = [
    "Blank",
    "BoughtPieces",
    "Chart",
    "ClaimChange",
    "Counts",
    "DatedRecord",
    "Decision",
    "Decorated",
    "Delivery",
    "DeliveryDecision",
    "Flaw",
    "Grade",
    "Grades",
    "Heat",
    "Inspection",
    "Laundering",
    "Ledger",
    "Line",
    "Order",
    "OrderOutcome",
    "OrderRules",
    "Pack",
    "Photo",
    "Piece",
    "PlannedRound",
    "Price",
    "PriceBreak",
    "Prior",
    "Readings",
    "Round",
    "Seam",
    "ShirtMoney",
    "Shop",
    "Source",
    "StudiedPiece",
    "Study",
    "Style",
    "Supplier",
    "Supply",
    "Swatch",
    "Tape",
    "Temperature",
    "Washed",
    "WashedPrint",
    "Workmanship",
    "Worn",
]


@dataclass(frozen=True, slots=True)
class Blank:
    """A style with everything that was measured on it."""

    style: Style
    supplier: Supplier
    rounds: tuple[Round, ...]
    """In order of their dates."""
    deliveries: tuple[Delivery, ...] = ()
    """In order of their dates."""
    planned: tuple[PlannedRound, ...] = ()
    """Rounds without any reading yet, in order of the days on which they were planned."""
    orders: tuple[Order, ...] = ()
    """In order of their dates."""


@dataclass(frozen=True, slots=True)
class Ledger:
    """Everything that a shop wrote."""

    shop: Shop
    suppliers: Mapping[str, Supplier]
    blanks: Mapping[str, Blank]
    """By ``supplier/style``, sorted."""
    studies: tuple[Study, ...] = ()
    """Studies of the shop's own measuring, in order of their dates."""
