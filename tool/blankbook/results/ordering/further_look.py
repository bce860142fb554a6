"""What a further look is worth: samples, a wash, or an inspection before printing.

Preposterior analysis (Raiffa and Schlaifer 1961, chapter 5): for what a look may show, the best
that can then be done is worked out; what that saves on average, against deciding today, is the
expected value of sample information. Once it is known what to fear, a size is ordered as planned,
or served in another way: by a blank that stands in for it, or not at all.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blankbook.results.ordering.coming_lot import ComingLot, ComingPoint
from blankbook.results.ordering.lot_outcomes import (
    lot_kinds,
    normals,
    off_and_alike,
    root_of,
    shrinking_chance,
)

Floats = NDArray[np.float64]
SHOWN, LOTS = 64, 128
"""How many outcomes of a look are drawn, and how many lots for each."""


@dataclass(frozen=True, slots=True)
class Stake:
    """What one size of an order can lose; money as plain numbers, for averages."""

    size: str
    wrong: float
    """What it costs where the size is wrong and nobody knows."""
    instead: float
    """What it costs to serve the size in another way, or to go without it."""


@dataclass(frozen=True, slots=True)
class Look:
    """One way to look further."""

    kind: str
    """``coming lot``, ``another lot``, ``wash`` or ``inspect``."""
    sizes: tuple[str, ...]
    each: int
    """Pieces of each size; for a wash, pieces in all."""


@dataclass(frozen=True, slots=True)
class LookValue:
    """What a look is expected to save, in the order's currency."""

    look: Look
    saves: float


def looks_for(stakes: Sequence[Stake], chances: Mapping[str, float]) -> Iterator[Look]:
    """Yield the looks that are worth weighing: the sizes with most at stake come first."""
    order = sorted(stakes, key=lambda stake: -min(stake.wrong * chances[stake.size], stake.instead))
    sizes = [stake.size for stake in order]
    for count in dict.fromkeys((1, 2, 3, len(sizes))):
        if count > len(sizes):
            continue
        chosen = tuple(sorted(sizes[:count], key=[stake.size for stake in stakes].index))
        for each in (1, 2, 4):
            yield Look("coming lot", chosen, each)
            yield Look("inspect", chosen, each)
        yield Look("another lot", chosen, 2)
    yield Look("wash", tuple(sizes[:1]), 2)


def value_of_look(
    lot: ComingLot, stakes: Sequence[Stake], look: Look, shown: int = SHOWN, lots: int = LOTS
) -> float:
    """Return what a look is expected to save over deciding today; never less than nothing."""
    if look.kind == "wash":
        return _value_of_wash(lot, stakes, look.each)
    if not lot.points:
        return 0.0
    chances, weights = _chances_after(lot, look, shown, lots)
    chances = 1 - (1 - chances) * (1 - shrinking_chance(lot))
    columns = [lot.sizes.index(stake.size) for stake in stakes]
    wrong = np.array([stake.wrong for stake in stakes])
    instead = np.array([stake.instead for stake in stakes])
    after = chances[:, columns] * wrong
    today = np.minimum(weights @ after, instead).sum()
    return max(float(today - weights @ np.minimum(after, instead).sum(axis=1)), 0.0)


def _chances_after(lot: ComingLot, look: Look, shown: int, lots: int) -> tuple[Floats, Floats]:
    """Return, for each outcome of a look, the chance of each size that it is wrong; and weights."""
    kinds = _learnings(lot, look)
    outer = normals(shown, len(lot.points), len(look.sizes))
    seen = [
        np.concatenate([outer[:, at] @ learning[at].root.T for _, learning in kinds])
        for at in range(len(lot.points))
    ]
    weights = np.concatenate([np.full(shown, weight / shown) for weight, _ in kinds])
    return chances_given(lot, look, seen, lots), weights


