"""The mean of a size against its chart, worked out."""

from blankbook.results.checks.size_against_chart import judge, sample_error
from blankbook.results.evidence import newest_sample
from blankbook.results.limits import chance_between, limits
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Result
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
    error, freedom = sample_error(sample, spread)
    target, mean = required_number(result, Quantity.CHART).value, figures.bare(sample.mean)
    return [
        read_line(f"{sample.size} {POINTS[sample.point].name}", sample.values, figures),
        mean_line("mean", sample.values, figures),
        WorkedLine("off the chart", figures.full(off.value), f"{mean} − {figures.bare(target)}"),
        error_line(spread.deviation, count, figures),
        *limit_lines(off, error, freedom, case.shop.risk, figures),
        _alone_line(result, error, freedom, figures),
        WorkedLine(
            "chance that it is sound, by all readings",
            CHANCE_FIGURES.full(required_number(result, Quantity.SOUND_CHANCE).value),
        ),
        answer_line(result),
    ]


def _alone_line(result: Result, error: float, freedom: float, figures: Figures) -> WorkedLine:
    """Return the chance that it is inside the tolerance, by its own pieces alone."""
    off, allowed = (
        required_number(result, Quantity.OFF_THE_CHART).value,
        required_number(result, Quantity.TOLERANCE).value,
    )
    below, wide = figures.put(off), figures.bare(error, 1)
    ends = (
        f"T(({figures.put(end)} − {below}) / {wide}; {freedom:.4g})" for end in (allowed, -allowed)
    )
    alone = chance_between(limits(off, error, freedom, 0.5), -allowed, allowed)
    says = "chance that it is sound, by these alone"
    return WorkedLine(says, CHANCE_FIGURES.full(alone), " − ".join(ends))
