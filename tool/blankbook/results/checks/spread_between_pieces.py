"""Do pieces of one size agree with each other well enough for the tolerance?"""

from blankbook.results.evidence import chart_for, is_deciding, measured_points, tolerance
from blankbook.results.limits import deviation_limits, freedom_to_settle
from blankbook.results.number_words import say_length, say_more, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "spread"


def judge(case: Case) -> list[Result]:
    """Return one answer per point that was measured."""
    return [_judge_point(case, point) for point in measured_points(case)]


def _judge_point(case: Case, point: str) -> Result:
    spread = case.spreads[point]
    low, high = deviation_limits(spread.deviation, spread.freedom, case.shop.risk)
    chart = chart_for(case, case.round) if case.round else None
    carried = tolerance(case, chart, point) / 2
    answer = Answer.NOT_SHOWN
    if spread.assumed == 1.0:
        answer = Answer.NOT_TESTED
    elif high <= carried:
        answer = Answer.MEETS
    elif low > carried:
        answer = Answer.FAILS
    more = None
    if answer == Answer.NOT_SHOWN:
        more = freedom_to_settle(spread.deviation, spread.freedom, carried, case.shop.risk)
    return Result(
        KEY,
        answer,
        _reason(case, point, answer, more),
        point=point,
        numbers=(
            Number(Quantity.SPREAD, spread.deviation, "mm", low, high),
            Number(Quantity.CARRIED_SPREAD, carried, "mm"),
            Number(Quantity.DEGREES_OF_FREEDOM, spread.freedom, "count"),
            Number(Quantity.SHARE_FROM_ELSEWHERE, spread.assumed, "share"),
            Number(Quantity.READING_PART, spread.reading, "mm"),
        ),
        more_pieces=more,
        deciding=is_deciding(case, point),
    )


_BASES = {"shop": "the shop's assumption", "ledger": "the spread of the other blanks"}
_SHARES = {"shop": "is assumed", "ledger": "comes from other blanks"}


def _reason(case: Case, point: str, answer: Answer, more: int | None) -> str:
    spread = case.spreads[point]
    name = POINTS[point].name
    unit = case.shop.unit
    if answer == Answer.NOT_TESTED:
        return say_sentences(
            f"{name}: no two pieces share size, lot and colour",
            f"{_BASES[spread.origin]} stands in: {say_length(spread.deviation, unit)}",
        )
    share = f"{100 * spread.assumed:.0f} % of that {_SHARES[spread.origin]}"
    differ = say_length(spread.deviation, unit)
    says = f"{name}: pieces of one size differ by {differ} (one standard deviation)"
    if answer != Answer.NOT_SHOWN:
        return say_sentences(says, share)
    carries = "whether the tolerance carries that is not settled"
    what = "beyond the first of a size, colour and lot"
    return say_sentences(says, share, carries, say_more(more, what))


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Do pieces of one size agree with each other well enough for the tolerance?",
    "The standard deviation of single pieces, pooled within size, colour and lot and moderated "
    "towards what the ledger's other blanks show, or else the shop assumes, is held against half "
    "the tolerance: at that spread, 95 % of pieces of a size that is as charted stay inside.",
    "moderated variance, Smyth 2004; chi-square limits",
    judge,
    "s² = (ν₀ × s₀² + squares within groups) / (ν₀ + ν within groups)\n"
    "limits of s = √(ν × s² / X(1 − risk; ν)) and √(ν × s² / X(risk; ν))",
)
