"""What samples cost by the newest prices that are known."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.records.model import Blank, Shop


@dataclass(frozen=True, slots=True)
class SampleCost:
    """What a purchase of samples costs."""

    total: float
    each: float
    """Of a size that has no price of its own."""
    currency: str


def sample_cost(blank: Blank, shop: Shop, sizes: Sequence[str]) -> SampleCost | None:
    """Return what one piece of each entry of *sizes* costs, or None where no price is known.

    The newest price of the style counts; without one, what was paid for each in the last round.
    """
    if blank.style.prices:
        price = blank.style.prices[-1]
        total = sum(price.of_size(size) for size in sizes)
        return SampleCost(total, price.each, price.currency or shop.currency)
    paid = [round_ for round_ in blank.rounds if round_.each is not None]
    if not paid or paid[-1].each is None:
        return None
    each = paid[-1].each
    return SampleCost(each * len(sizes), each, paid[-1].currency or shop.currency)


def say_cost(blank: Blank, shop: Shop, sizes: Sequence[str], each: int) -> str:
    """Return what so many pieces of each size cost, as the end of a clause; "" if not known."""
    cost = sample_cost(blank, shop, [size for size in sizes for _ in range(each)])
    return f", for {cost.total:.2f} {cost.currency}" if cost else ""
