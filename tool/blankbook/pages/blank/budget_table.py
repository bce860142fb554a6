"""What the uncertainty is made of, as a page shows it."""

from dataclasses import dataclass

from blankbook.pages.value_words import DASH, point_name
from blankbook.results.result_types import Judged, UncertaintyBudget, UncertaintyPart


@dataclass(frozen=True, slots=True)
class BudgetPart:
    """One part of the uncertainty, alone and in the mean, millimetres."""

    name: str
    alone: str
    mean: str
    origin: str


@dataclass(frozen=True, slots=True)
class BudgetTable:
    """What the uncertainty at one point is made of; standard deviations in millimetres."""

    point: str
    pieces: int
    parts: tuple[BudgetPart, ...]
    of_reading: str
    of_piece: str
    of_mean: str
    of_next_lot: str


def budget_tables(judged: Judged) -> tuple[BudgetTable, ...]:
    """Return the budget of every deciding point that was measured."""
    return tuple(_budget(budget) for budget in judged.budgets)


def _budget(budget: UncertaintyBudget) -> BudgetTable:
    return BudgetTable(
        point=point_name(budget.point),
        pieces=budget.pieces,
        parts=tuple(_part(part, budget) for part in budget.parts),
        of_reading=f"{budget.of_reading:.1f}",
        of_piece=f"{budget.of_piece:.1f}",
        of_mean=f"{budget.of_mean:.1f}",
        of_next_lot=f"{budget.of_next_lot:.1f}",
    )


def _part(part: UncertaintyPart, budget: UncertaintyBudget) -> BudgetPart:
    """Return one part, alone and in the mean: more pieces make only some parts smaller."""
    if part.deviation is None:
        return BudgetPart(name=part.name, alone=DASH, mean=DASH, origin=part.origin)
    mean = part.deviation / budget.pieces**0.5 if part.averages else part.deviation
    return BudgetPart(
        name=part.name,
        alone=f"{part.deviation:.1f}",
        mean=f"{mean:.1f}" if part.key != "lots" else DASH,
        origin=part.origin,
    )
