"""The moderated spread between pieces, worked out."""

from math import hypot
from statistics import fmean

from blankbook.records.model import Prior
from blankbook.results.checks.spread_between_pieces import judge
from blankbook.results.limits import deviation_limits
from blankbook.results.piece_spread import Pool, piece_groups, pool, without_outliers
from blankbook.results.result_types import Case, Spread
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    decimal_text,
    length_figures,
    tested_results,
)


def spread_lines(case: Case) -> list[WorkedLine]:
    """Return the moderated spread at the first point, worked out."""
    result = next(iter(tested_results(judge(case))), None)
    return [*_point_lines(case, result.point), answer_line(result)] if result else []


def _point_lines(case: Case, point: str) -> list[WorkedLine]:
    """Return the moderated spread at a point with its limits, worked out."""
    figures, spread = length_figures(case.shop.unit), case.spreads[point]
    before = case.shop.spread[point]
    prior = Prior(hypot(before.deviation, spread.reading), before.worth)
    groups = [
        group for group in piece_groups(case.blank.rounds, point) if _is_kept(group[2], prior)
    ]
    seen = sum((pool([values]) for _, _, values in groups), Pool())
    squares = [
        decimal_text(pool([values]).squares / figures.scale**2, 4) for _, _, values in groups
    ]
    s, total = figures.bare(prior.deviation, 1), decimal_text(seen.squares / figures.scale**2, 4)
    inside = f"({before.worth:g} × {s}² + {total}) / ({before.worth:g} + {seen.freedom})"
    joined = f"√({figures.bare(before.deviation, 1)}² + {figures.bare(spread.reading, 1)}²)"
    return [
        WorkedLine("assumed between pieces", figures.full(before.deviation, 1)),
        WorkedLine(
            "s₀, joined with what a reading brings", figures.full(prior.deviation, 1), joined
        ),
        *(
            WorkedLine(f"squares within {size} of lot {lot}", own, _squares_sum(values, figures))
            for (lot, size, values), own in zip(groups, squares, strict=True)
        ),
        WorkedLine("squares within groups", total, " + ".join(squares)),
        WorkedLine("s", figures.full(spread.deviation, 1), f"√({inside})"),
        *_limit_lines(spread, case.shop.risk, figures),
    ]


def _is_kept(values: list[float], prior: Prior) -> bool:
    return bool(list(without_outliers([pool([values])], prior)))


def _squares_sum(values: list[float], figures: Figures) -> str:
    mean = figures.bare(fmean(values), 1)
    return " + ".join(f"({figures.bare(value, 1)} − {mean})²" for value in values)


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
