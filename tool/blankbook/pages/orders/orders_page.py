"""All orders: open ones first; what blanks earned, how stated risks held, and each supplier."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.site_paths import ORDERS
from blankbook.records.money import NOTHING, say_money
from blankbook.results.number_words import say_counted
from blankbook.results.ordering.order_results import StatedRisk, calibration
from blankbook.results.ordering.order_words import NOT_IN_IT


@dataclass(frozen=True, slots=True)
class SumRow:
    """What all orders of a blank, or of a supplier, came to."""

    name: str
    orders: int
    pieces: int
    spoiled: int
    went_wrong: int
    """Came back, or was short."""
    wrong: str
    earned: str
    share: str
    """Of all that went wrong in the shop, percent."""


@dataclass(frozen=True, slots=True)
class CalibrationRow:
    """What was said of some orders, and what came of it."""

    said: str
    was: str
    orders: int


@dataclass(frozen=True, slots=True)
class OrdersContext:
    """All that the list of orders shows."""

    up: str
    open: tuple[OrderRow, ...]
    closed: tuple[OrderRow, ...]
    blanks: tuple[SumRow, ...]
    suppliers: tuple[SumRow, ...]
    held: tuple[CalibrationRow, ...]
    currency: str
    note: str


def orders_page(rows: Sequence[OrderRow], currency: str) -> PageSpec[OrdersContext]:
    """Return the list of all orders."""
    closed = sorted((row for row in rows if not row.is_open), key=_newest_first, reverse=True)
    context = OrdersContext(
        up="",
        open=open_orders(rows),
        closed=tuple(closed),
        blanks=_sums(closed, {row.blank: row.blank for row in closed}, "blank"),
        suppliers=_sums(closed, {row.supplier: row.supplier for row in closed}, "supplier"),
        held=_held(closed),
        currency=currency,
        note=NOT_IN_IT,
    )
    return PageSpec(ORDERS, "Orders", "orders/orders.html.j2", context)


def open_orders(rows: Sequence[OrderRow]) -> tuple[OrderRow, ...]:
    """Return the open orders: what is due first comes first, what has no day last."""
    return tuple(
        sorted((row for row in rows if row.is_open), key=lambda row: (row.by or "9", row.day))
    )


def _newest_first(row: OrderRow) -> tuple[str, str]:
    return row.day, row.path


def _sums(rows: Sequence[OrderRow], names: dict[str, str], of: str) -> tuple[SumRow, ...]:
    whole = sum(row.came_back + row.short for row in rows)
    found = []
    for name in sorted(names):
        own = [row for row in rows if getattr(row, of) == name]
        wrong = sum(row.came_back + row.short for row in own)
        found.append(
            SumRow(
                name,
                len(own),
                sum(row.pieces for row in own),
                sum(row.spoiled for row in own),
                wrong,
                say_money(sum((Decimal(row.wrong or 0) for row in own), NOTHING)),
                say_money(sum((Decimal(row.earned or 0) for row in own), NOTHING)),
                f"{100 * wrong / whole:.0f} %" if whole else "–",
            )
        )
    return tuple(found)


def _held(rows: Sequence[OrderRow]) -> tuple[CalibrationRow, ...]:
    stated = [StatedRisk(row.said_back, row.pieces, row.came_back) for row in rows]
    return tuple(
        CalibrationRow(
            f"{100 * found.said / found.pieces:.1f} in 100",
            f"{found.was} of {say_counted(found.pieces, 'shirt')}",
            found.orders,
        )
        for found in calibration(stated)
    )
