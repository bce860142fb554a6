"""The page of one order: what to buy, what it costs, what is at risk, what a look is worth."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blankbook.pages.orders.order_rows import OrderRow, order_row, worked_out
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.page_types import FactLine, facts_of
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.site_paths import ORDERS, blank_path
from blankbook.records.model import Order
from blankbook.records.money import say_money
from blankbook.results.number_words import times_in_100
from blankbook.results.ordering import order_words as words
from blankbook.results.ordering.order_plan import OrderPlan
from blankbook.results.ordering.order_results import order_result
from blankbook.results.ordering.order_risk import LEAST_SHOWN
from blankbook.results.ordering.weighed_looks import WeighedLook
from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class BuyRow:
    """One colour: what is wanted, what to buy, and what was bought."""

    colour: str
    what: str
    cells: tuple[str, ...]
    total: int


@dataclass(frozen=True, slots=True)
class RiskRow:
    """One part of what is at risk."""

    says: str
    chance: str
    pieces: int
    cost: str
    finding: str
    link: str
    """The check on the blank's page, relative to the site."""


@dataclass(frozen=True, slots=True)
class LookRow:
    """One way to look further."""

    says: str
    saves: str
    costs: str
    days: int
    fits: bool


@dataclass(frozen=True, slots=True)
class StockRow:
    """One line that goes to stock: what may be wanted of it."""

    line: str
    expected: str
    span: str
    chance: str


@dataclass(frozen=True, slots=True)
class OrderContext:
    """All that the page of one order shows."""

    up: str
    style: str
    blank: str
    path: str
    """The way to the blank's page, from the site's root."""
    orders: str
    note: str
    is_open: bool
    then: str
    days: str
    lines: tuple[str, ...]
    """Sentences on what to buy and what it costs."""
    sizes: tuple[str, ...]
    buys: tuple[BuyRow, ...]
    stock: tuple[StockRow, ...]
    risk: str
    risks: tuple[RiskRow, ...]
    risk_total: str
    currency: str
    instead: tuple[str, ...]
    looks: tuple[LookRow, ...]
    went: tuple[FactLine, ...]
    source: RecordSource


def order_pages(judged: Judged) -> tuple[list[PageSpec[OrderContext]], tuple[OrderRow, ...]]:
    """Return a page for each order of a blank that can be worked out, and a row for every one."""
    pages, rows = [], []
    for order in judged.blank.orders:
        found = worked_out(judged, order)
        plan = found[1] if found else None
        row = order_row(judged, order, plan)
        rows.append(row)
        pages.append(_page(judged, order, row, plan))
    return pages, tuple(rows)


def _page(
    judged: Judged, order: Order, row: OrderRow, plan: OrderPlan | None
) -> PageSpec[OrderContext]:
    style = judged.blank.style
    source = RecordSource(order.source.path)
    sentences: list[str] = []
    if plan:
        sentences = [words.say_purchase(plan), words.say_cheaper(plan), words.say_enough(plan)]
        sentences.append(words.say_unstated(plan))
    context = OrderContext(
        up="../../../",
        style=style.key,
        blank=style.name,
        path=blank_path(style.key),
        orders=ORDERS,
        note=order.note,
        is_open=row.is_open,
        then=row.then,
        days=words.say_days(plan) if plan else "",
        lines=tuple(filter(None, sentences)),
        sizes=_sizes(judged, plan),
        buys=_buys(judged, order, plan),
        stock=_stock(plan),
        risk=words.say_risk(plan) if plan else "",
        risks=_risks(plan),
        risk_total=say_money(plan.risk.total) if plan else "",
        currency=row.currency,
        instead=tuple(words.say_instead(o, row.currency) for o in plan.instead) if plan else (),
        looks=_looks(plan),
        went=_went(order, plan),
        source=source,
    )
    title = f"Order of {order.date} for {order.client}"
    return PageSpec(row.path, title, "orders/order.html.j2", context, sources=(source,))


def _sizes(judged: Judged, plan: OrderPlan | None) -> tuple[str, ...]:
    own = {size for _, size in plan.purchase.pieces} if plan else set()
    return tuple(size for size in judged.blank.style.sizes if size in own)


def _buys(judged: Judged, order: Order, plan: OrderPlan | None) -> tuple[BuyRow, ...]:
    if plan is None:
        return ()
    sizes = _sizes(judged, plan)
    bought = {}
    if order.bought:
        bought = {
            (colour, size): count
            for colour, own in order.bought.pieces.items()
            for size, count in own.items()
        }
    found = []
    for colour in dict.fromkeys(colour for colour, _ in plan.purchase.pieces):
        kinds = (("wanted", plan.good), ("to buy", plan.purchase.pieces), ("was bought", bought))
        for what, counts in kinds:
            row = [counts.get((colour, size), 0) for size in sizes]
            if any(row):
                cells = tuple(str(count or "–") for count in row)
                found.append(BuyRow(colour, what, cells, sum(row)))
    return tuple(found)


def _stock(plan: OrderPlan | None) -> tuple[StockRow, ...]:
    if plan is None:
        return ()
    return tuple(
        StockRow(
            f"{size}, {colour}",
            f"{line.expected:.0f}",
            f"{line.low} to {line.high}",
            times_in_100(line.fractile),
        )
        for (colour, size), line in plan.stock.items()
    )


def _risks(plan: OrderPlan | None) -> tuple[RiskRow, ...]:
    if plan is None:
        return ()
    return tuple(
        RiskRow(
            words.say_part(part).partition(":")[0],
            times_in_100(part.chance),
            part.pieces,
            say_money(part.cost),
            part.finding,
            f"{blank_path(plan.order.style)}#{part.check}",
        )
        for part in plan.risk.parts
        if part.cost > LEAST_SHOWN
    )


MOST_OF_A_KIND = 2


def _best_of_each_kind(looks: Sequence[WeighedLook]) -> Iterator[WeighedLook]:
    """Yield the best of each way to look, the best of all first."""
    shown: Counter[str] = Counter()
    for look in looks:
        shown[look.look.kind] += 1
        if shown[look.look.kind] <= MOST_OF_A_KIND:
            yield look


def _looks(plan: OrderPlan | None) -> tuple[LookRow, ...]:
    if plan is None:
        return ()
    return tuple(
        LookRow(
            words.say_look_only(look),
            say_money(look.saves),
            say_money(look.costs),
            look.days,
            look.fits,
        )
        for look in _best_of_each_kind(plan.looks)
    )


def _went(order: Order, plan: OrderPlan | None) -> tuple[FactLine, ...]:
    result = order_result(order, plan) if plan else None
    if result is None or plan is None or order.outcome is None:
        return ()
    currency = plan.currency
    low, high = plan.spoiled
    facts = [
        ("counted", order.outcome.date.isoformat()),
        ("bought", str(result.bought)),
        ("spoiled", f"{result.spoiled} ({low} to {high} were expected)"),
        ("short", str(result.short)),
        ("left over", str(result.left_over)),
        (
            "came back",
            f"{result.came_back} ({plan.risk.comes_back * result.bought:.1f} were expected)",
        ),
        ("that cost", say_money(result.cost_of_wrong, currency)),
    ]
    if result.earned is not None:
        facts.append(("earned", say_money(result.earned, currency)))
    return facts_of(facts)
