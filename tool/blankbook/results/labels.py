"""Does each piece measure as the size that its tag says?"""

from collections.abc import Mapping, Sequence
from math import exp
from typing import TYPE_CHECKING

from blankbook.records.model import Piece, Round
from blankbook.results.frame import Case, Check, Number, Result
from blankbook.results.likelihood import PointModel, point_models
from blankbook.words.answers import Answer
from blankbook.words.causes import TAG_RIGHT, TAG_STRANGER

if TYPE_CHECKING:
    from blankbook.results.likelihood import Vector

KEY = "label"
LOT_SHIFT = 0.6
"""How far a lot may run large or small as a whole, as a share of the step: that is no wrong tag."""


def judge(case: Case) -> list[Result]:
    """Return one answer per piece of the judged round that was measured."""
    if case.round is None:
        return []
    tags = {f"{case.round.key}/{piece.key}": piece.size for piece in case.round.pieces}
    chances = label_chances(point_models(case, LOT_SHIFT), tags, case.blank.style.sizes)
    return [
        _judge_piece(case, case.round, piece, chances[key])
        for piece in case.round.pieces
        if (key := f"{case.round.key}/{piece.key}") in chances
    ]


def label_chances(
    models: Sequence[PointModel], tags: Mapping[str, str], sizes: Sequence[str]
) -> dict[str, dict[str, float]]:
    """Return, for each measured piece, the chance of each size, and under "" of none of them.

    Before measuring, a tag is held right with `TAG_RIGHT`, a piece a stranger to every size with
    `TAG_STRANGER`, and the rest goes to the neighbours, halving with every size of distance. All
    the piece's points count together; the other pieces are taken by their tags, except those whose
    tag turned out to be wrong: the worst is settled first, so that it does not speak against its
    neighbours.
    """
    measured = {one.piece for model in models for one in model.seen}
    pieces = [piece for piece in tags if piece in measured]
    settled: dict[str, dict[str, float]] = {}
    while True:
        left = {piece: tags[piece] for piece in pieces if piece not in settled}
        found = _pass(models, left, {p: _likeliest(c) for p, c in settled.items()}, sizes)
        worst = min(left, key=lambda piece: found[piece][tags[piece]], default="")
        if not worst or found[worst][tags[worst]] >= 0.5 or len(settled) >= len(pieces) // 2:
            return {piece: settled.get(piece) or found[piece] for piece in pieces}
        settled[worst] = found[worst]


def _likeliest(chances: Mapping[str, float]) -> str:
    return max(chances, key=lambda size: chances[size])


def _pass(
    models: Sequence[PointModel],
    tags: Mapping[str, str],
    settled: Mapping[str, str],
    sizes: Sequence[str],
) -> dict[str, dict[str, float]]:
    """Return the chances of the pieces in *tags*, those in *settled* being what they measure as."""
    fits = {piece: dict.fromkeys([*sizes, ""], 0.0) for piece in tags}
    for model in models:
        _add_fits(model, tags, _moved(model, settled), sizes, fits)
    return {piece: _chances(fits[piece], tags[piece], sizes) for piece in tags}


def _moved(model: PointModel, settled: Mapping[str, str]) -> "Vector":
    """Return the shift of pieces that are settled: to their size, or out of the way."""
    import numpy as np

    moves = [0.0] * len(model.seen)
    for place, one in enumerate(model.seen):
        if one.piece in settled:
            size = settled[one.piece]
            level = model.expected
            moves[place] = level[size] - level[one.size] if size else one.deviation
    return np.array(moves)


def _add_fits(
    model: PointModel,
    tags: Mapping[str, str],
    base: "Vector",
    sizes: Sequence[str],
    fits: dict[str, dict[str, float]],
) -> None:
    """Add the log likelihood at one point, for every piece as every size, in one pass."""
    ways = [(piece, size) for piece in fits for size in sizes]
    if not ways:
        return
    moves = [base + _as_size(model, piece, tags[piece], size) for piece, size in ways]
    here = dict(zip(ways, model.fits(moves), strict=True))
    odd = model.odd_fits(base)
    for piece, ours in fits.items():
        for size in sizes:
            ours[size] += float(here[piece, size])
        ours[""] += odd.get(piece, float(here[piece, tags[piece]]))


def _chances(fits: Mapping[str, float], label: str, sizes: Sequence[str]) -> dict[str, float]:
    priors = {**_priors(label, sizes), "": TAG_STRANGER}
    best = max(fits.values())
    weights = {size: priors[size] * exp(fit - best) for size, fit in fits.items()}
    total = sum(weights.values())
    return {size: weight / total for size, weight in weights.items()}


def _priors(label: str, sizes: Sequence[str]) -> Mapping[str, float]:
    place = list(sizes).index(label)
    raw = {size: 0.5 ** abs(number - place) for number, size in enumerate(sizes) if number != place}
    rest = (1 - TAG_RIGHT - TAG_STRANGER) / sum(raw.values()) if raw else 0.0
    return {label: TAG_RIGHT, **{size: share * rest for size, share in raw.items()}}


def _as_size(model: PointModel, piece: str, label: str, size: str) -> "Vector":
    """Return the shift of the readings if this one piece were really of *size*."""
    import numpy as np

    move = model.expected[size] - model.expected[label]
    return np.array([move if one.piece == piece else 0.0 for one in model.seen])


def _judge_piece(case: Case, one: Round, piece: Piece, chances: Mapping[str, float]) -> Result:
    likeliest = _likeliest(chances)
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
        _reason(piece, likeliest, chances, answer),
        word="" if likeliest == piece.size else f"measures as {likeliest or 'none of the sizes'}",
        size=piece.size,
        piece=piece.key,
        lot=piece.lot,
        round=one.key,
        numbers=(
            Number("chance that the tag is right", right, "chance"),
            Number("chance of the likeliest size", chances[likeliest], "chance"),
            Number("chance of none of the sizes", chances[""], "chance"),
        ),
    )


def _reason(piece: Piece, likeliest: str, chances: Mapping[str, float], answer: Answer) -> str:
    share = (
        f"{min(chances[likeliest], 0.999):.1%}"
        if chances[likeliest] > 0.99
        else (f"{chances[likeliest]:.0%}")
    )
    share = share.replace("%", " %")
    if answer == Answer.MEETS:
        return f"{piece.key}: tagged {piece.size}, measures as {piece.size} ({share})"
    if likeliest == "":
        return f"{piece.key}: tagged {piece.size}, measures as none of the sizes ({share})"
    return f"{piece.key}: tagged {piece.size}, measures as {likeliest} ({share})"


CHECK = Check(
    KEY,
    "Labels",
    "Does each piece measure as the size that its tag says?",
    "All points of a piece together are held against each size, beside the other pieces of its "
    "lot; a lot that runs large or small as a whole is not taken for wrong tags. Before measuring, "
    "97 tags in 100 are held right, and 1 piece in 100 a stranger to every size.",
    "Bayes' theorem with stated priors; multivariate normal density, scale averaged",
    judge,
)
