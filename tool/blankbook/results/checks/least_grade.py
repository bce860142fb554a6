"""Grades of several pieces, checked against the least that a shop accepts.

A grade is read by eye in half steps: a piece of grade 4 is one that rounds to 4, from 3.75 up, so
3.75 is the border. The rounding is joined with the spread between pieces as a tape's step is with a
length's (GUM, JCGM 100:2008, F.2.2.1), and the joined spread is a floor: a few pieces of one grade
do not show that pieces hardly differ. So "meets" is wrong at most as often as the shop's risk, even
where the true mean lies on the border; a test counts this for every border.

A check of grades is a short module upon this one. What a shop accepts stands in
`records.model.shop_defaults` and the schema of the shop, what to do next in `advice.next_look`.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import inf
from statistics import fmean

from blankbook.records.model import Grades, Piece, Prior, Round, Shop, Washed
from blankbook.results.evidence import newest_first
from blankbook.results.limits import Limits, limits, pieces_to_settle
from blankbook.results.methods.proportions import say_bad, upper_share
from blankbook.results.number_words import say_counted, say_more, say_sentences
from blankbook.results.piece_spread import moderate, pool
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.grade_scales import HALF_GRADE, nearest_grade


@dataclass(frozen=True, slots=True)
class PartGrades:
    """The grades of one round's pieces at one part."""

    part: str
    title: str
    round: Round
    names: tuple[str, ...]
    """The pieces, in the order of the file."""
    values: tuple[float, ...]
    lots: tuple[str, ...]
    cycles: int | None = None
    method: str = ""
    material: str = ""

    @property
    def worst(self) -> tuple[str, float]:
        """The piece with the lowest grade, the first of several."""
        return min(zip(self.names, self.values, strict=True), key=lambda pair: pair[1])


def part_grades(
    round_: Round, part: str, title: str, found: Iterable[tuple[Piece, Grades]], cycles: int | None
) -> PartGrades | None:
    """Return the grades of the pieces at *part*; None where no piece has one."""
    pairs = [(piece, grades[part].value) for piece, grades in found if part in grades]
    if not pairs:
        return None
    return PartGrades(
        part,
        title,
        round_,
        tuple(piece.key for piece, _ in pairs),
        tuple(value for _, value in pairs),
        tuple(sorted({piece.lot for piece, _ in pairs if piece.lot})),
        cycles,
    )


def grade_limits(values: tuple[float, ...], shop: Shop) -> tuple[Limits, float]:
    """Return the mean grade with its limits, and the standard deviation of a single piece."""
    assumed = shop.grade_spread
    floor = (assumed.deviation**2 + HALF_GRADE**2 / 12) ** 0.5
    deviation, freedom = moderate(Prior(floor, assumed.worth), pool([values]))
    deviation = max(deviation, floor)
    error = deviation / len(values) ** 0.5
    return limits(fmean(values), error, freedom, shop.risk), deviation


def grade_border(least: float) -> float:
    """Return the lowest value that rounds to *least*.

    >>> grade_border(4.0)
    3.75
    """
    return least - HALF_GRADE / 2


def answer_at_least(mean: Limits, least: float) -> Answer:
    """Return meets where the limits lie wholly at or above the border, fails where wholly below."""
    if mean.low >= grade_border(least):
        return Answer.MEETS
    return Answer.FAILS if mean.high < grade_border(least) else Answer.NOT_SHOWN


def judge_grades(
    case: Case, check: str, graded: PartGrades, least: float, deciding: bool
) -> Result:
    """Return the answer of one part, with its numbers."""
    mean, deviation = grade_limits(graded.values, case.shop)
    answer = answer_at_least(mean, least)
    count = len(graded.values)
    more = None
    if answer == Answer.NOT_SHOWN:
        more = pieces_to_settle(mean, (grade_border(least), inf), deviation, case.shop.risk)
    low, high = max(mean.low, 1.0), min(mean.high, 5.0)
    bad = sum(value < least for value in graded.values)
    return Result(
        check,
        answer,
        _reason(graded, mean, least, answer, more, case.shop.risk),
        word=nearest_grade(mean.mean),
        part=graded.part,
        method=graded.method,
        material=graded.material,
        lot=", ".join(graded.lots),
        cycles=graded.cycles,
        round=graded.round.key,
        numbers=(
            Number(Quantity.MEAN_GRADE, mean.mean, "grade", low, high),
            Number(Quantity.LEAST_GRADE, least, "grade"),
            Number(Quantity.WORST_GRADE, graded.worst[1], "grade"),
            Number(Quantity.PIECES_BELOW, bad, "pieces"),
            Number(Quantity.SHARE_BELOW, upper_share(bad, count, case.shop.risk), "share"),
            Number(Quantity.PIECES, count, "pieces"),
        ),
        more_pieces=more,
        deciding=deciding,
    )