def chances_given(lot: ComingLot, look: Look, seen: Sequence[Floats], lots: int = LOTS) -> Floats:
    """Return the chance of each size that it is off or alike, after each outcome of a look.

    *seen* is, by point, how far the means of the looked-at sizes lie from what was expected of them
    (outcomes, sizes of the look), millimetres. An outcome may come of a usual lot or of an odd one,
    and changes how likely each of them is.
    """
    inner = normals(lots, len(lot.points), len(lot.sizes))
    logs, wrong = [], []
    for weight, learning in _learnings(lot, look):
        pairs = list(zip(learning, seen, strict=True))
        logs.append(np.log(weight) + sum(point.log_density(off) for point, off in pairs))
        away = [
            point.means(off)[:, None, :] + (inner[:, at] @ point.left.T)[None, :, :]
            for at, (point, off) in enumerate(pairs)
        ]
        off_chart, alike = off_and_alike(list(lot.points), away)
        wrong.append((off_chart | alike).mean(axis=1))
    belief = np.exp(np.array(logs) - np.max(logs, axis=0))
    belief /= belief.sum(axis=0)
    found: Floats = np.sum(belief[:, :, None] * np.array(wrong), axis=0)
    return found


def _learnings(lot: ComingLot, look: Look) -> list[tuple[float, list["_Learning"]]]:
    """Return what a look teaches at each point, for each kind of lot with its chance."""
    own = [lot.sizes.index(size) for size in look.sizes]
    return [
        (
            weight,
            [_Learning(p, of, own, look) for p, of in zip(lot.points, covariances, strict=True)],
        )
        for weight, covariances in lot_kinds(lot)
    ]


class _Learning:
    """What pieces teach of one point, for one kind of lot.

    Pieces of another lot share the lasting part of the sizes, and not the shift of the lot.
    """

    def __init__(self, point: ComingPoint, covariance: Floats, own: list[int], look: Look) -> None:
        usual = np.array(point.covariance)
        another = look.kind == "another lot"
        sampled = (usual if another else covariance)[np.ix_(own, own)]
        sampled = sampled + np.eye(len(own)) * point.piece_variance / look.each
        known = (usual - point.lot_variance if another else covariance)[own, :]
        self.expected = np.array(point.mean)
        self.gain = np.linalg.solve(sampled, known).T
        self.root = root_of(sampled)
        self.left = root_of(covariance - self.gain @ known)
        self.precision = np.linalg.inv(sampled)
        self.log_scale = -0.5 * float(np.linalg.slogdet(sampled)[1])

    def means(self, seen: Floats) -> Floats:
        """Return the expected distances after each outcome (outcomes, sizes)."""
        found: Floats = self.expected + seen @ self.gain.T
        return found

    def log_density(self, seen: Floats) -> Floats:
        """Return the log density of each outcome, but for a constant."""
        found: Floats = self.log_scale - 0.5 * np.sum((seen @ self.precision) * seen, axis=1)
        return found


def _value_of_wash(lot: ComingLot, stakes: Sequence[Stake], pieces: int) -> float:
    """Return what washing some pieces is expected to save: a lot shrinks in all sizes or in none.

    Both directions are read from the same pieces; what both may show is drawn together.
    """
    from scipy import special

    outer = normals(SHOWN * 4, len(lot.washes))
    kept = np.ones(len(outer))
    for at, wash in enumerate(lot.washes):
        prior, noise = wash.deviation**2, wash.piece_deviation**2 / pieces
        moves = prior / (prior + noise) ** 0.5
        left = (prior * noise / (prior + noise)) ** 0.5
        means = wash.mean + moves * outer[:, at]
        kept *= special.ndtr((wash.limit - means) / left) - special.ndtr(
            (-wash.limit - means) / left
        )
    wrong = sum(stake.wrong for stake in stakes)
    instead = sum(stake.instead for stake in stakes)
    after = (1 - kept) * wrong
    saved = min(after.mean(), instead) - np.minimum(after, instead).mean()
    return max(float(saved), 0.0)
