"""A delivery in words: its plan, its outcome, what is missing."""

from blankbook.records.model import Delivery
from blankbook.results.deliveries.inspection import InspectionResult
from blankbook.results.methods.sampling_plans import Outcome, Plan
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.number_words import say_counted, say_list, say_sentences


def say_outcome(inspection: InspectionResult) -> str:
    """Return the outcome of an inspection with its counts."""
    accept, reject = inspection.applied.accept, inspection.applied.reject
    found = f"{inspection.bad} bad of {inspection.inspected} looked at"
    if inspection.severity == Severity.STOPPED:
        stopped = "acceptance from this supplier is stopped"
        return say_sentences(f"{found}, and no sample can accept it", stopped)
    if inspection.outcome is None and not inspection.inspected:
        return f"nobody has looked yet: look at {inspection.asked.sample_size}"
    if inspection.outcome is None:
        return say_sentences(
            f"{found}, and the plan asks for {inspection.asked.sample_size}",
            f"look at {inspection.more} more before it is accepted",
            f"from {reject} bad on it is rejected",
        )
    if inspection.outcome == Outcome.REJECTED:
        return f"{found}, and from {reject} on it is rejected"
    if inspection.outcome == Outcome.BETWEEN:
        then = "the next is inspected normally"
        return say_sentences(f"{found}, between {accept} and {reject}: accepted", then)
    return f"{found}, and up to {accept} {'is' if accept == 1 else 'are'} accepted"


def say_plan(size: int, severity: Severity, plan: Plan) -> str:
    """Return a plan as a shop says it."""
    if severity == Severity.STOPPED:
        return "none is accepted until the supplier has put the cause right"
    look = f"look at {'all' if plan.whole_lot else plan.sample_size}"
    good = f"up to {plan.accept} bad is accepted" if plan.accept else "with none bad it is accepted"
    gap = f", {plan.reject} is rejected"
    return f"of {say_counted(size, 'piece')} {look}; {good}{gap} ({severity} inspection)"


def say_shortages(delivery: Delivery) -> str:
    """Return how the delivery differs from its invoice; empty where it does not."""
    if delivery.invoiced is None:
        return ""
    sizes = dict.fromkeys((*delivery.invoiced, *delivery.delivered))
    apart = {
        size: delivery.delivered.get(size, 0) - delivery.invoiced.get(size, 0) for size in sizes
    }
    said = [f"{abs(by)} {size} {'short' if by < 0 else 'over'}" for size, by in apart.items() if by]
    return f"against the invoice: {say_list(said)}" if said else ""
