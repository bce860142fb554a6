"""Does the colour stay, in the cloth and out of its neighbours?"""

from blankbook.results.checks.least_grade import GRADE_FORMULA, judge_after_washing
from blankbook.results.result_types import Case, Check, Result
from blankbook.words.check_titles import CHECK_TITLES

KEY = "colour"
_NOBODY = "nobody held a washed piece against the grey scale"


def judge(case: Case) -> list[Result]:
    """Return answers for the change of colour and for staining, by number of washes.

    Where nobody looked at either, one line says so.
    """
    change = judge_after_washing(case, KEY, "colour", "colour", _NOBODY)
    stain = judge_after_washing(
        case, KEY, "staining", "staining", "no white cloth washed with it", False
    )
    return change if not (change[0].numbers or stain[0].numbers) else change + stain


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How much does washing change the colour, and how much does it stain others?",
    "A washed piece is held beside a new one and the grey scale, and a white cloth that was washed "
    "with it beside a clean one and the grey scale for staining. The mean of the pieces' grades, "
    "with its one-sided limits, is held against the least grade less a quarter: a piece of grade 4 "
    "is what rounds to 4, so 3.75 and up.",
    "grey scales ISO 105-A02 and ISO 105-A03; moderated variance, Smyth 2004",
    judge,
    GRADE_FORMULA,
)
