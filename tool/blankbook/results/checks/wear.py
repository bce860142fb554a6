"""How does it wear?"""

from dataclasses import replace

from blankbook.records.model import Piece, Worn
from blankbook.results.checks.least_grade import (
    GRADE_FORMULA,
    judge_grades,
    newest_round_with,
    not_tested,
    part_grades,
)
from blankbook.results.number_words import say_counted, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.grade_scales import WEAR

KEY = "wear"


def judge(case: Case) -> list[Result]:
    """Return one answer for each part, from the newest round with worn pieces.

    Where a piece was graded more than once, its last grade counts.
    """
    round_ = newest_round_with(case, lambda round_: any(piece.worn for piece in round_.pieces))
    if round_ is None:
        return [not_tested(case, KEY, "nobody wore a piece")]
    last = [(piece, piece.worn[-1]) for piece in round_.pieces if piece.worn]
    results = []
    for key, part in WEAR.items():
        here = [(piece, worn) for piece, worn in last if key in worn.grades]
        graded = part_grades(round_, key, part.title, [(p, worn.grades) for p, worn in here], None)
        if graded:
            answer = judge_grades(case, KEY, graded, case.shop.least_grade[KEY], deciding=True)
            results.append(_with_days(answer, here))
    return results or [not_tested(case, KEY, "wear has notes and no grade")]


def _with_days(answer: Result, here: list[tuple[Piece, Worn]]) -> Result:
    """Return the answer with the fewest days and washes that any of its pieces was worn for."""
    days = min(worn.days for _, worn in here)
    washes = min(worn.washes for _, worn in here)
    numbers = (
        *answer.numbers,
        Number(Quantity.DAYS_WORN, days, "count"),
        Number(Quantity.WASHES_WORN, washes, "count"),
    )
    days_worn = f"worn on {say_counted(days, 'day')} or more"
    return replace(answer, reason=say_sentences(answer.reason, days_worn), numbers=numbers)


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How do shape, collar, feel and surface stand up to being worn?",
    "A piece that somebody wore is held beside a new one and graded from 5, as new, to 1, worn "
    "out. The last grade of each piece counts. The mean over pieces, with its one-sided limits, is "
    "held against the least grade less a quarter.",
    "a scale of ours (common practice, no source); moderated variance, Smyth 2004",
    judge,
    GRADE_FORMULA,
)
