"""What an order that is through earned and cost, and how well its stated risk held."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from blankbook.records.model import Blank, Order
from blankbook.records.model.order_record import by_size
from blankbook.records.money import NOTHING
from blankbook.results.judge_blank import judge
from blankbook.results.ordering.order_plan import OrderPlan
from blankbook.results.result_types import Judged

ENOUGH_ORDERS = 10
"""From so many orders on, stated risks are compared class by class (our own choice)."""


@dataclass(frozen=True, slots=True)
class OrderResult:
    """How an order went; amounts exact."""

    bought: int
    spoiled: int
    short: int
    came_back: int
    """Exchanged or returned."""
    left_over: int
    cost_of_wrong: Decimal
    """What came back cost, and what was short."""
    earned: Decimal | None
    """What was taken in beyond all costs; None where no selling price is stated."""


def order_result(order: Order, plan: OrderPlan) -> OrderResult | None:
    """Return how an order went; None where it is still open."""
    if order.bought is None or order.outcome is None:
        return None
    went, pieces = order.outcome, by_size(order.bought.pieces)
    bought, costs = order.bought, plan.costs
    spoiled, left = sum(went.spoiled.values()), sum(went.left_over.values())
    exchanged, returned = sum(went.exchanged.values()), sum(went.returned.values())
    short = sum(went.short.values())
    back = sum(
        (
            costs.comes_back(size) * (went.exchanged.get(size, 0) + went.returned.get(size, 0))
            for size in pieces
        ),
        NOTHING,
    )
    missing = sum((count * (costs.short(size) or NOTHING) for size, count in went.short.items()),
                  NOTHING)  # fmt: skip
    count = bought.count
    earned = None
    if costs.shirt is not None:
        sold = count - spoiled - left - returned
        spent = bought.goods + bought.freight + bought.samples
        spent += (costs.printing or NOTHING) * (count - left) + back
        earned = costs.shirt * sold + (costs.brings or NOTHING) * left - spent
    return OrderResult(count, spoiled, short, exchanged + returned, left, back + missing, earned)


def judged_on(judged: Judged, order: Order) -> Judged:
    """Return the blank judged by what was measured until the day of an order, and no later."""
    blank = judged.blank
    until = Blank(
        blank.style,
        blank.supplier,
        tuple(round_ for round_ in blank.rounds if round_.date <= order.date),
        tuple(came for came in blank.deliveries if came.date <= order.date),
    )
    if until.rounds == blank.rounds and until.deliveries == blank.deliveries:
        return judged
    return judge(until, judged.case.shop, replace(judged.case.learned))


@dataclass(frozen=True, slots=True)
class StatedRisk:
    """What was said of an order, and what came of it."""

    share: float
    """The share of shirts that was expected to come back, 0 to 1."""
    pieces: int
    came_back: int


@dataclass(frozen=True, slots=True)
class RiskClass:
    """Orders of which about the same was said."""

    above: float
    up_to: float
    """Shares of shirts, 0 to 1."""
    orders: int
    pieces: int
    said: float
    """How many were expected to come back."""
    was: int


CLASSES = ((0.0, 0.01), (0.01, 0.03), (0.03, 0.1), (0.1, 1.0))


def calibration(stated: Sequence[StatedRisk]) -> tuple[RiskClass, ...]:
    """Return what was said and what came of it, by class once there are enough, else in one."""
    classes = CLASSES if len(stated) >= ENOUGH_ORDERS else ((0.0, 1.0),)
    found = []
    for above, up_to in classes:
        own = [risk for risk in stated if above <= risk.share < up_to or risk.share == up_to == 1]
        if own:
            said = sum(risk.share * risk.pieces for risk in own)
            pieces, was = sum(r.pieces for r in own), sum(r.came_back for r in own)
            found.append(RiskClass(above, up_to, len(own), pieces, said, was))
    return tuple(found)
