"""A delivery by its sampling plan, worked out: what is looked at, and what would slip through."""

from blankbook.results.checks.delivery import delivery_results, judge
from blankbook.results.methods.sampling_plans import acceptance_chance
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import CHANCE_FIGURES, WorkedLine, answer_line

EXAMPLE_SHARE = 0.1
"""The share bad for which the plan's chance is written out."""
MOST_TERMS = 4
"""A sum of more terms than this is not written out."""


def delivery_lines(case: Case) -> list[WorkedLine]:
    """Return the newest delivery, worked out."""
    found = delivery_results(case)
    if not found:
        return []
    newest, rules = found[-1], case.shop.inspection
    delivery, plan = newest.delivery, newest.inspection.asked
    came = " + ".join(str(count) for count in delivery.delivered.values())
    numbers = f"{plan.accept} bad or fewer, rejected from {plan.reject} on"
    table = f"level {rules.level}, AQL {rules.aql:g}, code letter {plan.letter}"
    chance = CHANCE_FIGURES.full(acceptance_chance(plan, EXAMPLE_SHARE))
    n = plan.sample_size
    terms = [
        f"C({n}; {bad}) × {EXAMPLE_SHARE}^{bad} × (1 − {EXAMPLE_SHARE})^{n - bad}"
        for bad in range(plan.reject)
    ]
    return [
        WorkedLine("pieces that came", str(delivery.size), came),
        WorkedLine(f"to look at, by the table ({table})", f"{plan.sample_size} pieces"),
        WorkedLine("accepted with", numbers),
        WorkedLine("found bad", f"{newest.bad.count} of {newest.inspection.inspected}"),
        answer_line(judge(case)[-1]),
        WorkedLine(
            f"chance that a delivery with {EXAMPLE_SHARE:.0%} bad is accepted".replace("%", " %"),
            chance,
            " + ".join(terms) if len(terms) <= MOST_TERMS else "",
        ),
    ]
