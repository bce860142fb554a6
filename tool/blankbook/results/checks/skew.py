"""Does the body twist in the wash?"""

from dataclasses import dataclass
from math import inf
from statistics import fmean

from blankbook.records.model import Piece, Prior, Readings, Round, Seam
from blankbook.results.checks.least_grade import not_tested
from blankbook.results.evidence import newest_first
from blankbook.results.limits import Limits, limits, pieces_to_settle
from blankbook.results.number_words import (
    say_counted,
    say_more,
    say_percent,
    say_sentences,
)
from blankbook.results.piece_spread import (
    mean_reading,
    moderate,
    moderated_repeatability,
    pool,
    reading_uncertainty,
)
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES

KEY = "skew"
SIDE_SEAM = "side seam"
BODY_LENGTH = "body length"


def seam_twist(shift: float, whole: float) -> float:
    """Return the twist of a garment in percent.

    Source: 100 AA' / AB, AA' being how far the seam has moved at the hem and AB its length, as in
    AATCC TM207 and ISO 16322-3; the formula is from memory. (AATCC TM179 is for cloth.)

    >>> round(seam_twist(12, 250), 4), seam_twist(0.5, 8)
    (4.8, 6.25)
    """
    return 100 * shift / whole


@dataclass(frozen=True, slots=True)
class Twist:
    """One piece's twist after washing."""

    piece: Piece
    percent: float
    before: float | None
    """As received, in percent; negative where the seam lay to the other side."""
    towards: str
    whole: float
    """The length that the percentage is of, millimetres."""


def judge(case: Case) -> list[Result]:
    """Return one answer for each number of washes, from the newest round with any."""
    for round_ in newest_first(case):
        stages = sorted(
            {w.cycles for piece in round_.pieces for w in piece.washed if w.seam and w.seam.written}
        )
        found = [(cycles, *seam_twists(round_, cycles)) for cycles in stages]
        found = [stage for stage in found if stage[1]]
        if found:
            last = found[-1][0]
            return [_judge_stage(case, round_, *stage, stage[0] == last) for stage in found]
    return [not_tested(case, KEY, "no twist was measured after washing")]


def seam_twists(round_: Round, cycles: int) -> tuple[list[Twist], str]:
    """Return each piece's twist after *cycles*, and what it is a percentage of.

    That is the side seam where its length is known for all pieces, else the body length.
    """
    found = [
        (piece, stage.seam, stage.readings)
        for piece in round_.pieces
        for stage in piece.washed
        if stage.cycles == cycles and stage.seam and stage.seam.written
    ]
    sides = [_side(piece, seam) for piece, seam, _ in found]
    if found and all(sides):
        pairs = zip(found, sides, strict=True)
        return [_twist(piece, seam, side) for (piece, seam, _), side in pairs if side], SIDE_SEAM
    bodies = [(piece, seam, _body(piece, after)) for piece, seam, after in found]
    return [_twist(piece, seam, body) for piece, seam, body in bodies if body], BODY_LENGTH


def _side(piece: Piece, seam: Seam) -> float | None:
    length = seam.length or (piece.seam.length if piece.seam else None)
    return length.mm if length else None


def _body(piece: Piece, after: Readings) -> float | None:
    repeats = after.get("body_length") or piece.received.get("body_length")
    return mean_reading(repeats) if repeats else None


def _twist(piece: Piece, seam: Seam, whole: float) -> Twist:
    before = None
    if piece.seam and piece.seam.written:
        before = seam_twist(piece.seam.shift, whole)
        if {piece.seam.towards, seam.towards} == {"left", "right"}:
            before = -before
    return Twist(piece, seam_twist(seam.shift, whole), before, seam.towards, whole)


def _judge_stage(
    case: Case, round_: Round, cycles: int, found: list[Twist], of: str, last: bool
) -> Result:
    values = [twist.percent for twist in found]
    deviation, freedom = twist_spread(case, round_, found)
    mean = limits(fmean(values), deviation / len(values) ** 0.5, freedom, case.shop.risk)
    answer = answer_at_most(mean, case.shop.skew_limit, of)
    more = None
    if answer == Answer.NOT_SHOWN:
        more = pieces_to_settle(mean, (-inf, case.shop.skew_limit), deviation, case.shop.risk)
        # A share of the body length can never meet the limit, however many pieces there are.
        more = None if of == BODY_LENGTH and mean.mean <= case.shop.skew_limit else more
    return Result(
        KEY,
        answer,
        _reason(case, cycles, found, mean, of, answer, more),
        word=_word(found),
        lot=", ".join(sorted({twist.piece.lot for twist in found if twist.piece.lot})),
        cycles=cycles,
        round=round_.key,
        numbers=(
            Number(Quantity.TWIST, mean.mean, "%", max(mean.low, 0.0), mean.high),
            Number(Quantity.LIMIT, case.shop.skew_limit, "%"),
            *_added(found),
            Number(Quantity.PIECES, len(values), "pieces"),
        ),
        more_pieces=more,
        deciding=last,
    )


