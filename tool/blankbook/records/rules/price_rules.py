"""Rules of prices and terms of supply: dates in order, known sizes, breaks that can be."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from blankbook.records.model import Price, Style, Supplier, Supply
from blankbook.records.money import exact_amount
from blankbook.text.findings import Fault, ValuePath, visible


def of_style(style: Style) -> Iterator[Fault]:
    """Yield what is wrong with the prices of a style, and with its terms of supply."""
    for index, price in enumerate(style.prices):
        for key, sizes in (("sizes", price.sizes), ("extra", price.extra)):
            for size in sizes:
                if size not in style.sizes:
                    message = f"a price for a size that the style has not: {visible(size)}"
                    remedy = "the style's sizes are " + ", ".join(style.sizes)
                    at = ("prices", index, key, size)
                    yield Fault(at, "unknown-size", message, remedy, on_key=True)
        yield from _breaks(price, ("prices", index))
    for index, (old, new) in enumerate(pairwise(style.prices)):
        if new.since == old.since:
            message = f"there must be one price list for a day, found two for {new.since}"
            where = ("prices", index + 1, "since")
            remedy = "delete the one that does not hold"
            yield Fault(where, "two-prices-for-a-day", message, remedy)
        elif new.since < old.since:
            message = f"prices must follow each other, found {new.since} after {old.since}"
            where = ("prices", index + 1, "since")
            yield Fault(where, "dates-backwards", message, "put the oldest price first")
    yield from _of_supply(style.supply)


def of_supplier(supplier: Supplier) -> Iterator[Fault]:
    """Yield what is wrong with a supplier's terms of supply."""
    yield from _of_supply(supplier.supply)


def _breaks(price: Price, at: ValuePath) -> Iterator[Fault]:
    """Yield breaks that do not follow each other, or that make a piece dearer."""
    if price.breaks and price.sizes:
        message = "sizes gives whole prices, and they say nothing of the price at a break"
        remedy = "write what a size costs on top, such as extra: {2XL: 1.60}"
        yield Fault((*at, "sizes"), "sizes-with-breaks", message, remedy, on_key=True)
    if price.breaks and not price.together:
        message = "together is missing: which pieces count together for a break"
        remedy = "write together: order, colour or size_and_colour"
        yield Fault((*at, "breaks"), "missing-key", message, remedy, on_key=True)
    before, cheapest = 1, exact_amount(price.each)
    for index, step in enumerate(price.breaks):
        where = (*at, "breaks", index)
        if step.pieces <= before:
            message = f"must be more than the {before} before it, found {step.pieces}"
            yield Fault((*where, "from"), "breaks-backwards", message, "put the fewest first")
        if step.each > cheapest:
            message = f"must be at most {cheapest}, the price of fewer pieces, found {step.each}"
            yield Fault((*where, "each"), "dearer-for-more", message, "correct the price")
        before, cheapest = step.pieces, min(step.each, cheapest)


def _of_supply(terms: Sequence[Supply]) -> Iterator[Fault]:
    for index, stated in enumerate(terms):
        if stated.free_from is not None and stated.freight is None:
            message = "freight is missing: what a shipment below this costs"
            yield Fault(
                ("supply", index, "free_from"),
                "missing-key",
                message,
                "write freight: 14.50",
                on_key=True,
            )
    for index, (old, new) in enumerate(pairwise(terms)):
        where = ("supply", index + 1, "since")
        if new.since == old.since:
            message = f"there must be one set of terms for a day, found two for {new.since}"
            yield Fault(where, "two-terms-for-a-day", message, "delete those that do not hold")
        elif new.since < old.since:
            message = f"terms must follow each other, found {new.since} after {old.since}"
            yield Fault(where, "dates-backwards", message, "put the oldest terms first")
