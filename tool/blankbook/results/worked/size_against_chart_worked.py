"""The mean of a size against its chart, worked out."""

from blankbook.results.checks.size_against_chart import judge
from blankbook.results.evidence import newest_sample
from blankbook.results.piece_spread import mean_error
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Result, Spread
from blankbook.results.worked.working_lines import (
    CHANCE_FIGURES,
    Figures,
    WorkedLine,
    answer_line,
    error_line,
    first_with,
    length_figures,
    limit_lines,
    mean_line,
    read_line,
    required_number,
)
from blankbook.words.points import POINTS


def size_lines(case: Case) -> list[WorkedLine]:
    """Return the first size that a chart speaks of, worked out."""
    result = first_with(judge(case), Quantity.OFF_THE_CHART)
    sample = newest_sample(case, result.size, result.point) if result else None
    if result is None or sample is None:
        return []
    spread, figures = case.spreads[sample.point], length_figures(case.shop.unit)
    off, count = required_number(result, Quantity.OFF_THE_CHART), len(sample.values)
    error, freedom = mean_error(spread, count)
    target, mean = required_number(result, Quantity.CHART).value, figures.bare(sample.mean)
    return [
        read_line(f"{sample.size} {POINTS[sample.point].name}", sample.values, figures),
        mean_line("mean", sample.values, figures),
        WorkedLine("off the chart", figures.full(off.value), f"{mean} − {figures.bare(target)}"),
        error_line(spread.deviation, count, figures),
        *limit_lines(off, error, freedom, case.shop.risk, figures),
        answer_line(result),
        _share_line(result, error, spread, figures),
    ]


def _share_line(result: Result, error: float, spread: Spread, figures: Figures) -> WorkedLine:
    """Return the share of further pieces that is expected inside the tolerance."""
    off, allowed = (
        required_number(result, Quantity.OFF_THE_CHART).value,
        required_number(result, Quantity.TOLERANCE).value,
    )
    wide = f"√({figures.bare(spread.deviation, 1)}² + {figures.bare(error, 1)}²)"
    below, freedom = figures.put(off), f"{spread.freedom:.4g}"
    ends = (f"T(({figures.put(end)} − {below}) / {wide}; {freedom})" for end in (allowed, -allowed))
    share = CHANCE_FIGURES.full(required_number(result, Quantity.SHARE_INSIDE).value)
    return WorkedLine("further pieces expected inside", share, " − ".join(ends))
