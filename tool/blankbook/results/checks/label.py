"""Does each piece measure as the size that its tag says?"""

from collections.abc import Mapping

from blankbook.records.model import Piece, Round
from blankbook.results.causes.explanations import (
    models_as_tagged,
    weigh_suppositions,
    weighted_suppositions,
)
from blankbook.results.causes.likelihood import point_models
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES

KEY = "label"


def judge(case: Case) -> list[Result]:
    """Return one answer per piece of the judged round that was measured."""
    if case.round is None:
        return []
    chances = tag_chances(case)
    return [
        _judge_piece(case, case.round, piece, chances[key])
        for piece in case.round.pieces
        if (key := f"{case.round.key}/{piece.key}") in chances
    ]


def tag_chances(case: Case) -> dict[str, dict[str, float]]:
    """Return, for each measured piece, the chance of each size, and under "" of none of them.

    The chances are those of the causes: what a wrong tag, an exchange or an odd piece explains
    better than a point that is not graded, or a lot that is off. The causes suppose one fault at a
    time, so a tag that turns out wrong is settled first, and the rest is weighed again.
    """
    settled: dict[str, dict[str, float]] = {}
    while True:
        found = _weighed(case, {piece: likeliest_size(ours) for piece, ours in settled.items()})
        tags = _tags(case)
        left = [piece for piece in found if piece not in settled]
        worst = min(left, key=lambda piece: found[piece][tags[piece]], default="")
        if not worst or found[worst][tags[worst]] >= 0.5 or len(settled) >= len(tags) // 2:
            return {piece: settled.get(piece) or found[piece] for piece in {**found, **settled}}
        settled[worst] = found[worst]


def _tags(case: Case) -> dict[str, str]:
    return {
        f"{round_.key}/{piece.key}": piece.size
        for round_ in case.blank.rounds
        for piece in round_.pieces
    }


def _weighed(case: Case, known: Mapping[str, str]) -> dict[str, dict[str, float]]:
    """Return the chances of every piece, those in *known* being what they measure as."""
    import numpy as np

    models = point_models(case, known) if known else models_as_tagged(case)
    ways = weigh_suppositions(case, models) if known else weighted_suppositions(case)
    labels = {reading.piece: reading.size for model in models for reading in model.seen}
    row = {piece: place for place, piece in enumerate(labels)}
    found = {piece: dict.fromkeys([*case.blank.style.sizes, ""], 0.0) for piece in labels}
    as_tagged = np.ones((len(labels), len(ways)), dtype=bool)
    for column, (supposition, odds) in enumerate(ways):
        for piece, size in supposition.really.items():
            found[piece][size] += odds
            as_tagged[row[piece], column] = False
    kept = as_tagged @ np.array([odds for _, odds in ways])
    for piece, label in labels.items():
        found[piece][label] += float(kept[row[piece]])
    return found


def likeliest_size(chances: Mapping[str, float]) -> str:
    """Return the size with the largest chance, or "" for none of them."""
    return max(chances, key=lambda size: chances[size])


def _judge_piece(case: Case, round_: Round, piece: Piece, chances: Mapping[str, float]) -> Result:
    best = likeliest_size(chances)
    sure = 1 - case.shop.risk
    right = chances[piece.size]
    answer = Answer.NOT_SHOWN
    if right >= sure:
        answer = Answer.MEETS
    elif 1 - right >= sure:
        answer = Answer.FAILS
    return Result(
        KEY,
        answer,
        _reason(piece, best, chances, answer),
        word="" if best == piece.size else f"measures as {best or 'none of the sizes'}",
        size=piece.size,
        piece=piece.key,
        lot=piece.lot,
        round=round_.key,
        numbers=(
            Number(Quantity.RIGHT_TAG_CHANCE, right, "chance"),
            Number(Quantity.LIKELIEST_SIZE_CHANCE, chances[best], "chance"),
            Number(Quantity.NO_SIZE_CHANCE, chances[""], "chance"),
        ),
    )


def _reason(piece: Piece, best: str, chances: Mapping[str, float], answer: Answer) -> str:
    decimals = 1 if chances[best] > 0.99 else 0
    share = f"{min(chances[best], 0.999):.{decimals}%}".replace("%", " %")
    size = piece.size if answer == Answer.MEETS else best or "none of the sizes"
    return f"{piece.key}: tagged {piece.size}, measures as {size} ({share})"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Does each piece measure as the size that its tag says?",
    "All points of all pieces together are weighed under every cause: a wrong tag, an exchange of "
    "two sizes' tags or an odd piece, against a point that is not graded and a lot or style that "
    "runs large or small. A tag is right by as much as the other causes explain the readings.",
    "Bayes' theorem with stated priors; multivariate normal density, scale averaged",
    judge,
    "chance of a cause = belief × likelihood of all readings / the same, summed over all causes\n"
    "chance that a tag is right = 1 − chances of the causes in which it is wrong",
)
