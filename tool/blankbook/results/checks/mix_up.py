"""How often would a piece of one size measure at least as large as one of the next?"""

from math import inf

from blankbook.results.checks.grade_steps import neighbouring_sizes, step_limits
from blankbook.results.evidence import Sample, is_required, newest_pair
from blankbook.results.limits import HAIR, pieces_to_settle, t_below, t_quantile
from blankbook.results.number_words import say_chance, say_more, say_sentences
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "mix_up"


def judge(case: Case) -> list[Result]:
    """Return one answer per pair of neighbouring labels and deciding point that ought to grow.

    Nobody tells two sizes apart by their neck openings, so other points are not asked about.
    """
    found = [
        _judge_pair(case, *both)
        for small, large in neighbouring_sizes(case)
        for point in case.shop.deciding_points
        if POINTS[point].step and (both := newest_pair(case, small, large, point))
    ]
    if found or not is_required(case, KEY):
        return found
    reason = "no two neighbouring sizes were measured on one occasion"
    return [Result(KEY, Answer.NOT_TESTED, reason)]


def mix_up_chance(step: float, spread: Spread, extra: float = 0.0) -> float:
    """Return the chance that a piece of the smaller label measures at least as large.

    Units: *step* and the spread in millimetres; *extra* is the variance of the two means in
    variances of one piece, 1/n1 + 1/n2.
    Source: predictive t distribution of the difference of two further pieces.
    """
    return t_below(-step / (spread.deviation * (2 + extra) ** 0.5), spread.freedom)


def _judge_pair(case: Case, small: Sample, large: Sample) -> Result:
    spread = case.spreads[small.point]
    step = step_limits(small, large, spread, case.shop.risk)
    extra = 1 / len(small.values) + 1 / len(large.values)
    chance = mix_up_chance(step.mean, spread, extra)
    # The limit of the step holds what the means are unsure of, so it is not added again.
    most = mix_up_chance(step.low, spread)
    accepted, enough = case.shop.mix_up_limit, enough_step(case, spread)
    answer = Answer.NOT_SHOWN
    # A limit that lies on the border settles it: one piece of each of two equal sizes lies there.
    if step.low >= enough - HAIR:
        answer = Answer.MEETS
    elif step.high <= enough + HAIR:
        answer = Answer.FAILS
    more = None
    if answer == Answer.NOT_SHOWN:
        more = pieces_to_settle(step, (enough, inf), spread.deviation, case.shop.risk, groups=2)
    name = POINTS[small.point].name
    says = f"a piece tagged {small.size} is no smaller than one tagged {large.size}"
    evidence = [f"{say_chance(accepted)} is accepted"]
    if answer == Answer.NOT_SHOWN:
        evidence = [f"it may be {say_chance(most)}", *evidence, say_more(more, "of each size")]
    return Result(
        KEY,
        answer,
        say_sentences(f"{name}: {say_chance(chance)} times, {says}", *evidence),
        size=small.size,
        next_size=large.size,
        point=small.point,
        lot=", ".join(sorted({*small.lots, *large.lots})),
        round=large.round.key,
        numbers=(
            Number(Quantity.MIX_UP_CHANCE, chance, "chance"),
            Number(Quantity.MOST_MIXED_UP, most, "chance"),
            Number(Quantity.ACCEPTED_CHANCE, accepted, "chance"),
        ),
        more_pieces=more,
    )


def enough_step(case: Case, spread: Spread) -> float:
    """Return the step at which the chance is just what is accepted, millimetres."""
    return t_quantile(1 - case.shop.mix_up_limit, spread.freedom) * spread.deviation * 2**0.5


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "How often would a piece of one size measure at least as large as a piece of the next?",
    "From the measured step and the spread between pieces: the chance that a random piece of the "
    "smaller label measures at least as large as a random piece of the larger one. The most that "
    "it may be follows from the lower limit of the step.",
    "predictive t distribution of a difference of two further pieces",
    judge,
    "chance = T(−step / (s × √(2 + 1/n₁ + 1/n₂)); ν)\n"
    "at most = T(−lower limit of the step / (s × √2); ν)",
)
