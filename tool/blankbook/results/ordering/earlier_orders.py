"""What the shop's earlier orders teach about the next: what spoiled, and the sizes wanted.

Every blank contributes its orders that are through as plain data; a blank with orders of its own is
handed all of them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from blankbook.records.model import Blank, Order
from blankbook.records.model.order_record import by_size


@dataclass(frozen=True, slots=True)
class EarlierOrder:
    """An order whose outcome is known."""

    path: str
    use: str
    day: str
    """When it was worked out, YYYY-MM-DD."""
    closed: str
    """When its outcome was counted."""
    printed: int
    """All pieces that were bought count as printed."""
    spoiled: int
    wanted: Mapping[str, int]
    """By size: the list, or of a total what went."""


def order_facts(blank: Blank) -> list[dict[str, Any]]:
    """Return the orders of a blank that are through, as JSON data."""
    return [
        {
            "path": order.source.path,
            "use": order.use,
            "day": order.date.isoformat(),
            "closed": order.outcome.date.isoformat(),
            "printed": order.bought.count,
            "spoiled": sum(order.outcome.spoiled.values()),
            "wanted": wanted_sizes(order),
        }
        for order in blank.orders
        if order.bought and order.outcome
    ]


def earlier_orders(facts: Iterable[Mapping[str, Any]]) -> list[EarlierOrder]:
    """Return the orders of all blanks from their data, the oldest first."""
    found = [EarlierOrder(**fact) for fact in facts]
    return sorted(found, key=lambda order: (order.day, order.path))


def known_before(order: Order, earlier: Sequence[EarlierOrder]) -> list[EarlierOrder]:
    """Return the orders whose outcome was known on the day of *order*."""
    day, own = order.date.isoformat(), order.source.path
    return [other for other in earlier if other.closed <= day and other.path != own]


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
