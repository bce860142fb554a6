"""The measured pieces of a delivery against the approved round, and the steps between its sizes.

A piece with a wrong tag is bad and left out here: it says nothing of the size on its tag.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from blankbook.records.model import Delivery, Round
from blankbook.results.chart_values import charted_length
from blankbook.results.checks.grade_steps import charted_step, step_limits, step_word
from blankbook.results.deliveries.reference_round import approved_round
from blankbook.results.evidence import (
    Sample,
    chart_for,
    size_sample,
    tolerance,
)
from blankbook.results.limits import Limits
from blankbook.results.methods.equivalence import Comparison, compare_with_margin
from blankbook.results.over_lots.lot_history import MOVE_MARGIN
from blankbook.results.result_types import Case
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class PointComparison:
    """One point of a delivery against the approved round, millimetres."""

    point: str
    size: str
    """Empty for all sizes together."""
    before: int
    now: int
    """How many pieces the two means rest on, ``before`` and ``now``."""
    margin: float
    moved: Comparison


@dataclass(frozen=True, slots=True)
class DeliveredStep:
    """The growth between two sizes of one delivery, millimetres."""

    point: str
    small: str
    large: str
    asked: float | None
    found: Limits
    word: str
    """The word of the check of grade steps; empty where it is not settled."""


def point_comparisons(case: Case, delivery: Delivery) -> list[PointComparison]:
    """Return every point that a delivery and the approved round have, as they were measured."""
    before, now = approved_round(case.blank, delivery), delivery.as_tagged
    return compare_rounds(case, before, now, as_measured) if before and now else []


Apart = Callable[[Case, Sample, Sample], float]
"""How far a size is from what it was, millimetres: the later sample less the earlier."""


def as_measured(_case: Case, old: Sample, new: Sample) -> float:
    """Return how far a size is from what it was, whatever a chart says."""
    return new.mean - old.mean


def beside_charts(case: Case, old: Sample, new: Sample) -> float:
    """Return how far a size has moved from its chart, where both days had one; else as measured."""
    asked = [
        charted_length(chart_for(case, sample.round), sample.size, sample.point)
        for sample in (old, new)
    ]
    if asked[0] is None or asked[1] is None:
        return new.mean - old.mean
    return (new.mean - asked[1]) - (old.mean - asked[0])


def compare_rounds(case: Case, before: Round, now: Round, apart: Apart) -> list[PointComparison]:
    """Return every point that both rounds have: all sizes together, then each size."""
    found = []
    for point in POINTS:
        pairs = [*_pairs(case, before, now, point)]
        rows = [_compared(case, point, [pair], pair[0].size, apart) for pair in pairs]
        if len(pairs) > 1:
            rows.insert(0, _compared(case, point, pairs, "", apart))
        found += rows
    return found


def _pairs(case: Case, before: Round, now: Round, point: str) -> Iterator[tuple[Sample, Sample]]:
    for size in case.blank.style.sizes:
        old = size_sample(before, size, point, case.posterior.aside)
        new = size_sample(now, size, point)
        if old and new:
            yield old, new


def _compared(
    case: Case, point: str, pairs: list[tuple[Sample, Sample]], size: str, apart: Apart
) -> PointComparison:
    """Return the difference of the means: of one size, or over sizes weighed by their pieces.

    The weights are those that leave the least error: the inverse of 1/before + 1/now.
    """
    spread = case.spreads[point]
    weights = [1 / (1 / len(old.values) + 1 / len(new.values)) for old, new in pairs]
    moves = [apart(case, old, new) for old, new in pairs]
    difference = sum(w * by for w, by in zip(weights, moves, strict=True)) / sum(weights)
    square = spread.deviation**2 / sum(weights)
    if pairs[0][0].round.by != pairs[0][1].round.by:
        square += 2 * spread.people**2  # two people, each with their own hand
    margin = MOVE_MARGIN * tolerance(case, chart_for(case, pairs[0][1].round), point)
    moved = compare_with_margin(difference, square**0.5, spread.freedom, margin, case.shop.risk)
    counts = [sum(len(pair[side].values) for pair in pairs) for side in (0, 1)]
    return PointComparison(point, size, counts[0], counts[1], margin, moved)


def delivered_steps(case: Case, delivery: Delivery) -> list[DeliveredStep]:
    """Return the growth between neighbouring sizes that were both measured, at graded points."""
    now = delivery.as_tagged
    if now is None:
        return []
    return [
        _step(case, small, large)
        for point in POINTS
        if POINTS[point].step
        for low, high in pairwise(case.blank.style.sizes)
        if (small := size_sample(now, low, point)) and (large := size_sample(now, high, point))
    ]


def _step(case: Case, small: Sample, large: Sample) -> DeliveredStep:
    point = small.point
    found = step_limits(small, large, case.spreads[point], case.shop.risk)
    asked = charted_step(case, small, large)
    usual, allowed = case.shop.step[point], case.shop.step_tolerance[point]
    word = step_word(found, asked, usual, allowed)
    return DeliveredStep(point, small.size, large.size, asked, found, word)
