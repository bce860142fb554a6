"""Results as data for the JSON, with the same values that the terminal and the site show."""

from typing import Any

from blankbook.records.chart_remarks import newest_chart_remarks
from blankbook.results.advice.cautions import cautions
from blankbook.results.deliveries.json_deliveries import deliveries_data, next_delivery_data
from blankbook.results.learning.measuring_studies import StudyResult
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.planning.json_planning import can_show_data, left_open_data, nine_digits
from blankbook.results.planning.planned_rounds import planned_data
from blankbook.results.result_types import (
    Judged,
    Number,
    Purchase,
    Result,
    StandIn,
    UncertaintyBudget,
)
from blankbook.results.standing.json_standing import standing_data
from blankbook.results.standing.newest_decision import newest_decision

VET_SCHEMA = "blankbook/vet/1"


def judged_data(judged: Judged) -> dict[str, Any]:
    """Return one blank's results; keys that do not apply to a check are left out."""
    style, case = judged.blank.style, judged.case
    decision = decision_data(judged)
    return {
        "schema": VET_SCHEMA,
        "blank": style.key,
        "name": style.name,
        "source": style.source.path,
        "round": case.round.key if case.round else None,
        "today": standing_data(judged.standing),
        "advice": str(judged.verdict.advice),
        "headline": judged.verdict.headline,
        "reasons": list(judged.verdict.reasons),
        "decision": decision,
        "planned": planned_data(judged.blank),
        "cautions": list(cautions(judged.blank).values()),
        "chart_remarks": newest_chart_remarks(style),
        "explanations": [
            {
                "cause": explanation.key,
                "says": explanation.says,
                "odds": round(explanation.odds, 6),
                "because": explanation.because,
            }
            for explanation in judged.explanations
        ],
        "purchase": purchase_data(judged.purchase),
        "nearest": [stand_in_data(near) for near in stand_ins(judged.case)],
        "budget": {budget.point: budget_data(budget) for budget in judged.budgets},
        "deliveries": deliveries_data(case),
        "next_delivery": next_delivery_data(case),
        "can_show": can_show_data(judged),
        "left_open": left_open_data(judged),
        "checks": [result_data(result) for result in judged.results],
    }


def decision_data(judged: Judged) -> dict[str, Any] | None:
    """Return the newest decision of a person, if there is one."""
    decided = newest_decision(judged.blank)
    if decided is None:
        return None
    made = decided.made
    return {
        "decision": made.decision,
        "date": made.date.isoformat(),
        "by": made.by,
        "reason": made.reason,
        "sizes": list(made.sizes),
        "conditions": list(made.conditions),
        "uses": list(made.uses),
        "round": decided.round.key,
    }


def purchase_data(purchase: Purchase | None) -> dict[str, Any] | None:
    """Return the purchase that would tell the two likeliest causes apart, if one is worth it."""
    if purchase is None:
        return None
    return {
        "sizes": list(purchase.sizes),
        "each": purchase.each,
        "another_lot": purchase.another_lot,
        "chance": nine_digits(purchase.chance),
        "between": list(purchase.between),
    }


def stand_in_data(near: StandIn) -> dict[str, Any]:
    """Return a blank that could stand in for another; distances in tolerances."""
    return {
        "blank": near.key,
        "name": near.name,
        "distance": near.distance,
        "measures": near.shared,
        "instead": {
            size: {"size": other, "off": off} for size, (other, off) in near.instead.items()
        },
        "differs": list(near.differs),
        "decision": near.decision or None,
    }


def budget_data(budget: UncertaintyBudget) -> dict[str, Any]:
    """Return what the uncertainty at one point is made of; standard deviations in millimetres."""
    return {
        "parts": [
            {
                "part": part.key,
                "deviation": None if part.deviation is None else nine_digits(part.deviation),
                "averages": part.averages,
                "origin": part.origin,
            }
            for part in budget.parts
        ],
        "pieces": budget.pieces,
        "of_reading": nine_digits(budget.of_reading),
        "of_piece": nine_digits(budget.of_piece),
        "of_mean": nine_digits(budget.of_mean),
        "of_next_lot": nine_digits(budget.of_next_lot),
        "freedom": nine_digits(budget.freedom),
    }


def result_data(result: Result) -> dict[str, Any]:
    """Return one answer as data."""
    where = {
        "size": result.size,
        "next_size": result.next_size,
        "point": result.point,
        "piece": result.piece,
        "lot": result.lot,
        "part": result.part,
        "method": result.method,
        "material": result.material,
        "cycles": result.cycles,
        "round": result.round,
        "delivery": result.delivery,
        "word": result.word,
        "more_pieces": result.more_pieces,
    }
    return {
        "check": result.check,
        "answer": str(result.answer),
        "reason": result.reason,
        "deciding": result.deciding,
        **{key: value for key, value in where.items() if value not in {"", None}},
        **({"alarms": list(result.alarms)} if result.alarms else {}),
        "numbers": {number.name: number_data(number) for number in result.numbers},
    }


def number_data(number: Number) -> dict[str, Any]:
    """Return one number as data, with its limits where it has them."""
    data: dict[str, Any] = {"value": nine_digits(number.value), "unit": number.unit}
    if number.low is not None and number.high is not None:
        data |= {"low": nine_digits(number.low), "high": nine_digits(number.high)}
    return data


def study_data(measured: StudyResult) -> dict[str, Any]:
    """Return what a study of measuring shows; standard deviations in millimetres."""
    ways = {"averages and ranges": measured.by_range.gauge, "variances": measured.by_variance.gauge}
    return {
        "study": measured.study.key,
        "date": measured.study.date.isoformat(),
        "point": measured.study.point,
        "people": list(measured.study.people),
        "pieces": len(measured.study.pieces),
        "says": measured.says,
        "word": measured.word,
        "percent_of_tolerance": nine_digits(measured.share),
        "tape": nine_digits(measured.tape),
        "ways": {
            way: {
                "repeatability": nine_digits(gauge.repeatability),
                "reproducibility": nine_digits(gauge.reproducibility),
                "both": nine_digits(gauge.gauge),
                "pieces": nine_digits(gauge.pieces),
                "categories": gauge.categories,
            }
            for way, gauge in ways.items()
        },
    }
