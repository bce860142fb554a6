"""What the uncertainty is made of, as a page shows it."""

from typing import Any

from blankbook.pages.value_words import DASH, point_name
from blankbook.results.result_types import Judged, UncertaintyBudget, UncertaintyPart


def budget_contexts(judged: Judged) -> list[dict[str, Any]]:
    """Return the budget of every deciding point that was measured."""
    return [_budget(budget) for budget in judged.budgets]


def _budget(budget: UncertaintyBudget) -> dict[str, Any]:
    return {
        "point": point_name(budget.point),
        "pieces": budget.pieces,
        "parts": [_part(part, budget) for part in budget.parts],
        "of_reading": f"{budget.of_reading:.1f}",
        "of_piece": f"{budget.of_piece:.1f}",
        "of_mean": f"{budget.of_mean:.1f}",
        "of_next_lot": f"{budget.of_next_lot:.1f}",
    }


def _part(part: UncertaintyPart, budget: UncertaintyBudget) -> dict[str, str]:
    """Return one part, alone and in the mean; what no number of pieces makes smaller stays."""
    if part.deviation is None:
        return {"name": part.name, "alone": DASH, "mean": DASH, "origin": part.origin}
    mean = part.deviation / budget.pieces**0.5 if part.averages else part.deviation
    return {
        "name": part.name,
        "alone": f"{part.deviation:.1f}",
        "mean": f"{mean:.1f}" if part.key != "lots" else DASH,
        "origin": part.origin,
    }
