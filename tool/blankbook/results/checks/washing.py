"""What does washing do to the size?"""

from collections.abc import Iterator
from statistics import fmean

from blankbook.records.model import Piece, Prior, Round
from blankbook.results.comparable_lines import with_all_lines
from blankbook.results.evidence import is_deciding, newest_first
from blankbook.results.limits import Limits, answer_inside, limits, pieces_to_settle
from blankbook.results.number_words import say_counted, say_more, say_percent, say_sentences
from blankbook.results.piece_spread import mean_reading, moderate, pool, resolution_uncertainty
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "washing"
_NOT_WASHED = Result(KEY, Answer.NOT_TESTED, "no piece was measured again after washing")


def dimensional_change(before: float, after: float) -> float:
    """Return the change in percent of *before*; negative is shrinkage.

    Source: ISO 5077:2007, 100 (after - before) / before; AATCC TM135 and TM150 have the same.

    >>> round(dimensional_change(500, 482), 3)
    -3.6
    """
    return 100 * (after - before) / before


def piece_changes(round_: Round, point: str, cycles: int) -> Iterator[tuple[Piece, float]]:
    """Yield each piece that was measured before and after *cycles*, with its change in percent."""
    for piece in round_.pieces:
        for washed in piece.washed:
            if washed.cycles == cycles and point in washed.readings and point in piece.received:
                before, after = (
                    mean_reading(piece.received[point]),
                    mean_reading(washed.readings[point]),
                )
                yield piece, dimensional_change(before, after)


def washed_round(case: Case) -> Round | None:
    """Return the newest round with washed readings."""
    rounds = newest_first(case)
    return next((round_ for round_ in rounds if any(piece.washed for piece in round_.pieces)), None)


def judge(case: Case) -> list[Result]:
    """Return one answer per point and number of cycles, from the newest round that was washed."""
    # A percentage holds along any line, so rounds measured along another line count here.
    round_ = washed_round(with_all_lines(case))
    if round_ is None:
        return [_NOT_WASHED]
    stages = sorted({washed.cycles for piece in round_.pieces for washed in piece.washed})
    found = []
    for point in POINTS:
        tested = [stage for stage in stages if any(piece_changes(round_, point, stage))]
        found += [_judge_point(case, round_, point, stage, stage == tested[-1]) for stage in tested]
    return found or [_NOT_WASHED]


def change_spread(case: Case, round_: Round, point: str, seen: list[float]) -> Spread:
    """Return the moderated spread of single pieces' changes, in percent.

    The shop's assumption is joined with the uncertainty of the two readings behind each change.
    """
    hand = case.spreads[point].hand
    tape = resolution_uncertainty(round_.tape.reads_to.mm)
    lengths = [
        mean_reading(piece.received[point]) for piece in round_.pieces if point in piece.received
    ]
    percent = 100 * 2**0.5 / fmean(lengths)
    tape, hand = percent * tape, percent * hand
    assumed = case.shop.wash_spread
    prior = Prior((assumed.deviation**2 + tape**2 + hand**2) ** 0.5, assumed.worth)
    deviation, freedom = moderate(prior, pool([seen]))
    return Spread(deviation, freedom, assumed.worth / freedom, "shop", tape, hand)


def _judge_point(case: Case, round_: Round, point: str, cycles: int, last: bool) -> Result:
    paired = list(piece_changes(round_, point, cycles))
    seen = [change for _, change in paired]
    spread = change_spread(case, round_, point, seen)
    error = spread.deviation / len(seen) ** 0.5
    change = limits(fmean(seen), error, spread.freedom, case.shop.risk)
    direction = POINTS[point].direction
    allowed = case.shop.wash_limit[direction]
    answer = answer_inside(change, allowed)
    more = None
    if answer == Answer.NOT_SHOWN:
        more = pieces_to_settle(change, (-allowed, allowed), spread.deviation, case.shop.risk)
    return Result(
        KEY,
        answer,
        _reason(point, cycles, change, allowed, answer, more),
        word="grows" if change.mean > 0 else "shrinks",
        point=point,
        lot=", ".join(sorted({piece.lot for piece, _ in paired if piece.lot})),
        cycles=cycles,
        round=round_.key,
        numbers=(
            Number(Quantity.CHANGE, change.mean, "%", change.low, change.high),
            Number(Quantity.LIMIT, allowed, "%"),
            Number(Quantity.PIECES, len(seen), "pieces"),
        ),
        piece_values=tuple(seen),
        more_pieces=more,
        deciding=last and is_deciding(case, point),
    )


def _reason(
    point: str, cycles: int, change: Limits, allowed: float, answer: Answer, more: int | None
) -> str:
    washes = say_counted(cycles, "wash")
    moves = "grows" if change.mean > 0 else "shrinks"
    span = f"the change lies between {change.low:+.1f} and {change.high:+.1f} %"
    says = f"{POINTS[point].name} {moves} by {say_percent(abs(change.mean))} after {washes}"
    limit = f"the limit of {say_percent(allowed)}"
    if answer == Answer.MEETS:
        return say_sentences(f"{says}, inside {limit}", span)
    if answer == Answer.FAILS:
        return say_sentences(f"{says}, past {limit}", span)
    return say_sentences(f"{says}; {limit} is not settled", span, say_more(more, "washed"))


def reason_to_wait(results: list[Result]) -> str:
    """Return why washing can wait, or "" where it should not wait.

    Sizes that measure alike as received fail already; a wash would cost pieces and decide nothing.
    """
    pairs = [
        f"{result.size} and {result.next_size}"
        for result in results
        if result.check == "grade_steps"
        and result.deciding
        and result.word in {"collapsed", "reversed"}
    ]
    if not pairs:
        return ""
    return f"not worth testing yet: {', '.join(pairs)} cannot be told apart as received"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How much do the pieces change in washing, along and across?",
    "Each piece is measured before and after; the change is 100 (after - before) / before, in "
    "percent, negative where it shrinks. The mean of the pieces' percentages, with its "
    "one-sided limits, is held against the shop's limit for that direction.",
    "ISO 5077:2007; AATCC TM150 for garments; paired differences, Student's t",
    judge,
    "change = 100 × (after − before) / before\nlimits = mean change ± t(1 − risk; ν) × s / √n",
)
