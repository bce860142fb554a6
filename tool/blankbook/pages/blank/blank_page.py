"""The page of one blank: the finding first, then everything behind it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from blankbook.pages.blank.budget_table import BudgetTable, budget_tables
from blankbook.pages.blank.check_tables import check_section
from blankbook.pages.blank.check_types import CheckSection
from blankbook.pages.blank.claims_table import SizeChartTable, claimed_facts, size_charts
from blankbook.pages.blank.delivery_tables import blank_deliveries
from blankbook.pages.blank.delivery_types import BlankDeliveries
from blankbook.pages.blank.page_photos import Picture
from blankbook.pages.blank.planning_table import PlanningTable, planning_table
from blankbook.pages.blank.replacements import Replacement, replacements
from blankbook.pages.blank.round_tables import earlier_round_lines, newest_round, planned_rounds
from blankbook.pages.blank.round_types import PlannedLine, RoundArticle, RoundLine
from blankbook.pages.blank.standing_top import StandingTop, standing_top
from blankbook.pages.blank.topics import CheckCharts, Topic, topics
from blankbook.pages.charts import all_charts
from blankbook.pages.clients.client_rows import chart_anchor
from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.orders.order_sums import SumRow, sum_of, through
from blankbook.pages.orders.orders_page import open_orders
from blankbook.pages.over_time.lots_table import LotsTable, lots_table
from blankbook.pages.page_spec import AnyChart, PageSpec
from blankbook.pages.page_types import (
    AnswerSign,
    ChartImage,
    FactLine,
    SupplierName,
    chart_image,
)
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.shop.compare_pages import compare_file
from blankbook.pages.site_paths import (
    CLIENT_CHARTS,
    blank_path,
    from_blank_page,
    over_time_path,
    sheet_path,
)
from blankbook.pages.value_words import sign_of, whole_percent
from blankbook.records.model import Shop
from blankbook.results.advice.cautions import cautions, decoration_cautions
from blankbook.results.advice.next_step import say_purchase
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.client_sizes import may_be_shown
from blankbook.results.number_words import say_chance
from blankbook.results.over_lots.lots_over_time import has_history
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer

MOST_LADDERS = 2
"""Points whose ladder stands unfolded where something fails or is open."""
LEAST_ODDS = 0.01
"""A cause that is less likely is not shown."""


@dataclass(frozen=True, slots=True)
class BlankDecision:
    """The newest decision of a person."""

    sign: AnswerSign
    date: str
    by: str
    reason: str
    uses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CauseRow:
    """A possible cause of what failed."""

    says: str
    chance: str
    because: str


@dataclass(frozen=True, slots=True)
class BlankContext:
    """All that the page of a blank shows."""

    up: str
    name: str
    source: RecordSource
    supplier: SupplierName
    facts: tuple[FactLine, ...]
    size_charts: tuple[SizeChartTable, ...]
    note: str
    today: StandingTop
    advice: AnswerSign
    headline: str
    decision: BlankDecision | None
    planned: tuple[PlannedLine, ...]
    sheet: str
    over_time: str
    client: str
    """Where clients read of it; empty where they may not."""
    explanations: tuple[CauseRow, ...]
    purchase: str
    topics: tuple[Topic, ...]
    unlooked: tuple[CheckSection, ...]
    """The checks for which there is nothing at all."""
    drawing: ChartImage | None
    budgets: tuple[BudgetTable, ...]
    lots: LotsTable | None
    planning: PlanningTable
    deliveries: BlankDeliveries
    nearest: tuple[Replacement, ...]
    orders: tuple[OrderRow, ...]
    """Those that are through, the newest first."""
    open: tuple[OrderRow, ...]
    came_to: SumRow
    """What all orders together came to."""
    currency: str
    risk: str
    rounds: tuple[RoundArticle, ...]
    """The newest alone, if there is one."""
    before: tuple[RoundLine, ...]
    earlier: int
    """How many rounds there are before the newest, listed or not."""
    cautions: Mapping[str, str]
    decoration_cautions: tuple[str, ...]
    unseen: AnswerSign


def blank_page(
    judged: Judged,
    shop: Shop,
    pictures: Mapping[str, Picture] = MappingProxyType({}),
    orders: Sequence[OrderRow] = (),
) -> PageSpec[BlankContext]:
    """Return the page of one blank, with its *orders*.

    *pictures* are its photos, by their path in the ledger.
    """
    style, closed = judged.blank.style, through(orders)
    sizes = all_charts.sizes_chart(judged)
    checks = [check_section(judged, check, shop.unit) for check in CHECKS]
    shown = {check.key for check in checks if check.shown}
    drawn = {key: both for key, both in _charts(judged).items() if key in shown}
    charts = [*([sizes] if sizes else []), *(c for a, b in drawn.values() for c in (*a, *b))]
    context = BlankContext(
        up="../../",
        name=style.name,
        source=RecordSource(style.source.path),
        supplier=SupplierName(key=judged.blank.supplier.key, name=judged.blank.supplier.name),
        facts=claimed_facts(style),
        size_charts=size_charts(judged.blank),
        note=style.note,
        today=standing_top(judged),
        advice=sign_of(judged.verdict.advice),
        headline=judged.verdict.headline,
        decision=_decision(judged),
        planned=planned_rounds(judged.blank),
        sheet=sheet_path(style.key),
        over_time=from_blank_page(over_time_path(style.key)) if has_history(judged.case) else "",
        client=f"{CLIENT_CHARTS}#{chart_anchor(judged)}" if may_be_shown(judged) else "",
        explanations=_explanations(judged),
        purchase=say_purchase(judged.purchase) if judged.purchase else "",
        topics=topics(
            checks,
            {key: CheckCharts(_images(a), _images(b)) for key, (a, b) in drawn.items()},
        ),
        unlooked=tuple(check for check in checks if check.silent and not check.shown),
        drawing=chart_image(sizes) if sizes else None,
        budgets=budget_tables(judged),
        lots=lots_table(judged, shop.unit),
        planning=planning_table(judged),
        deliveries=blank_deliveries(judged, shop.unit, pictures),
        nearest=replacements(judged),
        orders=closed,
        open=open_orders(orders),
        came_to=sum_of(closed, closed, style.name, blank_path(style.key)),
        currency=shop.currency,
        risk=whole_percent(1 - shop.risk),
        rounds=newest_round(judged, pictures),
        before=earlier_round_lines(judged),
        earlier=max(len(judged.blank.rounds) - 1, 0),
        cautions=cautions(judged.blank),
        decoration_cautions=tuple(decoration_cautions(judged.blank)),
        unseen=sign_of(Answer.NOT_TESTED),
    )
    sources = [context.source, *(planned.source for planned in context.planned)]
    sources += [round_.source for round_ in context.rounds]
    sources += [delivery.source for delivery in context.deliveries.rows]
    return PageSpec(
        blank_path(style.key),
        style.name,
        "blank/blank.html.j2",
        context,
        (*{chart.path: chart for chart in charts}.values(), *_small(judged)),
        (compare_file(judged, shop),),
        tuple(sources),
    )


def _charts(judged: Judged) -> dict[str, tuple[Sequence[AnyChart], Sequence[AnyChart]]]:
    """Return, by check, the charts that show its trouble and its other charts."""
    points = all_charts.troubled_points(judged)[:MOST_LADDERS]
    ladders = all_charts.ladder_charts(judged)
    telling = [ladder for ladder in ladders if ladder.data.point in points]
    rest = [ladder for ladder in ladders if ladder not in telling]
    return {
        "size_against_chart": (telling, rest),
        "grade_steps": (telling, _made(judged, all_charts.steps_chart)),
        "washing": (
            _made(judged, all_charts.washing_chart),
            _made(judged, all_charts.washed_shirt_chart),
        ),
        "lots": (
            _made(judged, all_charts.lots_chart),
            _made(judged, all_charts.next_lot_chart),
        ),
        "delivery": ((), _made(judged, all_charts.operating_chart)),
    }


def _made(judged: Judged, make: Callable[[Judged], AnyChart | None]) -> Sequence[AnyChart]:
    chart = make(judged)
    return (chart,) if chart else ()


def _images(charts: Sequence[AnyChart]) -> tuple[ChartImage, ...]:
    return tuple(map(chart_image, charts))


def _small(judged: Judged) -> tuple[AnyChart, ...]:
    """Return the drawing for the catalogue: it belongs to the blank, and is drawn with it."""
    small = all_charts.sizes_small_chart(judged)
    return (small,) if small else ()


def _decision(judged: Judged) -> BlankDecision | None:
    made = judged.decision
    if made is None:
        return None
    return BlankDecision(
        sign=sign_of(made.decision),
        date=made.date.isoformat(),
        by=made.by,
        reason=made.reason,
        uses=tuple(made.uses),
    )


def _explanations(judged: Judged) -> tuple[CauseRow, ...]:
    return tuple(
        CauseRow(cause.says, say_chance(cause.odds), cause.because)
        for cause in judged.explanations
        if cause.odds >= LEAST_ODDS
    )
