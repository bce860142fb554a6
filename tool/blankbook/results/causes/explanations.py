"""Why does it look like this? The causes with their odds, and what each means for the next lot."""

from blankbook.results.number_words import say_chance, say_sentences
from blankbook.results.result_types import Case, Explanation
from blankbook.words.causes import CAUSES


def likely_causes(case: Case) -> tuple[Explanation, ...]:
    """Return the causes, the likeliest first, with their odds; empty where nothing was measured.

    Each is told by the likeliest way in which it could have come about.
    """
    odds: dict[str, float] = {}
    says: dict[str, str] = {}
    for one in case.posterior.weighed:
        if one.cause not in odds:
            says[one.cause] = one.says(case.posterior.labels)
        odds[one.cause] = odds.get(one.cause, 0.0) + one.chance
    found = (Explanation(key, says[key], odds[key], _because(case, key)) for key in odds)
    return tuple(sorted(found, key=lambda one: (-one.odds, one.key)))


def _because(case: Case, cause: str) -> str:
    lots = {group.lot for one in case.posterior.every.values() for group in one.groups}
    if cause == "not_graded" and case.blank.style.construction == "tube":
        return "two sizes cut from one knitted tube share its width"
    if cause in {"style_runs", "lot_off"} and len(lots) == 1:
        return "pieces from another lot would tell a bad lot from the way it is cut"
    if CAUSES[cause].stays:
        return "the next lot would show it again"
    return "the next lot need not show it"


def say_explanation(explanation: Explanation) -> str:
    """Return an explanation as one line of sentences."""
    says = f"{explanation.says} ({say_chance(explanation.odds)})"
    return say_sentences(says, explanation.because)
