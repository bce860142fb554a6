"""All orders: open ones first; what blanks earned, how stated risks held, and each supplier."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.orders.order_sums import SumRow, sums_by, through
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.site_paths import ORDERS, blank_path, supplier_path
from blankbook.results.number_words import say_counted
from blankbook.results.ordering.order_results import StatedRisk, calibration
from blankbook.results.ordering.order_words import NOT_IN_IT


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
    closed = through(rows)
    context = OrdersContext(
        up="",
        open=open_orders(rows),
        closed=closed,
        blanks=sums_by(closed, lambda row: row.style, lambda row: row.blank, blank_path),
        suppliers=sums_by(
            closed, lambda row: row.supplier_key, lambda row: row.supplier, supplier_path
        ),
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
