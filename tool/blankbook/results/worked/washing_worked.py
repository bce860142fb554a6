"""The change in washing, piece by piece, worked out."""

from blankbook.results.checks.washing import change_spread, judge, piece_changes, washed_round
from blankbook.results.number_words import say_counted
from blankbook.results.piece_spread import mean_reading
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case
from blankbook.results.worked.working_lines import (
    PERCENT_FIGURES,
    WorkedLine,
    answer_line,
    error_line,
    first_with,
    length_figures,
    limit_lines,
    mean_line,
    required_number,
)
from blankbook.words.points import POINTS


def washing_lines(case: Case) -> list[WorkedLine]:
    """Return the first change, piece by piece, worked out."""
    result = first_with(judge(case), Quantity.CHANGE)
    round_ = washed_round(case)
    if result is None or round_ is None or result.cycles is None:
        return []
    paired = list(piece_changes(round_, result.point, result.cycles))
    seen = [change for _, change in paired]
    spread = change_spread(case, round_, result.point, seen)
    change, figures = required_number(result, Quantity.CHANGE), length_figures(case.shop.unit)
    lines = []
    for piece, percent in paired:
        before = mean_reading(piece.received[result.point])
        now, then = figures.bare(before * (1 + percent / 100)), figures.bare(before)
        put_in = f"100 × ({now} − {then}) / {then}"
        name = f"{piece.key} {POINTS[result.point].name} after {say_counted(result.cycles, 'wash')}"
        lines.append(WorkedLine(name, PERCENT_FIGURES.full(percent), put_in))
    return [
        *lines,
        mean_line("mean change", seen, PERCENT_FIGURES),
        error_line(spread.deviation, len(seen), PERCENT_FIGURES),
        *limit_lines(
            change,
            spread.deviation / len(seen) ** 0.5,
            spread.freedom,
            case.shop.risk,
            PERCENT_FIGURES,
        ),
        answer_line(result),
    ]
