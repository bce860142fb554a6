"""What the next lot will be: its sizes together, and its tags.

Under each way in which the readings so far can have come about, the sizes of the next lot are
normal at a point. What belongs to one lot or to single pieces of it (a wrong tag, an odd piece, a
lot that is off) is left behind; how far lots differ is added. A size that nobody has measured is
taken as sound as often as any style is before it is measured, by the stated weights of the causes.
Shape of all arrays: ways, points, sizes. Units: millimetres; chances 0 to 1.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import inf

import numpy as np
from numpy.typing import NDArray

from blankbook.results.causes.point_likelihood import COLOUR_SHARE, CUT_SHARE
from blankbook.results.causes.suppositions import OWN_SHARE, SHIFTS
from blankbook.results.causes.weighed_ways import Weighed
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.result_types import Case
from blankbook.words.causes import CAUSES
from blankbook.words.points import POINTS

Floats = NDArray[np.float64]
WRONG_TAGS, TAGS_WORTH = 0.01, 24.0
"""How many tags are wrong, and how many pieces that belief is worth: one piece in a round of six
has a wrong tag in 6 rounds of 100, and a second one in a fifth of those (stated beliefs of ours,
as in `words.causes` and `posterior.AGAIN`), which is a beta distribution of about this worth."""
MOST_WAYS, NEGLIGIBLE = 24, 1e-3
"""So many ways at most are told apart, and none with less chance: the others hardly count."""
LEVEL, EACH = ("style_runs", "point_off"), ("size_off", "not_graded", "several_off")
"""The causes that move all sizes of a style alike, and those that move a size by itself."""


@dataclass(frozen=True, slots=True)
class NextLotPoint:
    """What is asked of the next lot at one point."""

    point: str
    allowed: Floats
    """By size: how far it may lie from the chart; infinite where no chart speaks of it."""
    half_steps: Floats
    """By size and the next one: half the charted step; infinite where none is charted."""
    reading: float
    """Variance of one reading of one piece about its size's mean."""


@dataclass(frozen=True, slots=True, eq=False)
class NextLotSizes:
    """How far each size of the next lot may lie from its chart."""

    sizes: tuple[str, ...]
    points: tuple[NextLotPoint, ...]
    """The points that decide, as far as a chart speaks of them."""
    chance: Floats
    """Of each way; they add up to one."""
    mean: Floats
    """Where each size of the next lot is expected; + is larger than charted."""
    covariance: Floats
    """Of the sizes of the next lot. Shape: ways, points, sizes, sizes."""
    fresh: Floats
    """The part of it that another lot would not share."""
    wrong_tag: float
    """The chance that any one piece carries a wrong tag."""


@dataclass(frozen=True, slots=True, eq=False)
class _AtPoint:
    """One point under one way; *unseen* marks the sizes that were not measured."""

    mean: Floats
    covariance: Floats
    fresh: Floats
    unseen: Floats


def next_lot_sizes(case: Case) -> NextLotSizes:
    """Return what is expected of the next lot; where nothing was measured, what is believed."""
    sizes, points = case.blank.style.sizes, _points(case)
    heavy: list[Weighed | None] = [*case.posterior.heavy]
    ways = [
        (one.chance if one else 1.0, [_at_point(case, one, point) for point in points])
        for one in heavy or [None]
    ]
    if any(at.unseen.any() for _, own in ways for at in own):
        ways = [more for chance, own in ways for more in _with_unseen(case, points, chance, own)]
    ways = sorted(ways, key=lambda way: -way[0])[:MOST_WAYS]
    ways = [way for way in ways if way[0] >= NEGLIGIBLE * ways[0][0]]
    chance = np.array([chance for chance, _ in ways])
    shape = (len(ways), len(points), len(sizes))
    return NextLotSizes(
        sizes,
        tuple(points),
        chance / chance.sum(),
        np.array([[at.mean for at in own] for _, own in ways]).reshape(shape),
        np.array([[at.covariance for at in own] for _, own in ways]).reshape(*shape, len(sizes)),
        np.array([[at.fresh for at in own] for _, own in ways]).reshape(*shape, len(sizes)),
        _wrong_tag(case),
    )


