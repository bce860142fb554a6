"""The next thing to do where a twist, a grade or the cloth is the question, by check."""

from collections.abc import Sequence

from blankbook.results.result_types import Result
from blankbook.words.answers import Answer

STEPS_AFTER_FAIL: dict[str, str] = {
    "skew": "wash two pieces from another lot: one lot cannot tell a bad lot from the way it is "
    "knitted",
    "colour": "wash and grade two pieces of another dye lot: one lot cannot tell a bad dyeing from "
    "the dye",
    "pilling": "wash and grade two pieces from another lot: one lot cannot tell a bad lot from the "
    "yarn",
    "workmanship": "look over four pieces from another lot: one lot cannot tell a bad day from the "
    "way it is made",
    "wear": "wear and grade two pieces from another lot: one lot cannot tell a bad lot from the "
    "style",
    "decoration": "change the settings and test again on the same lot: a print that fails may be "
    "the settings and not the blank",
}
STEPS_WHILE_UNTESTED: dict[str, str] = {
    "spread": "measure a second piece of each size and colour",
    "skew": "lay four washed pieces flat and measure how far the side seam has moved at the hem",
    "colour": "hold four washed pieces beside new ones and grade them by the grey scale",
    "pilling": "grade the surface of four washed pieces for pills",
    "workmanship": "turn two pieces of each size inside out, and grade seams, hems, collar, knit "
    "and cut",
    "wear": "have two people wear a piece each for ten days, washing it as they go, and grade it",
    "decoration": "decorate two pieces as for a client, wash them five times, and grade the print",
}
STEPS_WITH_MORE_PIECES: dict[str, str] = {
    "skew": "wash {}",
    "colour": "wash and grade {}",
    "pilling": "wash and grade {}",
    "workmanship": "look over and grade {}",
    "wear": "wear and grade {}",
    "decoration": "decorate, wash and grade {}",
    "fabric": "cut and weigh swatches of {}",
}


def step_after_graded_fail(fails: Sequence[Result]) -> str:
    """Return what to do where only twist and grades failed, else ""."""
    if not all(result.check in STEPS_AFTER_FAIL for result in fails):
        return ""
    return STEPS_AFTER_FAIL[fails[0].check]


def step_while_untested(unseen: Sequence[Result]) -> str:
    """Return how to look at the first thing that nobody has looked at, or ""."""
    first = next((result for result in unseen if result.check in STEPS_WHILE_UNTESTED), None)
    if first is None:
        return ""
    if first.check == "decoration" and first.round:
        return "wash the test print five times, and grade it"
    return STEPS_WHILE_UNTESTED[first.check]


def side_seam_step(unsettled: Sequence[Result]) -> str:
    """Return what a twist in percent of the body length needs, or ""."""
    if any(
        r.check == "skew" and r.answer == Answer.NOT_SHOWN and not r.more_pieces for r in unsettled
    ):
        return "measure the side seams of the pieces that twisted, and write seam_length"
    return ""


def step_with_more_pieces(check: str, pieces: str) -> str:
    """Return what to do with further pieces where a check is about no single size."""
    return STEPS_WITH_MORE_PIECES.get(check, "wash {}").format(pieces)
