"""Does each size grow from the one below as it should?"""

from itertools import pairwise
from math import inf

from blankbook.results.chart_values import charted_length, sound_steps
from blankbook.results.checks.size_against_chart import say_alone
from blankbook.results.evidence import (
    Sample,
    chart_for,
    is_deciding,
    measured_points,
    measured_sizes,
    newest_pair,
    shares_apart,
)
from blankbook.results.limits import (
    Limits,
    chance_between,
    is_inside,
    is_outside,
    limits,
    pieces_to_settle,
)
from blankbook.results.number_words import (
    say_length,
    say_length_change,
    say_limits,
    say_more,
    say_sentences,
)
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
    square = spread.deviation**2 * (1 / len(small.values) + 1 / len(large.values))
    square += shares_apart(small.shares, large.shares) * spread.between_lots**2
    return limits(large.mean - small.mean, square**0.5, spread.freedom, risk)


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
    sound = case.posterior.sound[small.point, small.size, large.size]
    word = step_word_together(step, asked, usual, allowed, sound, case.shop.risk)
    answer = _ANSWERS.get(word, Answer.NOT_SHOWN)
    more = None
    if answer == Answer.NOT_SHOWN:
        believed = case.posterior.limits(small.point, small.size, large.size, case.shop.risk)
        borders = step_borders(asked, usual, allowed)
        more = pieces_to_settle(believed, borders, spread.deviation, case.shop.risk, groups=2)
    return Result(
        KEY,
        answer,
        _reason(case, small, large, step, sound, word, more),
        word=word,
        size=small.size,
        next_size=large.size,
        point=small.point,
        lot=", ".join(sorted({*small.lots, *large.lots})),
        round=large.round.key,
        numbers=(
            Number(Quantity.STEP, step.mean, "mm", step.low, step.high),
            Number(Quantity.USUAL_STEP, usual, "mm")
            if asked is None
            else Number(Quantity.CHARTED_STEP, asked, "mm"),
            Number(Quantity.SOUND_CHANCE, sound, "chance"),
            Number(Quantity.PIECES, len(small.values) + len(large.values), "pieces"),
        ),
        more_pieces=more,
        deciding=is_deciding(case, small.point),
    )


_FAIL = ("short", "long", "collapsed", "reversed")
_ANSWERS = {"true": Answer.MEETS, "graded": Answer.MEETS} | dict.fromkeys(_FAIL, Answer.FAILS)


def step_word_together(
    step: Limits, asked: float | None, usual: float, allowed: float, sound: float, risk: float
) -> str:
    """Return the word for a step, and "" where all readings together do not settle it.

    It is true where they make it sound but for the *risk*, and its own pieces alone likelier than
    not; graded, where no chart says what its sizes measure, where its own pieces alone make it so
    but for twice the risk.
    """
    word = step_word(step, asked, usual, allowed)
    if word in _FAIL:
        return word if sound <= 2 * risk else ""
    alone = chance_between(step, *step_borders(asked, usual, allowed))
    if sound < 1 - risk or alone < (1 - 2 * risk if asked is None else 0.5):
        return ""
    return "graded" if asked is None else "true"


def step_word(step: Limits, asked: float | None, usual: float, allowed: float) -> str:
    """Return the word for a step whose limits alone settle it, and "" where they do not.

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
    if is_outside(step, least, most):
        return "short" if step.high < least else "long"
    return "true" if is_inside(step, least, most) else ""


def step_borders(asked: float | None, usual: float, allowed: float) -> tuple[float, float]:
    """Return the smallest and the largest step that is sound, with a chart or without one."""
    return (usual / 2, inf) if asked is None else sound_steps(asked, allowed)


def _reason(
    case: Case,
    small: Sample,
    large: Sample,
    step: Limits,
    sound: float,
    word: str,
    more: int | None,
) -> str:
    unit, asked = case.shop.unit, charted_step(case, small, large)
    name = POINTS[small.point].name
    pair = f"{small.size} to {large.size}"
    chart = "" if asked is None else f"the chart says {say_length_change(asked, unit)}"
    borders = step_borders(
        asked, case.shop.step[small.point], case.shop.step_tolerance[small.point]
    )
    span = say_limits(step, unit, *(border for border in borders if border < inf))
    if word in {"collapsed", "reversed"}:
        what = "is not graded" if word == "collapsed" else "runs backwards"
        changes = say_length_change(step.mean, unit)
        lies = f"the step lies {span}"
        return say_sentences(f"{pair} {name} {what}: a step of {changes}", chart, lies)
    inside = word not in {"true", "graded"} or is_inside(step, *borders)
    lies = say_alone("the step lies", span, sound, inside)
    says = f"{pair} {name} grows by {say_length(step.mean, unit)}: {word or 'not settled'}"
    return say_sentences(says, chart, lies, "" if word else say_more(more, "of each size"))


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Does each size grow from the one below it as the chart promises?",
    "A step is sound inside the step tolerance, and at least half of what is charted. It is true "
    "where all readings together make it sound but for the risk, and its two sizes alone likelier "
    "than not. Where the one-sided limits of the difference of the two means lie "
    "outside, and all readings say so too, it is short or long; collapsed when under half the "
    "step, reversed when under zero. Without a chart the question is only whether it is graded: "
    "more than half the usual step.",
    "difference of two means, Student's t; the model of the causes for all readings together",
    judge,
    "limits = (mean of the larger − mean of the smaller) ± t(1 − risk; ν) × s × √(1/n₁ + 1/n₂)",
)
