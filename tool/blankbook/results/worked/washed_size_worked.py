"""A washed size against the chart as received, worked out."""

from statistics import fmean

from blankbook.records.model import Shop
from blankbook.results.checks.washed_size import judge, washed_against_chart, washed_spread
from blankbook.results.checks.washing import washed_round
from blankbook.results.piece_spread import mean_error
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Spread
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    error_line,
    first_with,
    length_figures,
    limit_lines,
    read_line,
    required_number,
)
from blankbook.words.points import POINTS


def washed_size_lines(case: Case) -> list[WorkedLine]:
    """Return the first size that was washed, worked out."""
    result, round_ = first_with(judge(case), Quantity.WASHED), washed_round(case)
    become = (
        washed_against_chart(case, round_, result.size, result.point) if result and round_ else None
    )
    if result is None or become is None:
        return []
    new, figures = case.spreads[become.point], length_figures(case.shop.unit)
    spread = washed_spread(new, fmean(become.values), case.shop)
    off, count = required_number(result, Quantity.WASHED_OFF_THE_CHART), len(become.values)
    error, freedom = mean_error(spread, count)
    mean, target = figures.bare(fmean(become.values)), figures.bare(become.target)
    half = figures.full(required_number(result, Quantity.HALF_A_STEP).value)
    return [
        read_line(f"{become.size} {POINTS[become.point].name} washed", become.values, figures),
        WorkedLine("off the chart", figures.full(off.value), f"{mean} − {target}"),
        washed_line(new, fmean(become.values), case.shop, figures),
        error_line(spread.deviation, count, figures),
        *limit_lines(off, error, freedom, case.shop.risk, figures),
        WorkedLine("half a step", half, f"{figures.bare(abs(become.step))} / 2"),
        answer_line(result),
    ]


def washed_line(new: Spread, length: float, shop: Shop, figures: Figures) -> WorkedLine:
    """Return the spread of washed pieces: of new ones, and what unlike shrinking adds."""
    shrinks = f"{shop.wash_spread.deviation / 100:g} × {figures.bare(length)}"
    put_in = f"√({figures.bare(new.deviation, 1)}² + ({shrinks})²)"
    deviation = washed_spread(new, length, shop).deviation
    return WorkedLine("s of washed pieces", figures.full(deviation, 1), put_in)
