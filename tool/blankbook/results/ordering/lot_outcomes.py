"""Which sizes of the next lot go wrong, and why.

Each size has at most one cause: the first that holds. Points are independent under one way, and
so is what washing does.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blankbook.results.ordering.coming_lot import ComingLot
from blankbook.results.over_lots.next_lot_sizes import NextLotPoint, NextLotSizes

Floats = NDArray[np.float64]
CAUSES = ("alike", "off_chart", "shrinks", "wrong_tag")
"""In the order in which they are asked; a size has the first that holds."""
NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)
"""Where the chance is taken that a size inside its tolerance is like its neighbour all the same."""
HARDLY = 1e-4
"""Steps that are less likely missing than this are not looked at: such a size is off its chart."""


@dataclass(frozen=True, slots=True)
class MissingStep:
    """Two neighbouring sizes that may turn out alike, at one point."""

    at: int
    """The place of the point."""
    small: int
    """The place of the smaller size; the larger is the next."""
    left: int
    """The place of the one that is wrong then: the one that is expected farther off its chart."""


@dataclass(frozen=True, slots=True)
class WrongSizes:
    """The chance that a size of the next lot is wrong for a cause."""

    chances: dict[str, Floats]
    """By cause, an array by size: 0 to 1. The causes of a size exclude each other."""

    @property
    def any(self) -> Floats:
        """The chance of each size that it is wrong as a whole, wrong tags left out."""
        found: Floats = np.sum([self.chances[cause] for cause in CAUSES[:3]], axis=0)
        return found


def missing_steps(lot: NextLotSizes) -> tuple[MissingStep, ...]:
    """Return the steps that may be missing in the next lot."""
    found = []
    away = np.abs(np.tensordot(lot.chance, lot.mean, 1)) if lot.points else np.zeros((0, 0))
    for at, point in enumerate(lot.points):
        for small in range(len(lot.sizes) - 1):
            left = small if away[at, small] > away[at, small + 1] else small + 1
            step = MissingStep(at, small, left)
            chance = _alike(point, step, _step_of(step, lot.mean, lot.covariance))
            if lot.chance @ chance > HARDLY:
                found.append(step)
    return tuple(found)


def wrong_given(
    points: Sequence[NextLotPoint],
    steps: Sequence[MissingStep],
    mean: Floats,
    covariance: Floats,
) -> tuple[Floats, Floats]:
    """Return the chance of each size that it is alike with a neighbour, and that it is wrong.

    Shapes: *mean* (…, points, sizes), *covariance* (…, points, sizes, sizes), what is returned
    (…, sizes). A size is wrong where it is off its chart, or alike and the one of the two that is.
    """
    from scipy import special

    deviation = np.sqrt(np.diagonal(covariance, axis1=-2, axis2=-1))
    allowed = np.array([point.allowed for point in points])
    low, high = (special.ndtr((end - mean) / deviation) for end in (-allowed, allowed))
    off = 1.0 - (high - low)
    alike = np.zeros(off.shape)
    for step in steps:
        point, of = points[step.at], _step_of(step, mean, covariance)
        chance = inside = _alike(point, step, of)
        own = (..., step.at, step.left)
        if np.isfinite(point.allowed[step.left]):
            likely, inside = chance > HARDLY, np.zeros(chance.shape)
            values = (getattr(of, name)[likely] for name in _Step.__slots__)
            inside[likely] = _alike_inside(point, step, _Step(*values))
        alike[own] = 1 - (1 - alike[own]) * (1 - chance)
        off[own] = np.minimum(off[own] + inside, 1.0)
    return 1 - np.prod(1 - alike, axis=-2), 1 - np.prod(1 - off, axis=-2)


@dataclass(frozen=True, slots=True)
class _Step:
    """A step of the next lot, and the size of the two that is wrong where it is missing."""

    between: Floats
    """Where it is expected, from what is charted."""
    variance: Floats
    away: Floats
    """Where the size is expected, from what is charted."""
    own: Floats
    """The variance of the size."""
    shared: Floats
    """The covariance of the two."""


def _step_of(step: MissingStep, mean: Floats, covariance: Floats) -> _Step:
    small, large, left = step.small, step.small + 1, step.left
    mean, covariance = mean[..., step.at, :], covariance[..., step.at, :, :]
    rise = covariance[..., large, :] - covariance[..., small, :]
    variance = rise[..., large] - rise[..., small]
    parts = (
        mean[..., large] - mean[..., small], variance, mean[..., left],
        covariance[..., left, left], rise[..., left],
    )  # fmt: skip
    return _Step(*np.broadcast_arrays(*parts))


def _alike(point: NextLotPoint, step: MissingStep, of: _Step) -> Floats:
    """Return the chance that a step is missing."""
    from scipy import special

    border = -point.half_steps[step.small]
    return np.asarray(special.ndtr((border - of.between) / np.sqrt(of.variance)))


def _alike_inside(point: NextLotPoint, step: MissingStep, of: _Step) -> Floats:
    """Return the chance that a step is missing while the size lies inside its tolerance.

    That is over all places inside: the size's density there, and the step's chance given that.
    """
    from scipy import special

    border, places = -point.half_steps[step.small], NODES * point.allowed[step.left]
    own = of.own[:, None]
    slope = of.shared[:, None] / own
    rest = np.sqrt(np.maximum(of.variance[:, None] - slope**2 * own, 1e-9))
    away = places - of.away[:, None]
    density = np.exp(-(away**2) / own / 2) / np.sqrt(2 * np.pi * own)
    missing = special.ndtr((border - of.between[:, None] - slope * away) / rest)
    return np.asarray((density * missing) @ (WEIGHTS * point.allowed[step.left]))


def wrong_sizes(lot: ComingLot) -> WrongSizes:
    """Return how often each size of the next lot is wrong, by cause."""
    ahead = lot.measures
    alike = wrong = np.zeros(len(ahead.sizes))
    if ahead.points:
        steps = missing_steps(ahead)
        given = wrong_given(ahead.points, steps, ahead.mean, ahead.covariance)
        alike, wrong = (ahead.chance @ chances for chances in given)
        wrong = np.maximum(wrong, alike)
    shrinks = shrinking_chance(lot)
    sound = 1.0 - wrong
    chances = {
        "alike": alike,
        "off_chart": wrong - alike,
        "shrinks": sound * shrinks,
        "wrong_tag": sound * (1 - shrinks) * ahead.wrong_tag,
    }
    return WrongSizes(chances)


def shrinking_chance(lot: ComingLot) -> float:
    """Return the chance that the lot changes in the wash by more than the limit, either way."""
    from scipy import special

    kept = 1.0
    for wash in lot.washes:
        high = special.ndtr((wash.limit - wash.mean) / wash.deviation)
        low = special.ndtr((-wash.limit - wash.mean) / wash.deviation)
        kept *= float(high - low)
    return 1.0 - kept
