"""Which sizes of the next lot go wrong, and why, over many lots that may come.

The lots are drawn from what is expected of the next one, with a fixed seed, so that the same ledger
gives the same numbers. Each size of each drawn lot has at most one cause: the first that holds.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blankbook.results.ordering.coming_lot import ComingLot, ComingPoint

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
SEED = 18
CAUSES = ("alike", "off_chart", "shrinks", "wrong_tag")
"""In the order in which they are asked; a size has the first that holds."""


@dataclass(frozen=True, slots=True)
class WrongSizes:
    """The share of drawn lots in which a size is wrong for a cause."""

    chances: dict[str, Floats]
    """By cause, an array by size: 0 to 1. The causes of a size exclude each other."""

    @property
    def any(self) -> Floats:
        """The chance of each size that it is wrong as a whole, wrong tags left out."""
        found: Floats = np.sum([self.chances[cause] for cause in CAUSES[:3]], axis=0)
        return found


def normals(draws: int, *shape: int) -> Floats:
    """Return standard normal draws: with each, its opposite, so that their mean is exactly 0."""
    half = np.random.default_rng(SEED).standard_normal((draws // 2, *shape))
    return np.concatenate([half, -half])


def root_of(covariance: Floats) -> Floats:
    """Return a matrix whose square is the covariance; it need not have an inverse."""
    values, vectors = np.linalg.eigh(covariance)
    found: Floats = vectors * np.sqrt(np.maximum(values, 0.0))
    return found


def off_and_alike(points: list[ComingPoint], distances: list[Floats]) -> tuple[Flags, Flags]:
    """Return which sizes are off the chart, and which cannot be told from a neighbour.

    *distances* are, by point, the distances of drawn lots' sizes from the chart (…, sizes). Two
    sizes are alike where their step is under half of the charted one; the one of them that is
    farther from its chart is the one that is wrong.
    """
    off = np.zeros(distances[0].shape, bool)
    alike = np.zeros(distances[0].shape, bool)
    for point, away in zip(points, distances, strict=True):
        off |= np.abs(away) > point.allowed
        steps = np.array(point.steps)
        if not len(steps):
            continue
        short = (np.diff(away, axis=-1) + steps < steps / 2) & (steps > 0)
        smaller = np.abs(away[..., :-1]) > np.abs(away[..., 1:])
        alike[..., :-1] |= short & smaller
        alike[..., 1:] |= short & ~smaller
    return off, alike


def lot_kinds(lot: ComingLot) -> tuple[tuple[float, list[Floats]], ...]:
    """Return the kinds of lot that may come, usual and odd: its chance, and by point a covariance.

    Of a kind that is impossible nothing is returned.
    """
    usual = [np.array(point.covariance) for point in lot.points]
    odd = [
        covariance + point.odd_variance for covariance, point in zip(usual, lot.points, strict=True)
    ]
    kinds = ((1.0 - lot.odd_lot, usual), (lot.odd_lot, odd))
    return tuple(kind for kind in kinds if kind[0] > 0)


def wrong_sizes(lot: ComingLot, draws: int = 4000) -> WrongSizes:
    """Return how often each size of the next lot is wrong, by cause."""
    count = len(lot.sizes)
    off, alike = np.zeros(count), np.zeros(count)
    z = normals(draws, max(len(lot.points), 1), count)
    for weight, covariances in lot_kinds(lot) if lot.points else ():
        away = [
            np.array(point.mean) + z[:, at] @ root_of(covariances[at]).T
            for at, point in enumerate(lot.points)
        ]
        is_off, is_alike = off_and_alike(list(lot.points), away)
        alike += weight * np.mean(is_alike, axis=0)
        off += weight * np.mean(is_off & ~is_alike, axis=0)
    shrinks = shrinking_chance(lot)
    sound = 1.0 - off - alike
    chances = {
        "alike": alike,
        "off_chart": off,
        "shrinks": sound * shrinks,
        "wrong_tag": sound * (1 - shrinks) * lot.wrong_tag,
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
