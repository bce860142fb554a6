"""The chance of a mix-up between neighbouring sizes, worked out."""

from blankbook.results.checks.grade_steps import step_limits
from blankbook.results.checks.mix_up import judge
from blankbook.results.evidence import newest_pair
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    CHANCE_FIGURES,
    WorkedLine,
    answer_line,
    length_figures,
    required_number,
)
from blankbook.words.points import POINTS


def mix_up_lines(case: Case) -> list[WorkedLine]:
    """Return the pair that is mixed up most easily, worked out."""
    results = [r for r in judge(case) if r.number(Quantity.MIX_UP_CHANCE)]
    result = max(
        results, key=lambda r: required_number(r, Quantity.MIX_UP_CHANCE).value, default=None
    )
    both = newest_pair(case, result.size, result.next_size, result.point) if result else None
    if result is None or both is None:
        return []
    small, large = both
    spread, figures = case.spreads[result.point], length_figures(case.shop.unit)
    step = step_limits(small, large, spread, case.shop.risk)
    chance, freedom = required_number(result, Quantity.MIX_UP_CHANCE), f"{spread.freedom:.4g}"
    deviation = figures.bare(spread.deviation, 1)
    extra = f"√(2 + 1/{len(small.values)} + 1/{len(large.values)})"
    means = f"{figures.bare(large.mean)} − {figures.bare(small.mean)}"
    pair, name = f"{small.size} to {large.size}", POINTS[result.point].name

    def tail(end: float, root: str) -> str:
        return f"T({figures.put(-end)} / ({deviation} × {root}); {freedom})"

    return [
        WorkedLine(f"step of {name}, {pair}", figures.full(step.mean), means),
        WorkedLine("chance", CHANCE_FIGURES.full(chance.value), tail(step.mean, extra)),
        WorkedLine(
            "at most, at its lower limit",
            CHANCE_FIGURES.full(required_number(result, Quantity.MOST_MIXED_UP).value),
            tail(step.low, "√2"),
        ),
        answer_line(result),
    ]
