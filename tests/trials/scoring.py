"""What is counted over simulated rounds."""

from collections import Counter
from dataclasses import dataclass, field, replace
from itertools import pairwise

from scipy import special

from blankbook.records.model import Prior, Shop, shop_defaults
from blankbook.results.causes.point_likelihood import CUT_SHARE
from blankbook.results.judge_blank import judge
from blankbook.results.make_case import make_case
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import NOTHING_LEARNED, Judged, Learned, Result
from blankbook.words.answers import Advice, Answer
from blankbook.words.causes import CAUSES
from trials.shops import shop, simulate
from trials.worlds import EIGHTH, IN, POINTS, Plan, Truth, World, charted

SCALE = 1_000_000
"""Chances are counted in whole millionths, so that counts of several processes add up exactly."""
BINS = (0, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 1.0)
CERTAIN = 1e6
"""Degrees of freedom of a spread that is as good as known."""


@dataclass(slots=True)
class Tally:
    """Counts, which add up over processes."""

    counts: Counter[str] = field(default_factory=Counter)

    def share(self, part: str, whole: str) -> float:
        """Return a share, or 0 where there is nothing to share."""
        return self.counts[part] / self.counts[whole] if self.counts[whole] else 0.0

    def stated(self, kind: str, chance: float, came: float) -> None:
        """Add a stated chance, and what came of it: 0 or 1, or a true share."""
        place = max(at for at, low in enumerate(BINS[:-1]) if chance >= low)
        self.counts[f"{kind} bin {place}"] += 1
        self.counts[f"{kind} bin {place} stated"] += round(chance * SCALE)
        self.counts[f"{kind} bin {place} came"] += round(came * SCALE)


def run(
    seed: int, rounds: int, plan: Plan | None = None, world: World | None = None, cause: str = "",
    first: int = 0,
) -> Tally:  # fmt: skip
    """Return the counts of *rounds* simulated rounds; round k has the seed (*seed*, k).

    Without a plan one to two pieces of each size come in one or two colours; without a world styles
    are as the core believes.
    """
    import numpy as np

    tally = Tally()
    own = shop()
    for number in range(first, first + rounds):
        rng = np.random.default_rng((seed, number))
        each, colours = int(rng.integers(1, 3)), int(rng.integers(1, 3))
        bought = plan or Plan(each=each, colours=colours)
        blank, truth = simulate(rng, bought, world or World(cut=CUT_SHARE, lots=0.0), cause)
        count(tally, judge(blank, own), truth, bought)
    return tally


def count(tally: Tally, judged: Judged, truth: Truth, plan: Plan) -> None:
    """Add one judged round to the counts."""
    tally.counts["rounds"] += 1
    sound = all(
        truth.is_sound(plan.lots, size, point, after)
        for point in judged.case.shop.deciding_points
        for size, after in _asked(plan)
    )
    kind = "sound" if sound else "unsound"
    tally.counts[f"style {kind}"] += 1
    tally.counts[f"style {kind} approved"] += judged.verdict.advice == Advice.APPROVED
    wrong = 0
    for result in (*judged.of("size_against_chart"), *judged.of("grade_steps")):
        if result.numbers:
            wrong += _count_answer(tally, result, truth, plan)
    tally.counts["style sound with a wrong fail"] += sound and wrong > 0
    _count_washing(tally, judged, truth)
    _count_labels(tally, judged, truth)
    _count_causes(tally, judged, truth)


def _asked(plan: Plan) -> list[tuple[str, str]]:
    sizes = plan.sizes
    return [*((size, "") for size in sizes), *pairwise(sizes)]


def _count_answer(tally: Tally, result: Result, truth: Truth, plan: Plan) -> bool:
    """Count limits, answer and chance of a size or a step; say whether it fails wrongly."""
    kind = "step" if result.next_size else "size"
    ends = (result.next_size, result.size) if result.next_size else (result.size, "")
    true = truth.off(plan.lots, ends[0], result.point)
    number = result.number(Quantity.OFF_THE_CHART)
    if result.next_size:
        true -= truth.off(plan.lots, result.size, result.point)
        true += charted(result.next_size, result.point) - charted(result.size, result.point)
        number = result.number(Quantity.STEP)
    assert number
    assert number.low is not None
    assert number.high is not None
    tally.counts[f"{kind} limits"] += 2
    tally.counts[f"{kind} limits held"] += (number.low <= true) + (true <= number.high)
    sound = truth.is_sound(plan.lots, result.size, result.point, result.next_size)
    state = "sound" if sound else "unsound"
    tally.counts[f"{kind} {state}"] += 1
    tally.counts[f"{kind} {state} {result.answer}"] += 1
    chance = result.number(Quantity.SOUND_CHANCE)
    assert chance
    tally.stated(kind, chance.value, sound)
    if inside := result.number(Quantity.SHARE_INSIDE):
        tally.stated("inside", inside.value, _share_inside(truth, true, result.point))
    return sound and result.answer == Answer.FAILS


def _share_inside(truth: Truth, off: float, point: str) -> float:
    """Return the share of pieces that truly read inside the tolerance."""
    reading = EIGHTH**2 / 12 + (IN / 16) ** 2
    deviation = (truth.deviations[point] ** 2 + reading) ** 0.5
    low, high = ((end * shop_defaults.TOLERANCE[point] - off) / deviation for end in (-1, 1))
    return float(special.ndtr(high) - special.ndtr(low))


def _count_washing(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("washing"):
        number = result.number(Quantity.CHANGE)
        if number is None or number.low is None or number.high is None:
            continue
        true = truth.changes[result.point]
        tally.counts["washing limits"] += 2
        tally.counts["washing limits held"] += (number.low <= true) + (true <= number.high)


def _count_labels(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("label"):
        right = result.number(Quantity.RIGHT_TAG_CHANCE)
        assert right
        is_right = truth.really[f"{result.round}/{result.piece}"] == result.size
        tally.stated("tag", right.value, is_right)
        state = "right" if is_right else "wrong"
        tally.counts[f"tag {state}"] += 1
        tally.counts[f"tag {state} {result.answer}"] += 1


def _count_causes(tally: Tally, judged: Judged, truth: Truth) -> None:
    odds: dict[str, float] = {}
    for one in judged.case.posterior.weighed:
        odds[one.cause] = odds.get(one.cause, 0.0) + one.chance
    for cause, chance in odds.items():
        tally.stated("cause", chance, cause == truth.cause)
    if truth.cause not in CAUSES:
        return
    first = max(odds, key=lambda cause: odds[cause]) == truth.cause
    told = told_first(judged, truth)
    tally.counts[f"cause {truth.cause}"] += 1
    tally.counts[f"cause {truth.cause} first"] += first
    tally.counts[f"cause {truth.cause} told"] += told
    tally.counts[f"cause {truth.cause} first of told"] += first and told


def told_first(judged: Judged, truth: Truth) -> bool:
    """Say whether a judge who was told the true spread ranks the true cause first."""
    case = make_case(judged.blank, judged.case.shop, knowing(truth, judged.case.shop))
    odds: dict[str, float] = {}
    for one in case.posterior.weighed:
        odds[one.cause] = odds.get(one.cause, 0.0) + one.chance
    return max(odds, key=lambda cause: odds[cause]) == truth.cause


def knowing(truth: Truth, own: Shop) -> Learned:
    """Return what a judge knows who was told the true spread, and else has the same beliefs."""
    known = {point: Prior(truth.deviations[point], CERTAIN) for point in POINTS}
    lots = {p: own.lot_spread * own.spread[p].deviation for p in POINTS}
    return replace(NOTHING_LEARNED, spread=known, between_lots=lots)
