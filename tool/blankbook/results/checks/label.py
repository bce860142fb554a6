"""Does each piece measure as the size that its tag says?"""

from collections.abc import Mapping

from blankbook.records.model import Piece, Round
from blankbook.results.number_words import say_list, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES

KEY = "label"


def judge(case: Case) -> list[Result]:
    """Return one answer per piece of the judged round that was measured."""
    if case.round is None:
        return []
    return [
        _judge_piece(case, case.round, piece, case.posterior.tags[key])
        for piece in case.round.pieces
        if (key := f"{case.round.key}/{piece.key}") in case.posterior.tags
    ]


def likeliest_size(chances: Mapping[str, float]) -> str:
    """Return the size with the largest chance, or "" for none of them."""
    return max(chances, key=lambda size: chances[size])


def _judge_piece(case: Case, round_: Round, piece: Piece, chances: Mapping[str, float]) -> Result:
    """Return the answer: that a tag is right takes the readings, and not belief alone."""
    best, right, risk = likeliest_size(chances), chances[piece.size], case.shop.risk
    also = case.posterior.also_like(f"{round_.key}/{piece.key}", risk)
    answer = Answer.NOT_SHOWN
    if right >= 1 - risk and not also:
        answer = Answer.MEETS
    elif right <= risk:
        answer = Answer.FAILS
    return Result(
        KEY,
        answer,
        _reason(piece, best, chances, also if answer == Answer.NOT_SHOWN else ()),
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


def _reason(piece: Piece, best: str, chances: Mapping[str, float], also: tuple[str, ...]) -> str:
    decimals = 1 if chances[best] > 0.99 else 0
    share = f"{min(chances[best], 0.999):.{decimals}%}".replace("%", " %")
    says = f"{piece.key}: tagged {piece.size}, measures as {best or 'none of the sizes'} ({share})"
    others = [size for size in also if size != best]
    open_ = f"its readings do not rule out {say_list(others)}" if others else ""
    return say_sentences(says, open_)


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Does each piece measure as the size that its tag says?",
    "All points of all pieces together are weighed under every cause: wrong tags, one or several, "
    "an exchange of two sizes' tags or an odd piece, against a point that is not graded, a size, a "
    "lot or a style that is off. A tag is right by as much as the other causes explain the "
    "readings. It meets where the readings, too, and not only the belief that tags are right, rule "
    "out every other size.",
    "Bayes' theorem with stated priors; multivariate normal density, scale averaged",
    judge,
    "chance of a cause = belief × likelihood of all readings / the same, summed over all causes\n"
    "chance that a tag is right = 1 − chances of the causes in which it is wrong\n"
    "a size is ruled out where the readings speak (1 − risk) / risk times more for the tag",
)
