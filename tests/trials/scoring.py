"""What is counted over simulated rounds."""

from collections import Counter
from dataclasses import dataclass, field, replace

from blankbook.results.causes.explanations import likely_causes
from blankbook.results.checks.grade_steps import sound_steps
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Judged, Number
from blankbook.words.answers import Answer
from trials.plans import SIZES, Plan, Truth, charted
from trials.shops import shop, simulate

SOUND_CAUSES = {"as_charted", "not_graded", "style_runs", "lot_off", "exchanged"}
"""Causes under which every piece of a label comes from the same cut."""
CERTAIN = 1e9
"""Degrees of freedom of a spread that is as good as known."""


@dataclass(slots=True)
class Tally:
    """Counts, which add up over processes."""

    counts: Counter[str] = field(default_factory=Counter)

    def share(self, part: str, whole: str) -> float:
        """Return a share, or 0 where there is nothing to share."""
        return self.counts[part] / self.counts[whole] if self.counts[whole] else 0.0


def run(seed: int, rounds: int, plan: Plan, first: int = 0) -> Tally:
    """Return the counts of *rounds* simulated rounds; round k has the seed (*seed*, k)."""
    import numpy as np

    tally = Tally()
    own = shop()
    for number in range(first, first + rounds):
        rng = np.random.default_rng((seed, number))
        bought = plan
        if not plan.cause:
            each, colours = int(rng.integers(1, 3)), int(rng.integers(1, 3))
            bought = Plan(plan.sizes, each, colours)
        blank, truth = simulate(rng, bought)
        count(tally, judge(blank, own), truth)
    return tally


def count(tally: Tally, judged: Judged, truth: Truth) -> None:
    """Add one judged round to the counts."""
    tally.counts["rounds"] += 1
    if truth.cause in SOUND_CAUSES:
        _count_sizes(tally, judged, truth)
        _count_steps(tally, judged, truth)
    _count_washing(tally, judged, truth)
    _count_labels(tally, judged, truth)
    _count_explanations(tally, judged, truth)


def _covered(tally: Tally, kind: str, number: Number | None, true: float) -> None:
    assert number is not None
    assert number.low is not None
    assert number.high is not None
    tally.counts[f"{kind} limits"] += 2
    tally.counts[f"{kind} limits held"] += (number.low <= true) + (true <= number.high)


def _answered(tally: Tally, kind: str, answer: Answer, sound: bool) -> None:
    state = "sound" if sound else "unsound"
    tally.counts[f"{kind} {state}"] += 1
    tally.counts[f"{kind} {state} {answer}"] += 1


def _count_sizes(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("size_against_chart"):
        off = result.number(Quantity.OFF_THE_CHART)
        chart, allowed = result.number(Quantity.CHART), result.number(Quantity.TOLERANCE)
        if off and chart and allowed:
            true = truth.means[result.size, result.point] - chart.value
            _covered(tally, "size", off, true)
            _answered(tally, "size", result.answer, abs(true) <= allowed.value)


def _count_steps(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("grade_steps"):
        step = result.number(Quantity.STEP)
        true = truth.means[result.next_size, result.point] - truth.means[result.size, result.point]
        _covered(tally, "step", step, true)
        least, most = _sound_steps(judged.case, result.point)
        _answered(tally, "step", result.answer, least <= true <= most)


def _sound_steps(case: Case, point: str) -> tuple[float, float]:
    """Return the smallest and the largest sound step; the chart's are all alike."""
    asked = charted(SIZES[1], point) - charted(SIZES[0], point)
    return sound_steps(asked, case.shop.step_tolerance[point])


def _count_washing(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("washing"):
        true = truth.changes[result.point]
        limit = result.number(Quantity.LIMIT)
        assert limit
        _covered(tally, "washing", result.number(Quantity.CHANGE), true)
        _answered(tally, "washing", result.answer, abs(true) <= limit.value)


def _count_labels(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("label"):
        right = result.number(Quantity.RIGHT_TAG_CHANCE)
        assert right
        wrong = truth.really[result.piece] != result.size
        tenth = min(int(right.value * 10), 9)
        tally.counts[f"label tenth {tenth}"] += 1
        tally.counts[f"label tenth {tenth} right"] += not wrong
        tally.counts[f"label tenth {tenth} stated"] += round(right.value * 1_000_000)


def _count_explanations(tally: Tally, judged: Judged, truth: Truth) -> None:
    weighed = likely_causes(judged.case)
    for explanation in weighed:
        tenth = min(int(explanation.odds * 10), 9)
        tally.counts[f"cause tenth {tenth}"] += 1
        tally.counts[f"cause tenth {tenth} right"] += explanation.key == truth.cause
        tally.counts[f"cause tenth {tenth} stated"] += round(explanation.odds * 1_000_000)
    told = likely_causes(told_the_spread(judged.case, truth))
    first, best = weighed[0].key == truth.cause, told[0].key == truth.cause
    _count_first(tally, "cause", first, best)
    if truth.cause == "not_graded":
        _count_missing_step(tally, judged, truth, first, best)


def told_the_spread(case: Case, truth: Truth) -> Case:
    """Return the case of a judge who knows the true spread, and else has the same beliefs."""
    known = {
        point: replace(case.spreads[point], deviation=deviation, freedom=CERTAIN)
        for point, deviation in truth.deviations.items()
    }
    return replace(case, spreads={**case.spreads, **known})


def _count_first(tally: Tally, key: str, first: bool, best: bool) -> None:
    tally.counts[f"{key} ranked"] += 1
    tally.counts[f"{key} first"] += first
    tally.counts[f"{key} first when told"] += best
    tally.counts[f"{key} first both"] += first and best


def _count_missing_step(
    tally: Tally, judged: Judged, truth: Truth, first: bool, best: bool
) -> None:
    """Count a step that is missing; one that the cut has made sound after all is none."""
    point, _, pair = truth.detail.partition(" between ")
    small, _, large = pair.partition(" and ")
    least, _ = _sound_steps(judged.case, point)
    if truth.means[large, point] - truth.means[small, point] >= least:
        return
    off = {size: abs(truth.means[size, point] - charted(size, point)) for size in (small, large)}
    far = max(off, key=lambda size: off[size])
    step = _fails(judged, "grade_steps", (point, small, large))
    size = _fails(judged, "size_against_chart", (point, far, ""))
    tally.counts[f"missing {point} shown"] += step
    tally.counts[f"missing {point} either way"] += step or size or first
    if off[far] > judged.case.shop.tolerance[point]:
        tally.counts[f"missing {point} off"] += 1
        tally.counts[f"missing {point} off shown"] += size
    _count_first(tally, f"missing {point}", first, best)


def _fails(judged: Judged, check: str, place: tuple[str, str, str]) -> bool:
    return any(
        (result.point, result.size, result.next_size) == place and result.answer == Answer.FAILS
        for result in judged.of(check)
    )
