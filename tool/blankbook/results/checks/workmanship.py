"""Is it well made?"""

from blankbook.results.checks.least_grade import (
    GRADE_FORMULA,
    judge_grades,
    newest_round_with,
    not_tested,
    part_grades,
)
from blankbook.results.result_types import Case, Check, Result
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.grade_scales import WORKMANSHIP

KEY = "workmanship"


def judge(case: Case) -> list[Result]:
    """Return one answer for each part that somebody looked at, from the newest such round."""
    round_ = newest_round_with(
        case, lambda round_: any(piece.workmanship for piece in round_.pieces)
    )
    if round_ is None:
        return [not_tested(case, KEY, "nobody looked the pieces over for workmanship")]
    looked = [(piece, piece.workmanship.grades) for piece in round_.pieces if piece.workmanship]
    least = case.shop.least_grade[KEY]
    found = [
        part_grades(round_, key, part.title, looked, None) for key, part in WORKMANSHIP.items()
    ]
    results = [judge_grades(case, KEY, graded, least, deciding=True) for graded in found if graded]
    return results or [not_tested(case, KEY, "workmanship has notes and no grade")]


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Are seams, hems, collar, knit and cut well made?",
    "Pieces are looked over as received, inside and out, and every part is graded from 5, nothing "
    "to find, to 1, not fit to be sold. The mean over pieces, with its one-sided limits, is held "
    "against the least grade less a quarter.",
    "a scale of ours (common practice, no source); moderated variance, Smyth 2004",
    judge,
    GRADE_FORMULA,
)