def twist_spread(case: Case, round_: Round, found: list[Twist]) -> tuple[float, float]:
    """Return the moderated spread of single pieces' twist in percent, and its freedom."""
    hand = moderated_repeatability(case.blank.rounds, case.shop, case.learned.hand).deviation
    step = reading_uncertainty(round_.tape.reads_to.mm, hand)
    reading = seam_twist(step, fmean(twist.whole for twist in found))
    assumed = case.shop.skew_spread
    prior = Prior((assumed.deviation**2 + reading**2) ** 0.5, assumed.worth)
    return moderate(prior, pool([[twist.percent for twist in found]]))


def answer_at_most(mean: Limits, limit: float, of: str) -> Answer:
    """Return meets where the limits lie wholly below *limit*, fails where wholly past it.

    A share of the body length is less than the same twist is of the side seam, so it can show that
    the limit is passed and never that it is kept.
    """
    if mean.low > limit:
        return Answer.FAILS
    return Answer.MEETS if mean.high <= limit and of == SIDE_SEAM else Answer.NOT_SHOWN


def _added(found: list[Twist]) -> tuple[Number, ...]:
    """Return the twist as received, and what washing added, where both were measured."""
    pairs = [(twist.before, twist.percent) for twist in found if twist.before is not None]
    if not pairs:
        return ()
    return (
        Number(Quantity.TWIST_AS_RECEIVED, fmean(abs(before) for before, _ in pairs), "%"),
        Number(Quantity.TWIST_ADDED, fmean(after - before for before, after in pairs), "%"),
    )


def _word(found: list[Twist]) -> str:
    sides = {twist.towards for twist in found if twist.percent}
    if sides == {"left", "right"}:
        return "both ways"
    return f"to the {sides.pop()}" if len(sides) == 1 and "" not in sides else ""


def _reason(
    case: Case,
    cycles: int,
    found: list[Twist],
    mean: Limits,
    of: str,
    answer: Answer,
    more: int | None,
) -> str:
    span = f"as a share of the {of} it lies between {max(mean.low, 0.0):.1f} and {mean.high:.1f} %"
    way = f" {_word(found)}" if _word(found) else ""
    says = f"the body twists{way} by {say_percent(mean.mean)} after {say_counted(cycles, 'wash')}"
    worst = max(found, key=lambda twist: twist.percent)
    most = f"worst is {worst.piece.key} with {say_percent(worst.percent)}"
    limit = f"the limit of {say_percent(case.shop.skew_limit)}"
    if answer == Answer.MEETS:
        return say_sentences(f"{says}, inside {limit}", span, most)
    if answer == Answer.FAILS:
        return say_sentences(f"{says}, past {limit}", span, most)
    if of == BODY_LENGTH and mean.mean <= case.shop.skew_limit:
        meant = f"{limit} is meant of the side seam, which is shorter: write seam_length"
        return say_sentences(says, span, meant)
    open_ = f"{says}; {limit} is not settled"
    return say_sentences(open_, span, say_more(more, "washed"), most)


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How far does the body twist in the wash?",
    "At the hem, the distance from the side seam to the fold of the garment laid flat, or from the "
    "mark to the fold on a body without seams, is taken in percent of the side seam's length. What "
    "is there after washing counts; what was there before stands beside it. The mean over pieces, "
    "with its one-sided limits, is held against the shop's limit. Where the side seam's length was "
    "not measured, the body length is taken, which can show that the limit is passed and never "
    "that it is kept.",
    "100 AA'/AB as in AATCC TM207 and ISO 16322-3, the formula from memory; Student's t",
    judge,
    "twist = 100 × shift of the seam at the hem / length of the side seam\n"
    "limits = mean twist ± t(1 − risk; ν) × s / √n",
)
