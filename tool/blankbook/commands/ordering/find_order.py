"""What an order is worked out from: its blank, judged, and all orders of the shop."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import CHECK, missing

if TYPE_CHECKING:
    from blankbook.records.model import Order
    from blankbook.results.ordering.earlier_orders import EarlierOrder
    from blankbook.results.ordering.order_plan import OrderPlan
    from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class OrderBasis:
    """One blank, judged by what the whole ledger teaches, with the shop's earlier orders."""

    judged: "Judged"
    orders: "Sequence[EarlierOrder]"
    prices: dict[str, Decimal]
    """By blank: what a piece costs today."""


def order_basis(root: Path, blank: str) -> OrderBasis:
    """Return what orders of *blank* are worked out from. Raises: WrongUse, BlankbookError."""
    from blankbook.records.load_ledger import load_ledger
    from blankbook.records.money import exact_amount
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import (
        blank_contribution,
        learn,
        learned_from_data,
    )
    from blankbook.results.ordering.earlier_orders import earlier_orders, order_facts

    loaded = load_ledger(root, gather=blank_contribution, pictures=False)
    ledger = loaded.ledger
    if ledger is None:
        raise BlankbookError("shop.yaml has faults, so nothing can be worked out", CHECK)
    if blank not in ledger.blanks:
        raise missing(loaded, blank)
    taught = learn(loaded.gathered, ledger.shop, ledger.studies)
    judged = judge(ledger.blanks[blank], ledger.shop, learned_from_data(taught[blank]))
    orders = earlier_orders(fact for own in ledger.blanks.values() for fact in order_facts(own))
    prices = {
        key: exact_amount(own.style.prices[-1].each)
        for key, own in ledger.blanks.items()
        if own.style.prices
    }
    return OrderBasis(judged, orders, prices)


def order_named(basis: OrderBasis, key: str | None) -> "Order":
    """Return an order of the blank by the name of its file; without one, the only open order.

    Raises: WrongUse.
    """
    import difflib

    own = {order.key: order for order in basis.judged.blank.orders}
    if key is None:
        open_ = [order for order in own.values() if order.outcome is None]
        if len(open_) == 1:
            return open_[0]
        found = f"{len(open_)} open orders" if open_ else "no open order"
        named = ", ".join(order.key for order in open_) or "write one: blankbook order"
        raise WrongUse(f"there is {found} of this blank", f"write --file, of: {shown(named)}")
    name = Path(key).name.removesuffix(".yaml")
    if name in own:
        return own[name]
    near = difflib.get_close_matches(name, own, n=1)
    remedy = f"did you mean {near[0]}?" if near else f"there are {', '.join(own) or 'none'}"
    raise WrongUse(f"no order of this blank is called {shown(name)}", shown(remedy))


def plan_of(basis: OrderBasis, order: "Order", today: str | None) -> "OrderPlan":
    """Return an order worked out on a day. Raises: WrongUse."""
    from blankbook.results.ordering.order_plan import NoMixError, NoPriceError, order_plan

    try:
        return order_plan(basis.judged, order, basis.orders, basis.prices, day_of(today, "--day"))
    except NoPriceError:
        message = f"no price of {order.style} is stated on {order.date}"
        raise WrongUse(message, "add prices to its style.yaml") from None
    except NoMixError:
        message = "no earlier order for this use shows a mix of sizes"
        raise WrongUse(message, "write --mix S=2,M=5,L=5, or the sizes with --need") from None


def day_of(given: str | None, flag: str) -> datetime.date:
    """Return a day, or today. Raises: WrongUse."""
    from blankbook.text.schemas import is_date

    if given is None:
        return datetime.datetime.now().astimezone().date()
    if not is_date(given):
        message = f"{flag} must be a day such as 2026-03-14, found {shown(given)}"
        raise WrongUse(message, "write it as YYYY-MM-DD")
    return datetime.date.fromisoformat(given)
