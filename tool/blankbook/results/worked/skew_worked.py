"""The twist of the body, piece by piece, worked out."""

from statistics import fmean

from blankbook.results.checks.skew import Twist, judge, seam_twists, twist_spread
from blankbook.results.limits import t_quantile
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    PERCENT_FIGURES,
    Figures,
    WorkedLine,
    answer_line,
    decimal_text,
    error_line,
    length_figures,
    mean_line,
    required_number,
)


def twist_lines(case: Case) -> list[WorkedLine]:
    """Return the last stage's twist, piece by piece, worked out."""
    result = next((r for r in reversed(judge(case)) if r.number(Quantity.TWIST) and r.cycles), None)
    round_ = next((o for o in case.blank.rounds if result and o.key == result.round), None)
    if result is None or round_ is None:
        return []
    found, _ = seam_twists(round_, result.cycles or 0)
    figures, values = length_figures(case.shop.unit), [twist.percent for twist in found]
    deviation, freedom = twist_spread(case, round_, found)
    mean, t = fmean(values), decimal_text(t_quantile(1 - case.shop.risk, freedom), 3)
    width = f"{t} × {PERCENT_FIGURES.bare(deviation / len(values) ** 0.5, 1)}"
    low, high = (
        required_number(result, Quantity.TWIST).low or 0.0,
        required_number(result, Quantity.TWIST).high or 0.0,
    )
    return [
        *(_twist_line(twist, figures) for twist in found),
        mean_line("mean twist", values, PERCENT_FIGURES),
        error_line(deviation, len(values), PERCENT_FIGURES),
        WorkedLine("t", t, f"t({1 - case.shop.risk:.4g}; {freedom:.4g})"),
        WorkedLine(
            "lower limit",
            PERCENT_FIGURES.full(low),
            f"max(0; {PERCENT_FIGURES.bare(mean)} − {width})",
        ),
        WorkedLine(
            "upper limit", PERCENT_FIGURES.full(high), f"{PERCENT_FIGURES.bare(mean)} + {width}"
        ),
        answer_line(result),
    ]


def _twist_line(twist: Twist, figures: Figures) -> WorkedLine:
    whole = twist.whole
    put_in = f"100 × {figures.bare(twist.percent * whole / 100)} / {figures.bare(whole)}"
    return WorkedLine(twist.piece.key, PERCENT_FIGURES.full(twist.percent), put_in)
