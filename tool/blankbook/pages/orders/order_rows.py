"""What the lists know of an order: plain texts and numbers, which the build keeps."""

from dataclasses import dataclass

from blankbook.pages.site_paths import order_path
from blankbook.records.model import Order
from blankbook.records.money import exact_amount, say_money
from blankbook.results.ordering.earlier_orders import earlier_orders
from blankbook.results.ordering.order_plan import (
    NoMixError,
    NoPriceError,
    OrderPlan,
    order_plan,
)
from blankbook.results.ordering.order_results import judged_on, order_result
from blankbook.results.ordering.order_words import say_advice
from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One order in the lists."""

    path: str
    key: str
    style: str
    blank: str
    """What the supplier calls the blank."""
    supplier: str
    client: str
    day: str
    is_open: bool
    then: str
    """What to do next."""
    by: str
    """By when; empty where nothing says."""
    pieces: int
    spoiled: int
    short: int
    came_back: int
    said_back: float
    """The share of shirts that was expected to come back, 0 to 1."""
    wrong: str
    """What came back and was short cost."""
    earned: str
    currency: str

    @property
    def supplier_key(self) -> str:
        """Names the supplier, as no other is named."""
        return self.style.partition("/")[0]


def worked_out(judged: Judged, order: Order) -> tuple[Judged, OrderPlan] | None:
    """Return an order worked out on its own day, by what was known then; None where it cannot."""
    then = judged_on(judged, order)
    learned = judged.case.learned
    prices = {
        key: exact_amount(price) for key, price in learned.prices.items() if price is not None
    }
    try:
        return then, order_plan(then, order, earlier_orders(learned.orders), prices, order.date)
    except (NoPriceError, NoMixError):
        return None


def order_row(judged: Judged, order: Order, plan: OrderPlan | None) -> OrderRow:
    """Return what the lists show of an order."""
    result = order_result(order, plan) if plan else None
    due = plan.days.order_by if plan else None
    then, by = _next(order, plan), ""
    if order.outcome is None:
        by = "" if order.bought or due is None else due.isoformat()
    style = judged.blank.style
    return OrderRow(
        path=order_path(order.style, order.key),
        key=order.key,
        style=order.style,
        blank=style.name,
        supplier=judged.blank.supplier.name,
        client=order.client,
        day=order.date.isoformat(),
        is_open=order.outcome is None,
        then=then,
        by=by,
        pieces=result.bought if result else plan.purchase.count if plan else 0,
        spoiled=result.spoiled if result else 0,
        short=result.short if result else 0,
        came_back=result.came_back if result else 0,
        said_back=round(plan.risk.comes_back, 5) if plan else 0.0,
        wrong=say_money(result.cost_of_wrong) if result else "",
        earned=say_money(result.earned) if result and result.earned is not None else "",
        currency=plan.currency if plan else judged.case.shop.currency,
    )


def _next(order: Order, plan: OrderPlan | None) -> str:
    """Return what to do next with an order."""
    if order.outcome is not None:
        return "done"
    if order.bought is not None:
        return "write down how it went: blankbook outcome"
    return say_advice(plan) if plan else "state a price, or the mix of sizes"
