"""How many shirts spoil in the press, from the shop's earlier orders, and how many to buy on top.

The share that spoils differs from order to order: it is drawn from a beta distribution, so that
the number spoiled of so many is beta-binomial. Its mean and its worth are weighed on a grid: by the
shop's stated assumption about the mean, and by what its earlier orders say of both.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blankbook.records.model import Line

Floats = NDArray[np.float64]
ENOUGH_ORDERS = 3
ENOUGH_SHIRTS = 150
"""With fewer orders, or fewer printed shirts, most of it is assumption, and is called so."""
NODES = 1200
LEAST_WEIGHT = 1e-4
MEANS = 40
WORTHS = (50.0, 100.0, 200.0, 500.0, 1000.0)
"""How many shirts the mean weighs in one order, alike likely before any (our own choice)."""
_MOST_STEPS = 2000


@dataclass(frozen=True, slots=True)
class SpoiledCount:
    """Of so many shirts that were printed, so many spoiled."""

    printed: int
    spoiled: int


@dataclass(frozen=True, slots=True)
class SpoiledShare:
    """What the share spoiled in the next order may be, as a weighted sum of beta distributions."""

    parts: tuple[tuple[float, float, float], ...]
    """Weight, alpha and beta of each."""
    orders: int
    """How many earlier orders it rests on, beside the shop's assumption."""
    printed: int
    spoiled: int

    @property
    def is_assumed(self) -> bool:
        """Whether the earlier orders are too few to say much."""
        return self.orders < ENOUGH_ORDERS or self.printed < ENOUGH_SHIRTS

    @property
    def mean(self) -> float:
        """The expected share, 0 to 1."""
        return sum(weight * a / (a + b) for weight, a, b in self.parts)

    def count_chances(self, shirts: int) -> Floats:
        """Return the chance of 0, 1, … *shirts* spoiled of so many (beta-binomial)."""
        return sum(
            (weight * beta_binomial(shirts, a, b) for weight, a, b in self.parts),
            start=np.zeros(shirts + 1),
        )

    def count_limits(self, shirts: int, risk: float) -> tuple[int, int]:
        """Return how many of *shirts* may spoil: below and above each with *risk*."""
        below = np.cumsum(self.count_chances(shirts))
        return int(np.searchsorted(below, risk)), int(np.searchsorted(below, 1 - risk))


def beta_binomial(count: int, alpha: float, beta: float) -> Floats:
    """Return the chances of 0, 1, … *count* of a beta-binomial distribution."""
    from scipy import special

    k = np.arange(count + 1.0)
    choose = special.gammaln(count + 1) - special.gammaln(k + 1) - special.gammaln(count - k + 1)
    ratio = special.betaln(k + alpha, count - k + beta) - special.betaln(alpha, beta)
    found: Floats = np.exp(choose + ratio)
    return found


def spoiled_share(earlier: Sequence[SpoiledCount], assumed: float, worth: float) -> SpoiledShare:
    """Return what may spoil of the next order; *assumed* is a share that weighs *worth* shirts."""
    from scipy import special

    places = (np.arange(MEANS) + 0.5) / MEANS
    means = special.betaincinv(assumed * worth, (1 - assumed) * worth, places)
    pairs = [(mean * size, (1 - mean) * size) for mean in means for size in WORTHS]
    logs = np.array(
        [
            sum(
                special.betaln(order.spoiled + a, order.printed - order.spoiled + b)
                - special.betaln(a, b)
                for order in earlier
            )
            for a, b in pairs
        ],
        float,
    )
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    parts = tuple(
        (float(weight), float(a), float(b))
        for weight, (a, b) in zip(weights, pairs, strict=True)
        if weight > LEAST_WEIGHT
    )
    total = sum(weight for weight, _, _ in parts)
    kept = tuple((weight / total, a, b) for weight, a, b in parts)
    printed = sum(order.printed for order in earlier)
    spoiled = sum(order.spoiled for order in earlier)
    return SpoiledShare(kept, len(earlier), printed, spoiled)


@dataclass(frozen=True, slots=True)
class Allowance:
    """What to have printed so that enough are good."""

    pieces: Mapping[Line, int]
    chance: float
    """The chance that there are enough good ones of every line."""


def with_allowance(needed: Mapping[Line, int], share: SpoiledShare, wanted: float) -> Allowance:
    """Return the needs with shirts on top, one after the other where one helps most.

    *wanted* is the chance of enough in every line at once. All lines are printed in one go, so they
    share what spoils.
    """
    shares, weights = _nodes(share)
    pieces = dict(needed)
    enough = {line: _enough(count, 0, shares) for line, count in needed.items()}
    more = {line: _enough(count, 1, shares) for line, count in needed.items()}
    chance = _all_enough(enough, weights)
    for _ in range(_MOST_STEPS):
        if chance >= wanted:
            break
        every = np.prod(list(enough.values()), axis=0)
        best = max(needed, key=lambda line: float(weights @ (every / enough[line] * more[line])))
        pieces[best] += 1
        enough[best] = more[best]
        more[best] = _enough(needed[best], pieces[best] - needed[best] + 1, shares)
        chance = _all_enough(enough, weights)
    return Allowance(pieces, chance)


def chance_of_enough(
    pieces: Mapping[Line, int], needed: Mapping[Line, int], share: SpoiledShare
) -> float:
    """Return the chance that so many pieces give what is needed in every line."""
    shares, weights = _nodes(share)
    found = {line: _enough(count, pieces[line] - count, shares) for line, count in needed.items()}
    return _all_enough(found, weights)


def _all_enough(enough: Mapping[Line, Floats], weights: Floats) -> float:
    return float(weights @ np.prod(list(enough.values()), axis=0))


def _enough(needed: int, spare: int, shares: Floats) -> Floats:
    """Return the chance, at each share, that at most *spare* of needed and spare spoil."""
    from scipy import special

    found: Floats = special.bdtr(float(spare), needed + spare, shares)
    return found


def _nodes(share: SpoiledShare) -> tuple[Floats, Floats]:
    """Return shares and weights that stand for the distribution, each part by its quantiles."""
    from scipy import special

    each = max(NODES // len(share.parts), 6)
    places = (np.arange(each) + 0.5) / each
    shares = [special.betaincinv(a, b, places) for _, a, b in share.parts]
    weights = [np.full(each, weight / each) for weight, _, _ in share.parts]
    return np.concatenate(shares), np.concatenate(weights)
