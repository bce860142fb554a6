"""The spread between pieces, worked out."""

from math import hypot

from blankbook.results.checks.spread_between_pieces import judge
from blankbook.results.limits import deviation_limits
from blankbook.results.result_types import Case, Spread
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    length_figures,
    tested_results,
)


def spread_lines(case: Case) -> list[WorkedLine]:
    """Return the spread at the first point, worked out."""
    result = next(iter(tested_results(judge(case))), None)
    if result is None:
        return []
    figures, spread = length_figures(case.shop.unit), case.spreads[result.point]
    before = case.learned.spread.get(result.point) or case.shop.spread[result.point]
    usual, reading = figures.bare(before.deviation, 1), figures.bare(spread.reading, 1)
    s = hypot(before.deviation, spread.reading)
    worth = f"{before.worth:g}"
    return [
        WorkedLine(f"assumed between pieces, worth {worth}", figures.full(before.deviation, 1)),
        WorkedLine(
            "s₀, joined with what a reading brings", figures.full(s, 1), f"√({usual}² + {reading}²)"
        ),
        WorkedLine("s, as all readings say it", figures.full(spread.deviation, 1)),
        WorkedLine(
            "share that is assumed", f"{spread.assumed:.3f}", f"{worth} / {spread.freedom:.4g}"
        ),
        *_limit_lines(spread, case.shop.risk, figures),
        answer_line(result),
    ]


def _limit_lines(spread: Spread, risk: float, figures: Figures) -> list[WorkedLine]:
    low, high = deviation_limits(spread.deviation, spread.freedom, risk)
    nu = f"{spread.freedom:.4g}"
    square = f"{nu} × {figures.bare(spread.deviation, 1)}²"
    return [
        WorkedLine(
            f"its {name} limit", figures.full(end, 1), f"√({square} / X({chance:.4g}; {nu}))"
        )
        for name, end, chance in (("lower", low, 1 - risk), ("upper", high, risk))
    ]
