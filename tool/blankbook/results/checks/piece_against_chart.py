"""Is this one piece inside the tolerance, as far as a tape can tell?"""

from blankbook.records.model import Piece, Round
from blankbook.results.chart_values import charted_length
from blankbook.results.evidence import (
    YOUNGER_CHART,
    chart_for,
    is_chart_younger,
    is_deciding,
    is_required,
    tolerance,
)
from blankbook.results.methods.conformity import SpecificationLimits, conformance, guard_band
from blankbook.results.number_words import say_chance, say_length_change, say_sentences
from blankbook.results.piece_spread import mean_reading, reading_uncertainty
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "piece_against_chart"


def judge(case: Case) -> list[Result]:
    """Return one answer per piece and point of the judged round, where the chart has a value."""
    if case.round is None:
        return []
    hand = next(iter(case.spreads.values())).hand  # one hand holds the tape at every point
    found = [
        result
        for piece in case.round.pieces
        for point in POINTS
        if point in piece.received
        for result in _judge_piece(case, case.round, piece, point, hand)
    ]
    if found or not is_required(case, KEY):
        return found
    none = "no chart to check single pieces against"
    younger = is_chart_younger(case, case.round)
    return [Result(KEY, Answer.NOT_TESTED, YOUNGER_CHART if younger else none)]


def _judge_piece(case: Case, round_: Round, piece: Piece, point: str, hand: float) -> list[Result]:
    chart = chart_for(case, round_)
    target = charted_length(chart, piece.size, point)
    if target is None:
        return []
    repeats = piece.received[point]
    error = reading_uncertainty(round_.tape.reads_to.mm, hand, len(repeats))
    allowed = tolerance(case, chart, point)
    off = mean_reading(repeats) - target
    answer = answer_guarded(off, error, allowed, case.shop.risk)
    band = guard_band(error, case.shop.risk)
    conforms = conformance(off, error, SpecificationLimits(-allowed, allowed))
    name = POINTS[point].name
    shown = say_length_change(off, case.shop.unit)
    again = ""
    if answer == Answer.NOT_SHOWN:
        chance = f"it is inside with a chance of {say_chance(conforms)}"
        settles = _again(off, round_.tape.reads_to.mm, hand, allowed, case.shop.risk)
        again = say_sentences(chance, settles)
    says = f"{piece.key} {name} is {shown} against the chart: {_say_answer(answer)}"
    return [
        Result(
            KEY,
            answer,
            say_sentences(says, again),
            size=piece.size,
            point=point,
            piece=piece.key,
            lot=piece.lot,
            round=round_.key,
            numbers=(
                Number(Quantity.OFF_THE_CHART, off, "mm", off - band, off + band),
                Number(Quantity.TOLERANCE, allowed, "mm"),
                Number(Quantity.READING_UNCERTAINTY, error, "mm"),
                Number(Quantity.CONFORMANCE, conforms, "chance"),
            ),
            deciding=is_deciding(case, point),
        )
    ]


def _again(off: float, step: float, hand: float, allowed: float, risk: float) -> str:
    """Return how many readings of this piece would settle it, or that this tape cannot.

    Twenty readings bring the hand's part near nothing; what is left is the step of the tape.
    """
    for count in range(2, 21):
        error = reading_uncertainty(step, hand, count)
        if answer_guarded(off, error, allowed, risk) != Answer.NOT_SHOWN:
            return f"{count} readings with this mean would settle it"
    return "a tape read more finely would settle it, more readings would not"


def answer_guarded(off: float, error: float, allowed: float, risk: float) -> Answer:
    """Return the answer with a guard band on both sides of the border.

    Source: JCGM 106:2012, clause 8.
    """
    band = guard_band(error, risk)
    if abs(off) <= allowed - band:
        return Answer.MEETS
    return Answer.FAILS if abs(off) >= allowed + band else Answer.NOT_SHOWN


def _say_answer(answer: Answer) -> str:
    if answer == Answer.MEETS:
        return "inside the tolerance"
    if answer == Answer.FAILS:
        return "outside the tolerance"
    return "too near the border for this tape"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is each single piece inside the tolerance, as far as the tape can tell?",
    "A reading is held against the tolerance with a guard band: its standard uncertainty (the "
    "tape's step and the hand) times the normal quantile of the shop's risk, 1.645 at 5 %. Within "
    "the band it is not shown.",
    "JCGM 106:2012, clauses 7 and 8",
    judge,
    "u² = (step of the tape)² / 12 + (repeatability of the hand)² / readings\n"
    "guard band = z(1 − risk) × u\n"
    "chance inside = Φ((tolerance − off) / u) − Φ((−tolerance − off) / u)",
)
