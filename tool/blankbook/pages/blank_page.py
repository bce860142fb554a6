"""The page of one blank: the finding first, then everything behind it."""

from typing import Any

from blankbook.pages.columns import COLUMNS
from blankbook.pages.rounds import round_contexts
from blankbook.pages.showing import point_name, signed, unit_name, where
from blankbook.pages.spec import ChartSpec, PageSpec
from blankbook.records.model import Shop, Style
from blankbook.results.as_data import newest_decision
from blankbook.results.checks import CHECKS
from blankbook.results.evidence import measured_sizes
from blankbook.results.frame import Check, Judged, Result
from blankbook.results.saying import say_chance
from blankbook.results.verdict import goes_against
from blankbook.words.answers import Answer
from blankbook.words.care import CAUTION
from blankbook.words.garments import (
    CHILDREN_CAUTION,
    CONSTRUCTIONS,
    LABEL_CAUTION,
    NECK_LABELS,
    WEARERS,
)

LEAST_ODDS = 0.01
MOST_ROWS = 12
_WORST = (Answer.FAILS, Answer.NOT_SHOWN, Answer.NOT_TESTED, Answer.MEETS)


def blank_path(key: str) -> str:
    """Return where a blank's page goes, relative to the site."""
    return f"blanks/{key}.html"


def blank_page(judged: Judged, shop: Shop) -> PageSpec:
    """Return the page of one blank."""
    from blankbook.pages.charts import specs

    style = judged.blank.style
    drawn = {
        "sizes": specs.sizes_chart(judged),
        "size_against_chart": specs.deviation_chart(judged),
        "grade_steps": specs.steps_chart(judged),
        "washing": specs.washing_chart(judged),
        "lots": specs.lots_chart(judged),
    }
    charts = {key: chart for key, chart in drawn.items() if chart}
    context: dict[str, Any] = {
        "up": "../../",
        "unit": unit_name(shop.unit),
        "name": style.name,
        "key": style.key,
        "source": style.source.path,
        "supplier": {"key": judged.blank.supplier.key, "name": judged.blank.supplier.name},
        "facts": _facts(style),
        "note": style.note,
        "advice": signed(judged.verdict.advice),
        "headline": judged.verdict.headline,
        "reasons": list(judged.verdict.reasons),
        "next": judged.verdict.next_step,
        "orderable": list(judged.verdict.orderable),
        "decision": _decision(judged),
        "explanations": _explanations(judged),
        "checks": [_check(judged, check, shop.unit) for check in CHECKS],
        "charts": {key: chart_context(chart) for key, chart in charts.items()},
        "measured": list(measured_sizes(judged.case)),
        "rounds": round_contexts(judged, shop.unit),
        "cautions": _cautions(judged),
    }
    return PageSpec(
        blank_path(style.key),
        style.name,
        "blank.html.j2",
        context,
        (*charts.values(), *_small(judged)),
    )


def _small(judged: Judged) -> tuple[ChartSpec, ...]:
    """Return the drawing for the catalogue: it belongs to the blank, and is drawn with it."""
    from blankbook.pages.charts import specs

    small = specs.sizes_small_chart(judged)
    return (small,) if small else ()


def chart_context(chart: ChartSpec) -> dict[str, Any]:
    """Return what a template needs to show a chart."""
    return {"path": chart.path, "alt": chart.alt, "width": chart.width, "height": chart.height}


def _facts(style: Style) -> list[dict[str, str]]:
    pairs = [
        ("fibre", style.fibre),
        ("knit", style.knit),
        ("claimed mass", style.mass_written),
        ("body", CONSTRUCTIONS.get(style.construction, "")),
        ("neck label", NECK_LABELS.get(style.neck_label, "")),
        ("cut for", WEARERS.get(style.wearer, "")),
        ("sizes", ", ".join(style.sizes)),
        ("colours", ", ".join(style.colours)),
        ("used for", ", ".join(style.uses)),
    ]
    if style.prices:
        price = style.prices[-1]
        pairs.append(("price", f"{price.each:.2f} {price.currency} since {price.since}".strip()))
    return [{"what": what, "is": text} for what, text in pairs if text]


def _decision(judged: Judged) -> dict[str, Any] | None:
    made = newest_decision(judged)
    if made is None:
        return None
    return {**made, "sign": signed(made["decision"]), "against": against_advice(judged)}


def against_advice(judged: Judged) -> bool:
    """Say whether the newest decision goes another way than the evidence."""
    made = newest_decision(judged)
    if made is None:
        return False
    return goes_against(made["decision"], judged.verdict.advice)


def _explanations(judged: Judged) -> list[dict[str, str]]:
    return [
        {"says": one.says, "chance": say_chance(one.odds), "because": one.because}
        for one in judged.explanations
        if one.odds >= LEAST_ODDS
    ]


def _check(judged: Judged, check: Check, unit: str) -> dict[str, Any]:
    """Return one check's table: a row for each answer, and a line for what was not measured."""
    results = judged.of(check.key)
    columns = COLUMNS.get(check.key, ())
    silent = [r for r in results if r.answer == Answer.NOT_TESTED and not r.deciding]
    listed = [r for r in results if r not in silent]
    short = _what_wants_a_look(listed)
    return {
        "key": check.key,
        "title": check.title,
        "question": check.question,
        "heads": [column.head.format(unit=unit_name(unit)) for column in columns],
        "rows": [_row(result, check.key, unit) for result in short],
        "more": len(listed) - len(short),
        "counts": _counts(listed),
        "silent": [where(result) for result in silent],
        "required": check.key in judged.case.shop.required,
    }


def _what_wants_a_look(results: list[Result]) -> list[Result]:
    """Return the answers to list: of a long list about single pieces, those that do not meet."""
    if len(results) <= MOST_ROWS or not results[0].piece:
        return results
    return [result for result in results if result.answer != Answer.MEETS]


def _row(result: Result, key: str, unit: str) -> dict[str, Any]:
    columns = COLUMNS.get(key, ())
    return {
        "where": where(result),
        "answer": signed(result.answer),
        "word": result.word,
        "reason": result.reason,
        "cells": [column.show(result, unit) for column in columns],
        "deciding": result.deciding,
        "round": result.round,
    }


def _counts(results: list[Result]) -> list[dict[str, Any]]:
    """Return how many of each answer there are, the worst first."""
    counted = [(answer, sum(r.answer == answer for r in results)) for answer in _WORST]
    return [{"sign": signed(answer), "count": count} for answer, count in counted if count]


def _cautions(judged: Judged) -> dict[str, str]:
    style = judged.blank.style
    found = {"washing": CAUTION}
    if style.wearer == "children":
        found["children"] = CHILDREN_CAUTION
    if style.neck_label in {"tear_away", "sewn"}:
        found["label"] = LABEL_CAUTION
    return found


__all__ = ["against_advice", "blank_page", "blank_path", "chart_context", "point_name"]
