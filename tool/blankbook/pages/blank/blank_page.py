"""The page of one blank: the finding first, then everything behind it."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from blankbook.pages.blank.budget_table import budget_contexts
from blankbook.pages.blank.check_tables import check_context
from blankbook.pages.blank.claims_table import claimed_facts, size_charts
from blankbook.pages.blank.delivery_tables import deliveries_context
from blankbook.pages.blank.lots_table import lots_table
from blankbook.pages.blank.page_photos import Picture, shown
from blankbook.pages.blank.planning_table import planning_table
from blankbook.pages.blank.replacements import replacements
from blankbook.pages.blank.round_tables import earlier_round_lines, newest_round, planned_rounds
from blankbook.pages.clients.client_rows import chart_anchor
from blankbook.pages.page_spec import AnyChart, PageSpec
from blankbook.pages.record_sources import source_of
from blankbook.pages.shop.compare_pages import compare_file
from blankbook.pages.site_paths import (
    CLIENT_CHARTS,
    blank_path,
    from_blank_page,
    over_time_path,
    sheet_path,
)
from blankbook.pages.value_words import sign_of, unit_name, whole_percent
from blankbook.records.model import Shop
from blankbook.results.advice.cautions import cautions, decoration_cautions
from blankbook.results.advice.next_step import say_purchase
from blankbook.results.advice.verdict import is_against_advice
from blankbook.results.checks.all_checks import CHECKS
from blankbook.results.client_sizes import may_be_shown
from blankbook.results.evidence import measured_sizes
from blankbook.results.json_results import newest_decision
from blankbook.results.number_words import say_chance
from blankbook.results.over_lots.lots_over_time import has_history
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer

LEAST_ODDS = 0.01


def blank_page(
    judged: Judged, shop: Shop, pictures: Mapping[str, Picture] = MappingProxyType({})
) -> PageSpec:
    """Return the page of one blank; *pictures* are its photos, by their path in the ledger."""
    from blankbook.pages.charts import all_charts

    style = judged.blank.style
    sizes = all_charts.sizes_chart(judged)
    checks = [check_context(judged, check, shop.unit) for check in CHECKS]
    beside = {
        check["key"]: _beside(judged, check["key"]) if check["shown"] else [] for check in checks
    }
    charts = [*([sizes] if sizes else []), *(chart for some in beside.values() for chart in some)]
    context: dict[str, Any] = {
        "up": "../../",
        "unit": unit_name(shop.unit),
        "name": style.name,
        "key": style.key,
        "source": source_of(style.source.path),
        "supplier": {"key": judged.blank.supplier.key, "name": judged.blank.supplier.name},
        "facts": claimed_facts(style),
        "size_charts": size_charts(judged.blank),
        "note": style.note,
        "advice": sign_of(judged.verdict.advice),
        "headline": judged.verdict.headline,
        "reasons": list(judged.verdict.reasons),
        "next": judged.verdict.next_step,
        "orderable": list(judged.verdict.orderable),
        "decision": _decision(judged),
        "planned": planned_rounds(judged.blank),
        "sheet": sheet_path(style.key),
        "over_time": from_blank_page(over_time_path(style.key)) if has_history(judged.case) else "",
        "client": f"{CLIENT_CHARTS}#{chart_anchor(judged)}" if may_be_shown(judged) else "",
        "explanations": _explanations(judged),
        "purchase": say_purchase(judged.purchase) if judged.purchase else "",
        "checks": checks,
        "unlooked": [check for check in checks if check["silent"] and not check["shown"]],
        "drawing": chart_context(sizes) if sizes else None,
        "beside": {key: [chart_context(chart) for chart in some] for key, some in beside.items()},
        "measured": list(measured_sizes(judged.case)),
        "budgets": budget_contexts(judged),
        "lots": lots_table(judged, shop.unit),
        "planning": planning_table(judged),
        "deliveries": deliveries_context(judged, shop.unit),
        "nearest": replacements(judged),
        "risk": whole_percent(1 - shop.risk),
        "rounds": newest_round(judged),
        "before": earlier_round_lines(judged),
        "cautions": cautions(judged.blank),
        "decoration_cautions": decoration_cautions(judged.blank),
        "unseen": sign_of(Answer.NOT_TESTED),
    }
    shown(context, pictures)
    return PageSpec(
        blank_path(style.key),
        style.name,
        "blank/blank.html.j2",
        context,
        (*charts, *_small(judged)),
        (compare_file(judged, shop),),
    )


def _beside(judged: Judged, check: str) -> list[AnyChart]:
    """Return the charts that stand beside the tables of a check."""
    from blankbook.pages.charts import all_charts

    makers: dict[str, tuple[Callable[[Judged], AnyChart | None], ...]] = {
        "size_against_chart": (all_charts.deviation_chart,),
        "grade_steps": (all_charts.steps_chart,),
        "washing": (all_charts.washing_chart,),
        "lots": (all_charts.lots_chart, all_charts.next_lot_chart),
        "delivery": (all_charts.operating_chart,),
    }
    drawn = (make(judged) for make in makers.get(check, ()))
    return [chart for chart in drawn if chart]


def _small(judged: Judged) -> tuple[AnyChart, ...]:
    """Return the drawing for the catalogue: it belongs to the blank, and is drawn with it."""
    from blankbook.pages.charts import all_charts

    small = all_charts.sizes_small_chart(judged)
    return (small,) if small else ()


def chart_context(chart: AnyChart) -> dict[str, Any]:
    """Return what a template needs to show a chart."""
    return {"path": chart.path, "alt": chart.alt, "width": chart.width, "height": chart.height}


def _decision(judged: Judged) -> dict[str, Any] | None:
    made = newest_decision(judged)
    if made is None:
        return None
    return {**made, "sign": sign_of(made["decision"]), "against": against_advice(judged)}


def against_advice(judged: Judged) -> bool:
    """Say whether the newest decision goes another way than the evidence."""
    made = newest_decision(judged)
    if made is None:
        return False
    return is_against_advice(made["decision"], judged.verdict.advice)


def _explanations(judged: Judged) -> list[dict[str, str]]:
    return [
        {
            "says": explanation.says,
            "chance": say_chance(explanation.odds),
            "because": explanation.because,
        }
        for explanation in judged.explanations
        if explanation.odds >= LEAST_ODDS
    ]
