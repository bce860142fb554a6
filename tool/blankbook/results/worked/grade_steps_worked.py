"""The growth from one size to the next, worked out."""

from blankbook.results.checks.grade_steps import judge, step_limits
from blankbook.results.evidence import newest_pair
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    WorkedLine,
    answer_line,
    first_with,
    length_figures,
    limit_lines,
    mean_line,
    read_line,
)
from blankbook.words.points import POINTS


def step_lines(case: Case) -> list[WorkedLine]:
    """Return the first step, worked out."""
    result = first_with(judge(case), Quantity.STEP)
    both = newest_pair(case, result.size, result.next_size, result.point) if result else None
    if result is None or both is None:
        return []
    small, large = both
    spread, figures, step = (
        case.spreads[small.point],
        length_figures(case.shop.unit),
        result.numbers[0],
    )
    found = step_limits(small, large, spread, case.shop.risk)
    name = POINTS[small.point].name
    parts = f"√(1/{len(small.values)} + 1/{len(large.values)})"
    means = f"{figures.bare(large.mean)} − {figures.bare(small.mean)}"
    deviation = figures.bare(spread.deviation, 1)
    return [
        *(read_line(f"{sample.size} {name}", sample.values, figures) for sample in both),
        *(mean_line(f"mean of {sample.size}", sample.values, figures) for sample in both),
        WorkedLine("step", figures.full(step.value), means),
        WorkedLine("its standard error", figures.full(found.error, 1), f"{deviation} × {parts}"),
        *limit_lines(step, found.error, found.freedom, case.shop.risk, figures),
        answer_line(result),
    ]
