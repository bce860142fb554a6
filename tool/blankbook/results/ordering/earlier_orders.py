"""What the shop's earlier orders teach about the next: what spoiled, and the sizes wanted."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from blankbook.records.model import Order
from blankbook.records.model.order_record import by_size
from blankbook.results.ordering.size_mix import SizeMix, given_mix, learned_mix
from blankbook.results.ordering.spoilage import SpoiledCount


def closed_orders(orders: Iterable[Order], day: date) -> list[Order]:
    """Return the orders whose outcome was known on *day*, the oldest first."""
    found = [order for order in orders if order.bought and order.outcome]
    known = [order for order in found if order.outcome and order.outcome.date <= day]
    return sorted(known, key=lambda order: (order.date, order.style, order.key))


def spoiled_counts(orders: Iterable[Order]) -> list[SpoiledCount]:
    """Return what was bought and what of it spoiled; all that is bought counts as printed."""
    return [
        SpoiledCount(order.bought.count, sum(order.outcome.spoiled.values()))
        for order in orders
        if order.bought and order.outcome
    ]


def wanted_sizes(order: Order) -> dict[str, int]:
    """Return what was wanted by size: the list, or of a total what went."""
    if order.needed:
        return by_size(order.needed)
    if order.bought is None or order.outcome is None:
        return {}
    went = order.outcome
    return {
        size: max(count - went.spoiled.get(size, 0) - went.left_over.get(size, 0), 0)
        + went.short.get(size, 0)
        for size, count in by_size(order.bought.pieces).items()
    }


def mix_for(order: Order, earlier: Sequence[Order], sizes: Sequence[str]) -> SizeMix | None:
    """Return the mix for an order without sizes: the person's, else that of orders for its use."""
    if order.mix:
        return given_mix(sizes, order.mix)
    return learned_mix(sizes, list(_alike(order, earlier)))


def _alike(order: Order, earlier: Sequence[Order]) -> Iterator[dict[str, int]]:
    for other in earlier:
        if other.use == order.use and other.key != order.key:
            yield wanted_sizes(other)
