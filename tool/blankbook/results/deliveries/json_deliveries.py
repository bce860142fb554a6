"""Deliveries as data for the JSON."""

from typing import Any

from blankbook.results.checks.delivery import (
    DeliveryResult,
    delivery_results,
    next_plan,
    operating_characteristic,
)
from blankbook.results.deliveries.against_approved import DeliveredStep, PointComparison
from blankbook.results.deliveries.delivery_words import say_plan
from blankbook.results.methods.sampling_plans import Plan
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.result_types import Case


def deliveries_data(case: Case) -> list[dict[str, Any]]:
    """Return every delivery of a blank, the oldest first."""
    return [_seen(result) for result in delivery_results(case)]


def _seen(result: DeliveryResult) -> dict[str, Any]:
    delivery, inspection = result.delivery, result.inspection
    made = delivery.decision
    return {
        "delivery": delivery.key,
        "source": delivery.source.path,
        "date": delivery.date.isoformat(),
        "lot": delivery.lot,
        "delivered": dict(delivery.delivered),
        "severity": str(inspection.severity),
        "plan": plan_data(inspection.asked),
        "held_against": plan_data(inspection.applied),
        "inspected": inspection.inspected,
        "bad": inspection.bad,
        "may_have_a_fault_in_all": result.most_faulty,
        "may_be_outside_in_all": result.most_outside,
        "outcome": str(inspection.outcome) if inspection.outcome else None,
        "answer": str(result.answer),
        "then": result.then,
        "decision": (
            {"decision": made.decision, "by": made.by, "date": made.date.isoformat()}
            | {"reason": made.reason}
            if made
            else None
        ),
        "approved_round": result.approved or None,
        "compared": [_compared(compared) for compared in result.comparisons],
        "steps": [_step(step) for step in result.steps],
    }


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return a plan with its operating characteristic."""
    characteristic = operating_characteristic(plan)
    return {
        "letter": plan.letter,
        "pieces": plan.sample_size,
        "accept": plan.accept,
        "reject": plan.reject,
        "whole_lot": plan.whole_lot,
        "accepted_95_in_100": _rounded(characteristic.producers_risk_quality),
        "accepted_10_in_100": _rounded(characteristic.consumers_risk_quality),
        "chances": [[share, _rounded(chance)] for share, chance in characteristic.chances],
    }


def _compared(compared: PointComparison) -> dict[str, Any]:
    moved = compared.moved
    return {
        "point": compared.point,
        "size": compared.size or None,
        "pieces": [compared.before, compared.now],
        "answer": str(moved.answer),
        "difference": _rounded(moved.difference),
        "low": _rounded(moved.low),
        "high": _rounded(moved.high),
        "margin": _rounded(compared.margin),
    }


def _step(step: DeliveredStep) -> dict[str, Any]:
    return {
        "point": step.point,
        "sizes": [step.small, step.large],
        "charted": None if step.asked is None else _rounded(step.asked),
        "step": _rounded(step.found.mean),
        "low": _rounded(step.found.low),
        "high": _rounded(step.found.high),
        "word": step.word or None,
    }


def next_delivery_data(case: Case) -> dict[str, Any]:
    """Return how the next delivery is to be inspected, if it is as large as the last one."""
    size, severity, plan = next_plan(case)
    return {
        "pieces": size,
        "severity": str(severity),
        "plan": None if severity == Severity.STOPPED else plan_data(plan),
        "says": say_plan(size, severity, plan),
    }


def _rounded(value: float) -> float:
    return float(f"{value:.9g}")
