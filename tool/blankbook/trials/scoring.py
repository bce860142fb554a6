"""What is counted over simulated rounds."""

from collections import Counter
from dataclasses import dataclass, field

from blankbook.results.explanations import explain
from blankbook.results.frame import Judged, Number, Result
from blankbook.results.judge import judge
from blankbook.trials.shops import STEP, Plan, Truth, shop, simulate
from blankbook.words.answers import Answer
from blankbook.words.points import INCH

SOUND_CAUSES = {"as_charted", "not_graded", "style_runs", "lot_off", "exchanged"}
"""Causes under which every piece of a label comes from the same cut."""


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
        off = result.number("off the chart")
        chart, allowed = result.number("chart"), result.number("tolerance")
        if off and chart and allowed:
            true = truth.means[result.size, result.point] - chart.value
            _covered(tally, "size", off, true)
            _answered(tally, "size", result.answer, abs(true) <= allowed.value)


def _count_steps(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("grade_steps"):
        step = result.number("step")
        true = truth.means[result.next_size, result.point] - truth.means[result.size, result.point]
        _covered(tally, "step", step, true)
        charted = STEP[result.point] * float(INCH)
        allowed = judged.case.shop.step_tolerance[result.point]
        _answered(tally, "step", result.answer, abs(true - charted) <= allowed)


def _count_washing(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("washing"):
        true = truth.changes[result.point]
        limit = result.number("limit")
        assert limit
        _covered(tally, "washing", result.number("change"), true)
        _answered(tally, "washing", result.answer, abs(true) <= limit.value)


def _count_labels(tally: Tally, judged: Judged, truth: Truth) -> None:
    for result in judged.of("label"):
        right = result.number("chance that the tag is right")
        assert right
        wrong = truth.really[result.piece] != result.size
        tenth = min(int(right.value * 10), 9)
        tally.counts[f"label tenth {tenth}"] += 1
        tally.counts[f"label tenth {tenth} right"] += not wrong
        tally.counts[f"label tenth {tenth} stated"] += round(right.value * 1_000_000)


def _count_explanations(tally: Tally, judged: Judged, truth: Truth) -> None:
    weighed = explain(judged.case)
    for one in weighed:
        tenth = min(int(one.odds * 10), 9)
        tally.counts[f"cause tenth {tenth}"] += 1
        tally.counts[f"cause tenth {tenth} right"] += one.key == truth.cause
        tally.counts[f"cause tenth {tenth} stated"] += round(one.odds * 1_000_000)
    if truth.cause == "not_graded":
        _count_missing_step(tally, judged, truth, weighed[0].key)


def _count_missing_step(tally: Tally, judged: Judged, truth: Truth, first: str) -> None:
    point, _, pair = truth.detail.partition(" between ")
    small, _, large = pair.partition(" and ")
    found = any(_is_missing(result, point, small, large) for result in judged.of("grade_steps"))
    tally.counts[f"missing {point}"] += 1
    tally.counts[f"missing {point} by limits"] += found
    tally.counts[f"missing {point} by cause"] += first == "not_graded"
    tally.counts[f"missing {point} either way"] += found or first == "not_graded"


def _is_missing(result: Result, point: str, small: str, large: str) -> bool:
    place = (result.point, result.size, result.next_size)
    return place == (point, small, large) and result.answer == Answer.FAILS
