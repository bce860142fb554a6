"""What is said of a delivery: its plan, its outcome, what is missing."""

from blankbook.records.model import Delivery
from blankbook.results.deliveries.inspection import Fared
from blankbook.results.methods.sampling_plans import Outcome, Plan
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.number_words import say_list


def say_pieces(count: int) -> str:
    """Return a count of pieces in words."""
    return "1 piece" if count == 1 else f"{count} pieces"


def say_outcome(fared: Fared) -> str:
    """Return what the plan says of a delivery, with the counts that it rests on."""
    held = fared.held
    found = f"{fared.bad} bad of {fared.inspected} looked at"
    if fared.severity == Severity.STOPPED:
        return f"{found}, and no sample can accept it: acceptance from this supplier is stopped"
    if fared.outcome is None:
        return (
            f"{found}, and the plan asks for {fared.asked.sample_size}: look at {fared.more} more "
            f"before it is accepted, and from {held.reject} bad on it is rejected"
        )
    if fared.outcome == Outcome.REJECTED:
        return f"{found}, and from {held.reject} on it is rejected"
    if fared.outcome == Outcome.BETWEEN:
        return f"{found}, between {held.accept} and {held.reject}: accepted, and the next normally"
    return f"{found}, and up to {held.accept} {'is' if held.accept == 1 else 'are'} accepted"


def say_plan(size: int, severity: Severity, plan: Plan) -> str:
    """Return a plan as a shop says it."""
    if severity == Severity.STOPPED:
        return "none is accepted until the supplier has put the cause right"
    look = f"look at {'all' if plan.whole_lot else plan.sample_size}"
    good = f"up to {plan.accept} bad is accepted" if plan.accept else "with none bad it is accepted"
    gap = f", {plan.reject} is rejected"
    return f"of {say_pieces(size)} {look}; {good}{gap} ({severity} inspection)"


def shortages(delivery: Delivery) -> str:
    """Return how what came differs from what the paper says; empty where it does not."""
    if delivery.invoiced is None:
        return ""
    sizes = dict.fromkeys((*delivery.invoiced, *delivery.delivered))
    apart = {
        size: delivery.delivered.get(size, 0) - delivery.invoiced.get(size, 0) for size in sizes
    }
    said = [f"{abs(by)} {size} {'short' if by < 0 else 'over'}" for size, by in apart.items() if by]
    return f"against the invoice: {say_list(said)}" if said else ""
