"""The price and the terms that an order is bought on, and what nobody has stated."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from blankbook.records.model import Blank, Pack, PriceBreak
from blankbook.records.money import NOTHING, exact_amount
from blankbook.records.supply_terms import price_on, supply_on


@dataclass(frozen=True, slots=True)
class PurchaseTerms:
    """What a purchase costs; what is not stated is None, and is not counted."""

    each: Decimal
    """The price of one piece before any break."""
    extra: Mapping[str, Decimal] = field(default_factory=dict)
    """By size: what a piece costs on top."""
    breaks: tuple[PriceBreak, ...] = ()
    together: str = "order"
    """What counts together for a break: ``order``, ``colour`` or ``size_and_colour``."""
    pack: Pack | None = None
    minimum_pieces: int | None = None
    minimum_of: str = "order"
    minimum_money: Decimal | None = None
    freight: Decimal | None = None
    free_from: Decimal | None = None
    lead_time_days: int | None = None
    since: datetime.date | None = None
    """The day of the price list."""

    def each_of(self, pieces: int) -> Decimal:
        """Return the price of each of *pieces* that count together."""
        found = self.each
        for step in self.breaks:
            if pieces >= step.pieces:
                found = step.each
        return found

    def price_of(self, size: str) -> Decimal:
        """Return what a single piece of *size* costs."""
        return self.each + self.extra.get(size, NOTHING)

    @property
    def unstated(self) -> tuple[str, ...]:
        """What nobody has stated, in words; it is left out of all sums."""
        stated = {
            "freight": self.freight,
            "lead time": self.lead_time_days,
            "packs": self.pack,
            "a smallest order": self.minimum_pieces or self.minimum_money,
            "price breaks": self.breaks or None,
        }
        return tuple(what for what, value in stated.items() if value is None)


def terms_on(blank: Blank, day: datetime.date) -> PurchaseTerms | None:
    """Return the terms of a blank on a day; None where no price is stated."""
    price = price_on(blank.style, day)
    if price is None:
        return None
    supply = supply_on(blank.style, blank.supplier, day)
    each = exact_amount(price.each)
    apart = {size: exact_amount(of) - each for size, of in price.sizes.items()}
    found = PurchaseTerms(
        each,
        {**apart, **price.extra},
        price.breaks,
        price.together or "order",
        since=price.since,
    )
    if supply is None:
        return found
    return PurchaseTerms(
        found.each,
        found.extra,
        found.breaks,
        found.together,
        supply.pack,
        supply.minimum_pieces,
        supply.minimum_of,
        supply.minimum_money,
        supply.freight,
        supply.free_from,
        supply.lead_time_days,
        found.since,
    )
