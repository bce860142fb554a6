"""Rules of prices: dates follow each other, and sizes are those of the style."""

from collections.abc import Iterator
from itertools import pairwise

from blankbook.records.model import Style
from blankbook.text.findings import Fault, visible


def of_style(style: Style) -> Iterator[Fault]:
    """Yield what is wrong with the prices of a style."""
    for index, price in enumerate(style.prices):
        for size in price.sizes:
            if size not in style.sizes:
                message = f"a price for a size that the style has not: {visible(size)}"
                remedy = "the style's sizes are " + ", ".join(style.sizes)
                at = ("prices", index, "sizes", size)
                yield Fault(at, "unknown-size", message, remedy, on_key=True)
    for index, (old, new) in enumerate(pairwise(style.prices)):
        if new.since <= old.since:
            message = f"prices must follow each other, found {new.since} after {old.since}"
            where = ("prices", index + 1, "since")
            yield Fault(where, "dates-backwards", message, "put the oldest price first")
