"""Grades of several pieces, worked out: the same for every check that rests on grades."""

from collections.abc import Callable, Iterator, Sequence

from blankbook.records.model import Grades, Piece, Round
from blankbook.results.checks.least_grade import grade_border, grade_limits
from blankbook.results.limits import t_quantile
from blankbook.results.piece_spread import pool
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Result
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    decimal_text,
    first_with,
    mean_line,
    required_number,
)
from blankbook.words.grade_scales import HALF_GRADE

GRADE_FIGURES = Figures("", 2)


def graded_lines(judge: Callable[[Case], list[Result]], case: Case) -> list[WorkedLine]:
    """Return the first answer of a check that rests on grades, worked out."""
    result = first_with(judge(case), Quantity.MEAN_GRADE)
    if result is None:
        return []
    values = grades_of(case, result)
    mean, deviation = grade_limits(values, case.shop)
    least = required_number(result, Quantity.LEAST_GRADE).value
    s = decimal_text(deviation, 3)
    t = decimal_text(t_quantile(1 - case.shop.risk, mean.freedom), 3)
    error, middle = decimal_text(mean.error, 3), GRADE_FIGURES.bare(mean.mean)
    low, high = max(mean.low, 1.0), min(mean.high, 5.0)
    return [
        WorkedLine("grades", ", ".join(f"{value:g}" for value in values)),
        *_spread_lines(case, values, s),
        mean_line("mean grade", values, GRADE_FIGURES),
        WorkedLine("standard error s / √n", error, f"{s} / √{len(values)}"),
        WorkedLine("t", t, f"t({1 - case.shop.risk:.4g}; {mean.freedom:.4g})"),
        WorkedLine("lower limit", GRADE_FIGURES.full(low), f"max(1; {middle} − {t} × {error})"),
        WorkedLine("upper limit", GRADE_FIGURES.full(high), f"min(5; {middle} + {t} × {error})"),
        WorkedLine(
            "border", GRADE_FIGURES.full(grade_border(least)), f"{least:g} − {HALF_GRADE:g} / 2"
        ),
        answer_line(result),
    ]


def _spread_lines(case: Case, values: Sequence[float], s: str) -> list[WorkedLine]:
    assumed = case.shop.grade_spread
    floor = decimal_text((assumed.deviation**2 + HALF_GRADE**2 / 12) ** 0.5, 3)
    seen = pool([values])
    squares = decimal_text(seen.squares, 3)
    joined = f"√({assumed.deviation:g}² + {HALF_GRADE:g}² / 12)"
    inside = f"({assumed.worth:g} × {floor}² + {squares}) / ({assumed.worth:g} + {seen.freedom})"
    return [
        WorkedLine("s₀, the assumed spread with the half step", floor, joined),
        WorkedLine("squares about the mean", squares),
        WorkedLine("s, never under s₀", s, f"max({floor}; √({inside}))"),
    ]


def grades_of(case: Case, result: Result) -> tuple[float, ...]:
    """Return the grades behind a result, in the order of the file."""
    round_ = next(round_ for round_ in case.blank.rounds if round_.key == result.round)
    found = _decorated(round_, result) if result.method else _of_pieces(round_, result)
    return tuple(grades[result.part].value for grades in found if result.part in grades)


def _of_pieces(round_: Round, result: Result) -> Iterator[Grades]:
    for piece in round_.pieces:
        yield from _grades(piece, result)


def _grades(piece: Piece, result: Result) -> Iterator[Grades]:
    if result.check == "workmanship" and piece.workmanship:
        yield piece.workmanship.grades
    elif result.check == "wear" and piece.worn:
        yield piece.worn[-1].grades
    elif result.cycles:
        yield from (stage.grades for stage in piece.washed if stage.cycles == result.cycles)


def _decorated(round_: Round, result: Result) -> Iterator[Grades]:
    for test in round_.decorated:
        if (test.method, test.material) == (result.method, result.material):
            if result.cycles is None:
                yield test.result
            else:
                yield from (w.grades for w in test.washed if w.cycles == result.cycles)
