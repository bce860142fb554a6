"""Why does it look like this? Possible causes, weighed by how likely they make the readings.

Each cause says where every reading should have been. Its weight is its stated prior times the
marginal likelihood of the readings (averaged over which piece, which pair, how far), scaled so that
all add up to one. Where one lot cannot separate two causes, they keep their prior odds, and the
text says so.
"""

from math import exp

from blankbook.results.causes.likelihood import PointModel, point_models
from blankbook.results.causes.suppositions import Supposition, suppositions
from blankbook.results.number_words import say_chance
from blankbook.results.result_types import Case, Explanation
from blankbook.words.causes import CAUSES


def likely_causes(case: Case) -> tuple[Explanation, ...]:
    """Return the causes, the likeliest first, with their odds; empty where nothing was measured."""
    models = models_as_tagged(case)
    grouped: dict[str, list[tuple[Supposition, float]]] = {}
    for supposition, odds in weighted_suppositions(case):
        grouped.setdefault(supposition.cause, []).append((supposition, odds))
    found = []
    for cause, ways in grouped.items():
        likeliest, _ = max(ways, key=lambda pair: pair[1])
        odds = sum(share for _, share in ways)
        found.append(Explanation(cause, likeliest.says, odds, _because(case, cause, models)))
    return tuple(sorted(found, key=lambda explanation: (-explanation.odds, explanation.key)))


def weighted_suppositions(case: Case) -> list[tuple[Supposition, float]]:
    """Return every supposition of the case with its chance; the last case is remembered.

    Labels, explanations and the purchase all ask for it, and it is most of what judging costs. A
    case never changes, so the same case has the same answer.
    """
    return _remembered(case)[1]


def models_as_tagged(case: Case) -> tuple[PointModel, ...]:
    """Return the models of the case as its tags are; remembered likewise."""
    return _remembered(case)[0]


_Weighed = tuple[tuple[PointModel, ...], list[tuple[Supposition, float]]]
_last: list[tuple[Case, _Weighed]] = []


def _remembered(case: Case) -> _Weighed:
    if not _last or _last[0][0] is not case:
        models = point_models(case)
        _last[:] = [(case, (models, weigh_suppositions(case, models)))]
    return _last[0][1]


def weigh_suppositions(
    case: Case, models: tuple[PointModel, ...]
) -> list[tuple[Supposition, float]]:
    """Return every supposition with its posterior chance; together they make one."""
    if not models:
        return []
    supposed = list(suppositions(case, models))
    best = max(supposition.fit for supposition in supposed)
    weights = [supposition.prior * exp(supposition.fit - best) for supposition in supposed]
    total = sum(weights)
    return [
        (supposition, weight / total) for supposition, weight in zip(supposed, weights, strict=True)
    ]


def lot_count(models: tuple[PointModel, ...]) -> int:
    """Return how many lots the readings come from."""
    return len({reading.lot for model in models for reading in model.seen})


def _because(case: Case, cause: str, models: tuple[PointModel, ...]) -> str:
    single = lot_count(models) == 1
    if cause == "not_graded" and case.blank.style.construction == "tube":
        return "the body is knitted as a tube, and two sizes cut from one tube share its width"
    if cause in {"style_runs", "lot_off"} and single:
        return "one lot cannot tell these two apart; pieces from another lot would"
    if CAUSES[cause].stays:
        return "the next lot would show it again"
    return "the next lot need not show it"


def say_explanation(explanation: Explanation) -> str:
    """Return an explanation as one line of text."""
    return f"{explanation.says} ({say_chance(explanation.odds)}): {explanation.because}"
