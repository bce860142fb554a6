"""What orders that are through came to: of a blank, of a supplier, and beside the whole shop."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.value_words import DASH
from blankbook.records.money import NOTHING, say_money


@dataclass(frozen=True, slots=True)
class SumRow:
    """What all orders of a blank, or of a supplier, came to."""

    name: str
    path: str
    """The way to its page from the site's root."""
    orders: int
    pieces: int
    spoiled: int
    went_wrong: int
    """Came back, or was short."""
    wrong: str
    earned: str
    share: str
    """Of all that went wrong in the shop, percent."""


def through(rows: Sequence[OrderRow]) -> tuple[OrderRow, ...]:
    """Return the orders that are through, the newest first."""
    closed = (row for row in rows if not row.is_open)
    return tuple(sorted(closed, key=lambda row: (row.day, row.path), reverse=True))


def sums_by(
    rows: Sequence[OrderRow],
    key: Callable[[OrderRow], str],
    name: Callable[[OrderRow], str],
    path: Callable[[str], str],
) -> tuple[SumRow, ...]:
    """Return a sum for each key, in the order of names; *rows* are all orders that are through."""
    found = []
    for own_key in {key(row): None for row in rows}:
        own = [row for row in rows if key(row) == own_key]
        found.append(sum_of(own, rows, name(own[0]), path(own_key)))
    return tuple(sorted(found, key=lambda row: (row.name, row.path)))


def sum_of(own: Sequence[OrderRow], every: Sequence[OrderRow], name: str, path: str) -> SumRow:
    """Return what *own* orders came to, and their share in what went wrong in *every* order."""
    wrong, whole = _went_wrong(own), _went_wrong(every)
    return SumRow(
        name,
        path,
        len(own),
        sum(row.pieces for row in own),
        sum(row.spoiled for row in own),
        wrong,
        say_money(sum((Decimal(row.wrong or 0) for row in own), NOTHING)),
        _earned(own),
        f"{100 * wrong / whole:.0f} %" if whole else DASH,
    )


def _went_wrong(rows: Sequence[OrderRow]) -> int:
    return sum(row.came_back + row.short for row in rows)


def _earned(rows: Sequence[OrderRow]) -> str:
    """Return what was earned; an order without a selling price is in no sum, and that is said."""
    known = [Decimal(row.earned) for row in rows if row.earned]
    if not known:
        return DASH
    of = "" if len(known) == len(rows) else f" ({len(known)} of {len(rows)} orders)"
    return f"{say_money(sum(known, NOTHING))}{of}"