def _points(case: Case) -> list[NextLotPoint]:
    """Return what is asked at the points that decide, by the newest chart."""
    style, shop = case.blank.style, case.shop
    chart = style.charts[-1] if style.charts else None
    found = []
    for point in shop.deciding_points:
        lengths = [charted_length(chart, size, point) for size in style.sizes]
        if all(length is None for length in lengths):
            continue
        most = chart_tolerance(shop, chart, point)
        halves = [
            inf if small is None or large is None or not POINTS[point].step
            else abs(large - small) / 2
            for small, large in pairwise(lengths)
        ]  # fmt: skip
        allowed = np.array([inf if length is None else most for length in lengths])
        reading = case.spreads[point].deviation ** 2
        found.append(NextLotPoint(point, allowed, np.array(halves), reading))
    return found


def _at_point(case: Case, one: Weighed | None, at: NextLotPoint) -> _AtPoint:
    """Return the next lot at one point under one way, the spread of pieces averaged over."""
    sizes = case.blank.style.sizes
    readings = case.posterior.every.get(at.point)
    every, ones = np.eye(len(sizes)), np.ones((len(sizes), len(sizes)))
    if one is None or readings is None:
        cut = CUT_SHARE * _tolerance(at)
        lot = (1 + COLOUR_SHARE**2) * case.spreads[at.point].between_lots ** 2 * ones
        return _AtPoint(np.zeros(len(sizes)), cut**2 * every + lot, lot, np.ones(len(sizes)))
    targets = tuple(target.in_next_lot for target in readings.alone(sizes))
    fit = one.fit(at.point)
    (means,), _, (weights,) = case.posterior.lies([one], at.point, targets)
    places = np.arange(len(weights))
    given = fit.covariances(targets, *one.added_at(at.point, targets), places)
    mean = means @ weights
    away = means - mean[:, None]
    covariance = np.tensordot(weights, given, 1) + (away * weights) @ away.T
    apart = (1 + COLOUR_SHARE**2 / len(targets[0].groups)) * fit.prior.between_lots**2
    unseen = np.array([size not in readings.tags for size in sizes], dtype=float)
    # The newest chart may ask for other lengths than the one of the day of the readings.
    asked = [charted_length(case.blank.style.charts[-1], size, at.point) for size in sizes]
    for place, (size, length) in enumerate(zip(sizes, asked, strict=True)):
        mean[place] += readings.expected[size] - (length or readings.expected[size])
    return _AtPoint(mean, covariance, apart * ones + fit.loose * every, unseen)


def _with_unseen(
    case: Case, points: list[NextLotPoint], chance: float, own: list[_AtPoint]
) -> Iterator[tuple[float, list[_AtPoint]]]:
    """Yield a way once for each of what may be of the sizes that nobody has measured."""
    total = sum(cause.weight for cause in CAUSES.values())
    level, each = (sum(CAUSES[key].weight for key in keys) / total for keys in (LEVEL, EACH))
    yield chance * (1 - level - each), own
    yield chance * level, [_off(case, *at, 1.0, 0.0) for at in zip(points, own, strict=True)]
    yield chance * each, [_off(case, *at, 0.0, 1.0) for at in zip(points, own, strict=True)]


def _off(case: Case, at: NextLotPoint, own: _AtPoint, level: float, each: float) -> _AtPoint:
    """Return a point where all sizes, or each by itself, may be off; only what nobody measured."""
    alone = (OWN_SHARE * _tolerance(at)) ** 2
    runs = (alone + np.mean(np.square(SHIFTS)) * case.shop.step[at.point] ** 2) / 2
    unseen = own.unseen
    added = each * alone * np.diag(unseen) + level * runs * unseen.all() * np.outer(unseen, unseen)
    return replace(own, covariance=own.covariance + added)


def _tolerance(at: NextLotPoint) -> float:
    return float(at.allowed.min())


def _wrong_tag(case: Case) -> float:
    """Return the share of wrong tags that all tags so far let be expected: beta and binomial."""
    tags, labels = case.posterior.tags, case.posterior.labels
    wrong: float = sum(
        1.0 - tags[piece][label] - tags[piece][""] for piece, label in labels.items()
    )
    seen = len(labels)
    for delivery in case.blank.deliveries:
        wrong += sum(flaw.count for flaw in delivery.flaws if flaw.fault == "wrong_label")
        seen += delivery.inspected
    return (WRONG_TAGS * TAGS_WORTH + wrong) / (TAGS_WORTH + seen)