def _reason(
    graded: PartGrades, mean: Limits, least: float, answer: Answer, more: int | None, risk: float
) -> str:
    low, high = max(mean.low, 1.0), min(mean.high, 5.0)
    asked = nearest_grade(least)
    span = f"the mean lies between {low:.2f} and {high:.2f}; {asked} begins at "
    span += f"{grade_border(least):.2f}"
    alone = len(graded.values) == 1
    got = f"{nearest_grade(mean.mean)} on one piece" if alone else f"{mean.mean:.2f} on average"
    says, worst = f"{_say_part(graded)}: {got}", _say_worst(graded)
    if answer == Answer.MEETS:
        bad = say_bad(sum(v < least for v in graded.values), len(graded.values), risk)
        return say_sentences(f"{says}, at least {asked}", span, worst, bad)
    if answer == Answer.FAILS:
        return say_sentences(f"{says}, below {asked}", span, worst)
    open_ = f"{says}; at least {asked} is not settled"
    return say_sentences(open_, span, say_more(more, "graded"), worst)


def _say_worst(graded: PartGrades) -> str:
    """Return the piece with the lowest grade, as a sentence."""
    if len(set(graded.values)) > 1:
        return f"worst is {graded.worst[0]} with {nearest_grade(graded.worst[1])}"
    return f"all have {nearest_grade(graded.values[0])}" if len(graded.values) > 1 else ""


def _say_part(graded: PartGrades) -> str:
    return (
        f"{graded.title} after {say_counted(graded.cycles, 'wash')}"
        if graded.cycles
        else graded.title
    )


def not_tested(case: Case, check: str, why: str, part: str = "", decides: bool = True) -> Result:
    """Return "not tested"; it decides only where the shop requires the check."""
    required = check in case.shop.required
    return Result(check, Answer.NOT_TESTED, why, part=part, deciding=decides and required)


def newest_round_with(case: Case, has: Callable[[Round], bool]) -> Round | None:
    """Return the newest round that *has* says yes to."""
    return next((round_ for round_ in newest_first(case) if has(round_)), None)


def grades_after_washing(case: Case, part: str, title: str) -> list[PartGrades]:
    """Return the newest round's grades at *part* for each number of washes, the fewest first."""
    round_ = newest_round_with(
        case, lambda round_: any(part in stage.grades for _, stage in _stages(round_))
    )
    if round_ is None:
        return []
    cycles = sorted({stage.cycles for _, stage in _stages(round_) if part in stage.grades})
    found = []
    for count in cycles:
        here = ((piece, stage.grades) for piece, stage in _stages(round_) if stage.cycles == count)
        if graded := part_grades(round_, part, title, here, count):
            found.append(graded)
    return found


def _stages(round_: Round) -> Iterator[tuple[Piece, Washed]]:
    for piece in round_.pieces:
        for stage in piece.washed:
            yield piece, stage


def judge_after_washing(
    case: Case, check: str, part: str, title: str, unseen: str, decides: bool = True
) -> list[Result]:
    """Return one answer for each number of washes; the most washes decide."""
    found = grades_after_washing(case, part, title)
    if not found:
        return [not_tested(case, check, unseen, part, decides)]
    least = case.shop.least_grade[part]
    return [judge_grades(case, check, graded, least, graded is found[-1]) for graded in found]


GRADE_FORMULA = (
    "limits = mean grade ± t(1 − risk; ν) × s / √n, held against the least grade − 1/4\n"
    "s² = (ν₀ × s₀² + squares about the mean) / (ν₀ + n − 1), at least s₀²"
)
