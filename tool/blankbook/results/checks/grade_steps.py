"""Does each size grow from the one below as it should?"""

from itertools import pairwise

from blankbook.results.evidence import (
    Sample,
    chart_for,
    charted_length,
    is_deciding,
    measured_points,
    measured_sizes,
    newest_pair,
)
from blankbook.results.limits import Limits, limits, pieces_to_settle
from blankbook.results.number_words import say_length, say_length_change, say_limits, say_more
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "grade_steps"


def neighbouring_sizes(case: Case) -> list[tuple[str, str]]:
    """Return the neighbouring labels that were both measured; a size never bought is skipped."""
    order = case.blank.style.sizes
    sizes = measured_sizes(case)
    return [
        (small, large)
        for small, large in pairwise(sizes)
        if order.index(large) == order.index(small) + 1
    ]


def judge(case: Case) -> list[Result]:
    """Return one answer per pair of neighbouring labels and point."""
    found = [
        _judge_pair(case, *both)
        for small, large in neighbouring_sizes(case)
        for point in measured_points(case)
        if POINTS[point].step and (both := newest_pair(case, small, large, point))
    ]
    return found or [_not_measured(case)]


def _not_measured(case: Case) -> Result:
    reason = "no two neighbouring sizes were measured on one occasion"
    return Result(KEY, Answer.NOT_TESTED, reason, deciding=len(case.blank.style.sizes) > 1)


def step_limits(small: Sample, large: Sample, spread: Spread, risk: float) -> Limits:
    """Return the growth from *small* to *large* with its limits, millimetres."""
    error = spread.deviation * (1 / len(small.values) + 1 / len(large.values)) ** 0.5
    return limits(large.mean - small.mean, error, spread.freedom, risk)


def charted_step(case: Case, small: Sample, large: Sample) -> float | None:
    """Return the step that the chart of the round asks for, if it has both sizes."""
    chart = chart_for(case, large.round)
    low = charted_length(chart, small.size, small.point)
    high = charted_length(chart, large.size, large.point)
    return None if low is None or high is None else high - low


def _judge_pair(case: Case, small: Sample, large: Sample) -> Result:
    spread = case.spreads[small.point]
    step = step_limits(small, large, spread, case.shop.risk)
    asked = charted_step(case, small, large)
    usual = case.shop.step[small.point]
    allowed = case.shop.step_tolerance[small.point]
    word = step_word(step, asked, usual, allowed)
    answer = _ANSWERS.get(word, Answer.NOT_SHOWN)
    more = None
    if answer == Answer.NOT_SHOWN:
        fewest = min(len(small.values), len(large.values))
        margin = _margin(step.mean, asked, usual, allowed)
        risk = case.shop.risk
        more = pieces_to_settle(margin, spread.deviation, spread.freedom, fewest, risk, groups=2)
    return Result(
        KEY,
        answer,
        _reason(case, small, large, step, asked, word, more),
        word=word,
        size=small.size,
        next_size=large.size,
        point=small.point,
        lot=", ".join(sorted({*small.lots, *large.lots})),
        round=large.round.key,
        numbers=_numbers(step, asked, usual, len(small.values) + len(large.values)),
        more_pieces=more,
        deciding=is_deciding(case, small.point),
    )


def _numbers(step: Limits, asked: float | None, usual: float, pieces: int) -> tuple[Number, ...]:
    against = Number(Quantity.USUAL_STEP, usual, "mm")
    if asked is not None:
        against = Number(Quantity.CHARTED_STEP, asked, "mm")
    return (
        Number(Quantity.STEP, step.mean, "mm", step.low, step.high),
        against,
        Number(Quantity.PIECES, pieces, "pieces"),
    )


_ANSWERS = {
    "true": Answer.MEETS,
    "graded": Answer.MEETS,
    "short": Answer.FAILS,
    "long": Answer.FAILS,
    "collapsed": Answer.FAILS,
    "reversed": Answer.FAILS,
}


def step_word(step: Limits, asked: float | None, usual: float, allowed: float) -> str:
    """Return the word for a step whose limits settle it, and "" where they do not.

    With a chart: reversed, collapsed (under half the charted step), short, long or true. Without
    one there is no promise to hold it to, so the question is only whether it is graded: more than
    half the usual step. A chart that asks for no growth has nothing to collapse or to reverse.
    """
    full = usual if asked is None else asked
    if full > 0 and step.high < 0:
        return "reversed"
    if full > 0 and step.high < full / 2:
        return "collapsed"
    if asked is None:
        return "graded" if step.low > full / 2 else ""
    least, most = sound_steps(asked, allowed)
    if step.high < least:
        return "short"
    if step.low > most:
        return "long"
    return "true" if least <= step.low and step.high <= most else ""


def sound_steps(asked: float, allowed: float) -> tuple[float, float]:
    """Return the smallest and the largest step that is sound, where the chart asks for *asked*.

    However wide the tolerance, what is under half a step is not one.
    """
    least = asked - allowed
    return (max(least, asked / 2) if asked > 0 else least), asked + allowed


def _margin(mean: float, asked: float | None, usual: float, allowed: float) -> float:
    """Return the distance from the step to the nearest border that would change its word."""
    if asked is None:
        return abs(mean - usual / 2)
    return min(abs(mean - border) for border in sound_steps(asked, allowed))


def _reason(
    case: Case,
    small: Sample,
    large: Sample,
    step: Limits,
    asked: float | None,
    word: str,
    more: int | None,
) -> str:
    unit = case.shop.unit
    name = POINTS[small.point].name
    pair = f"{small.size} to {large.size}"
    against = "no chart" if asked is None else f"charted {say_length_change(asked, unit)}"
    by = f"{say_length(step.mean, unit)} ({against}; {say_limits(step, unit)})"
    grows = f"{pair} {name} grows by {by}"
    if word in {"collapsed", "reversed"}:
        what = "is not graded" if word == "collapsed" else "runs backwards"
        changes = (
            f"a step of {say_length_change(step.mean, unit)} ({against}; {say_limits(step, unit)})"
        )
        return f"{pair} {name} {what}: {changes}"
    if not word:
        return f"{grows}: not settled; {say_more(more, 'of each size')}"
    return f"{grows}: {word}"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Does each size grow from the one below it as the chart promises?",
    "The difference of two neighbouring sizes' means, with its one-sided limits, is held "
    "against the charted step: inside the step tolerance, and at least half of it, it is true, "
    "otherwise short or long; collapsed when shown to be under half the step, reversed when shown "
    "to be under zero. Without a chart the question is only whether it is graded: more than half "
    "the usual step.",
    "difference of two means, Student's t; moderated variance, Smyth 2004",
    judge,
    "limits = (mean of the larger − mean of the smaller) ± t(1 − risk; ν) × s × √(1/n₁ + 1/n₂)",
)
