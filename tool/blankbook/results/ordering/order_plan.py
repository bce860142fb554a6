"""One order worked out: what to buy, what it costs, what is at risk, and what a look is worth."""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from blankbook.records.model import Line, Order, Shop
from blankbook.records.model.order_record import lines_of
from blankbook.results.ordering.coming_lot import ComingLot, coming_lot
from blankbook.results.ordering.earlier_orders import EarlierOrder, known_before
from blankbook.results.ordering.least_cost import PurchaseCost, fewest_pieces, least_cost
from blankbook.results.ordering.lot_outcomes import wrong_sizes
from blankbook.results.ordering.order_days import OrderDays
from blankbook.results.ordering.order_risk import OrderRisk, order_risk
from blankbook.results.ordering.shirt_costs import ShirtCosts, shirt_costs
from blankbook.results.ordering.size_mix import SizeMix, given_mix, learned_mix
from blankbook.results.ordering.spoilage import (
    SpoiledCount,
    SpoiledShare,
    chance_of_enough,
    spoiled_share,
    with_allowance,
)
from blankbook.results.ordering.stock_level import critical_fractile, stock_level
from blankbook.results.ordering.terms_of_order import PurchaseTerms, terms_on
from blankbook.results.ordering.weighed_looks import (
    InsteadOffer,
    WeighedLook,
    offers,
    weighed_looks,
)
from blankbook.results.result_types import Judged


class NoPriceError(Exception):
    """No price is stated on the day of the order, so that nothing can be worked out."""


class NoMixError(Exception):
    """A total is known, and neither a mix nor an earlier order for the use."""


@dataclass(frozen=True, slots=True)
class StockLine:
    """One line that is bought to stock."""

    expected: float
    low: int
    high: int
    """So many may be wanted: below and above each with the shop's risk."""
    fractile: float
    """The chance with which the demand is met."""


@dataclass(frozen=True, slots=True)
class OrderPlan:
    """Everything that follows for one order."""

    order: Order
    terms: PurchaseTerms
    currency: str
    good: Mapping[Line, int]
    """How many good shirts are wanted; for a total, the stock level."""
    stock: Mapping[Line, StockLine]
    """For a total: why so many."""
    mix: SizeMix | None
    share: SpoiledShare
    wanted_chance: float
    allowance: Mapping[Line, int]
    """With shirts on top for what spoils, before packs, minimum and breaks."""
    purchase: PurchaseCost
    fewest: PurchaseCost
    """As few pieces as the terms allow."""
    chance: float
    """That enough are good in every line, with what is bought."""
    spoiled: tuple[int, int]
    """How many may spoil in all: below and above each with the shop's risk."""
    costs: ShirtCosts
    lot: ComingLot
    risk: OrderRisk
    looks: tuple[WeighedLook, ...]
    """The best first."""
    instead: tuple[InsteadOffer, ...]
    days: OrderDays

    @property
    def best_look(self) -> WeighedLook | None:
        """The look that is worth more than it costs and still fits; None where there is none."""
        found = next((look for look in self.looks if look.fits), None)
        return found if found and found.net > 0 else None

    @property
    def unstated(self) -> tuple[str, ...]:
        """What nobody has stated, so that it is in no sum."""
        return (*self.terms.unstated, *self.costs.unstated)


def order_plan(
    judged: Judged,
    order: Order,
    every: Sequence[EarlierOrder],
    prices: Mapping[str, Decimal],
    today: datetime.date,
) -> OrderPlan:
    """Return an order worked out; *every* is what is through of all the shop's orders.

    *prices* are those of blanks, by key.

    Raises: NoPriceError, NoMixError.
    """
    shop, style = judged.case.shop, judged.blank.style
    terms = terms_on(judged.blank, order.date)
    if terms is None:
        raise NoPriceError
    earlier = known_before(order, every)
    rules = shop.orders
    share = spoiled_share(
        [SpoiledCount(other.printed, other.spoiled) for other in earlier],
        rules.spoiled_share,
        rules.spoiled_worth,
    )
    mix = None if order.is_listed else _mix(order, earlier, style.sizes)
    good, stock = _good(order, mix, shop, terms)
    wanted = (order.enough or rules.enough) / 100
    if order.is_listed:
        allowed = with_allowance(good, share, wanted).pieces
    else:
        # The fractile has its own spare; on top come those that are expected to spoil.
        allowed = {line: ceil(count / (1 - share.mean) - 1e-9) for line, count in good.items()}
    purchase = least_cost(allowed, terms)
    costs = shirt_costs(order, shop, terms, purchase.count)
    lot = coming_lot(judged)
    by_size: dict[str, int] = {}
    for (_, size), count in purchase.pieces.items():
        by_size[size] = by_size.get(size, 0) + count
    sizes = [size for size in style.sizes if size in by_size]
    pieces = {size: by_size[size] for size in sizes}
    back = {size: costs.comes_back(size) for size in sizes}
    risk = order_risk(judged, lot, wrong_sizes(lot), pieces, back, rules.comes_back)
    instead = offers(judged, pieces, costs, prices)
    lead = terms.lead_time_days
    days = OrderDays(today, lead, order.needed_by)
    return OrderPlan(
        order,
        terms,
        order.money.currency or shop.currency,
        good,
        stock,
        mix,
        share,
        wanted,
        allowed,
        purchase,
        fewest_pieces(allowed, terms),
        chance_of_enough(purchase.pieces, good, share),
        share.count_limits(purchase.count, shop.risk),
        costs,
        lot,
        risk,
        weighed_looks(lot, risk, pieces, costs, instead, rules, days),
        instead,
        days,
    )


def _mix(order: Order, earlier: Sequence[EarlierOrder], sizes: Sequence[str]) -> SizeMix | None:
    """Return the mix of an order without sizes: the person's, else that of orders for its use."""
    if order.mix:
        return given_mix(sizes, order.mix)
    return learned_mix(sizes, [other.wanted for other in earlier if other.use == order.use])


def _good(
    order: Order, mix: SizeMix | None, shop: Shop, terms: PurchaseTerms
) -> tuple[dict[Line, int], dict[Line, StockLine]]:
    """Return how many good shirts are wanted, and for a total why so many."""
    if order.is_listed:
        return dict(lines_of(order.needed)), {}
    if mix is None:
        raise NoMixError
    costs = shirt_costs(order, shop, terms, sum(order.total.values()))
    whole = sum(order.total.values())
    good: dict[Line, int] = {}
    stock: dict[Line, StockLine] = {}
    for colour, total in order.total.items():
        # Colours share what the total may be off, in proportion to their part of it.
        deviation = order.give_or_take * (total / whole) ** 0.5
        for size in mix.sizes:
            short = costs.short(size)
            over = costs.left_over(size)
            fractile = critical_fractile(short, over) if short is not None and short + over else 0.5
            chances = mix.chances(size, total, deviation)
            level = stock_level(chances, fractile)
            low, high = mix.limits(size, total, shop.risk, deviation)
            if level:
                good[colour, size] = level
                stock[colour, size] = StockLine(total * mix.share(size), low, high, fractile)
    return good, stock
