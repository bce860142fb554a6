"""Does the surface stay smooth?"""

from blankbook.results.checks.least_grade import GRADE_FORMULA, judge_after_washing
from blankbook.results.result_types import Case, Check, Result
from blankbook.words.check_titles import CHECK_TITLES

KEY = "pilling"


def judge(case: Case) -> list[Result]:
    """Return one answer for each number of washes."""
    return judge_after_washing(
        case, KEY, KEY, "pilling", "nobody looked at a washed piece for pills"
    )


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How much does the surface fuzz and pill?",
    "Washed pieces are graded from 5, no change, to 1, dense pills. The mean of their grades, with "
    "its one-sided limits, is held against the least grade less a quarter.",
    "five grades of the ISO 12945 family, from memory; moderated variance, Smyth 2004",
    judge,
    GRADE_FORMULA,
)
