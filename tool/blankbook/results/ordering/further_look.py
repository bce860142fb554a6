"""What a further look is worth: samples, a wash, or an inspection before printing.

Preposterior analysis (Raiffa and Schlaifer 1961, chapter 5): for what a look may show, the best
that can then be done is worked out; what that saves on average, against deciding today, is the
expected value of sample information. Once it is known what to fear, a size is ordered as planned,
or served in another way: by a blank that stands in for it, or not at all.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from blankbook.results.ordering.coming_lot import ComingLot
from blankbook.results.ordering.lot_outcomes import missing_steps, shrinking_chance, wrong_given
from blankbook.results.over_lots.next_lot_sizes import NextLotSizes

Floats = NDArray[np.float64]
SEED = 18
"""Fixed, so that the same ledger gives the same numbers."""
SHOWN, FEWEST = 192, 4
"""How many outcomes of a look are drawn, and how many of each way at least."""
LEAST = 1e-6
"""Added to what is still unknown of a size, square millimetres: it is never nothing."""


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


def value_of_look(lot: ComingLot, stakes: Sequence[Stake], look: Look, shown: int = SHOWN) -> float:
    """Return what a look is expected to save over deciding today; never less than nothing."""
    if look.kind == "wash":
        return _value_of_wash(lot, stakes, look.each)
    if not lot.measures.points:
        return 0.0
    return saving(lot, stakes, *Teaching(lot.measures, look).chances_after(shown))


def saving(lot: ComingLot, stakes: Sequence[Stake], chances: Floats, weights: Floats) -> float:
    """Return what is saved where each outcome leaves each size with such a chance to be wrong."""
    chances = 1 - (1 - chances) * (1 - shrinking_chance(lot))
    columns = [lot.measures.sizes.index(stake.size) for stake in stakes]
    wrong = np.array([stake.wrong for stake in stakes])
    instead = np.array([stake.instead for stake in stakes])
    after = chances[:, columns] * wrong
    today = np.minimum(weights @ after, instead).sum()
    return max(float(today - weights @ np.minimum(after, instead).sum(axis=1)), 0.0)


class Teaching:
    """What a look teaches of the next lot, under each way in which the readings came about.

    Pieces of another lot share the lasting part of the sizes, and not what belongs to one lot.
    Shape of what is seen: outcomes, points, sizes of the look; means of the pieces of a size.
    """

    def __init__(self, lot: NextLotSizes, look: Look) -> None:
        """Work out what hangs on the look alone, and not on what it shows."""
        self.lot, self.steps = lot, missing_steps(lot)
        own = np.array([lot.sizes.index(size) for size in look.sizes])
        noise = np.array([point.reading / look.each for point in lot.points])
        shared = lot.covariance - (lot.fresh if look.kind == "another lot" else 0.0)
        sampled = lot.covariance[..., own[:, None], own] + noise[:, None, None] * np.eye(len(own))
        self.root = np.linalg.cholesky(sampled)
        self.precision = np.linalg.inv(sampled)
        self.log_scale = -0.5 * np.linalg.slogdet(sampled)[1].sum(axis=1)
        self.gain = self.precision @ shared[..., own, :]
        self.expected = lot.mean[..., own]
        left = lot.covariance - np.swapaxes(shared[..., own, :], -1, -2) @ self.gain
        self.left = left[:, None] + LEAST * np.eye(len(lot.sizes))

    def chances_after(self, shown: int) -> tuple[Floats, Floats]:
        """Return the chances of what a look may show, and the weights of the outcomes."""
        seen, weights = self._outcomes(shown)
        return self.chances_given(seen), weights

    def _outcomes(self, shown: int) -> tuple[Floats, Floats]:
        """Return what a look may show, with weights; of likelier ways there is more."""
        counts = [2 * ceil(shown * chance / 2) + FEWEST for chance in self.lot.chance]
        draws = normals(max(counts), *self.expected.shape[1:])
        half = len(draws) // 2
        seen, weights = [], []
        for way, count in enumerate(counts):
            z = np.concatenate([draws[: count // 2], draws[half : half + count // 2]])
            seen.append(self.expected[way] + np.einsum("pij,opj->opi", self.root[way], z))
            weights.append(np.full(count, self.lot.chance[way] / count))
        return np.concatenate(seen), np.concatenate(weights)

    def chances_given(self, seen: Floats) -> Floats:
        """Return the chance of each size that it is off or alike, after each outcome."""
        away = seen[None] - self.expected[:, None]
        weighed = np.einsum("wopi,wpij->wopj", away, self.precision)
        logs = np.log(self.lot.chance) + self.log_scale - 0.5 * (weighed * away).sum((2, 3)).T
        belief = np.exp(logs - logs.max(axis=1, keepdims=True))
        belief /= belief.sum(axis=1, keepdims=True)
        means = self.lot.mean[:, None] + np.einsum("wopi,wpij->wopj", away, self.gain)
        wrong = wrong_given(self.lot.points, self.steps, means, self.left)[1]
        return np.asarray(np.einsum("ow,wos->os", belief, wrong))


def normals(draws: int, *shape: int) -> Floats:
    """Return standard normal draws: with each, its opposite, so that their mean is exactly 0."""
    half = np.random.default_rng(SEED).standard_normal((draws // 2, *shape))
    return np.concatenate([half, -half])


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
