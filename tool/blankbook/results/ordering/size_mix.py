"""How a total splits over sizes: Dirichlet-multinomial, from the shop's earlier orders.

The mix of an order differs from that of the next by more than chance alone. How much, the earlier
orders say by their likelihood; with fewer than two of them it is assumed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blankbook.results.ordering.spoilage import beta_binomial

Floats = NDArray[np.float64]
ASSUMED_WORTH = 40.0
"""How many shirts a mix weighs that a person gives, or that one order shows (common practice, no
source)."""
_WORTHS = (5.0, 10.0, 20.0, 40.0, 80.0, 160.0, 320.0)


@dataclass(frozen=True, slots=True)
class SizeMix:
    """The mix of sizes that is expected, and what it is worth."""

    sizes: tuple[str, ...]
    alphas: tuple[float, ...]
    """Of the Dirichlet distribution, by size."""
    orders: int
    """How many earlier orders it rests on; 0 where a person gave it."""

    @property
    def worth(self) -> float:
        """The sum of the alphas."""
        return sum(self.alphas)

    def share(self, size: str) -> float:
        """Return the expected share of a size, 0 to 1."""
        return self.alphas[self.sizes.index(size)] / self.worth

    def chances(self, size: str, total: int, deviation: float = 0.0) -> Floats:
        """Return the chance that 0, 1, 2 … of a size are wanted, of a *total* that may be off.

        *deviation* is the total's standard deviation, in shirts: a normal spread, whole shirts.
        """
        alpha = self.alphas[self.sizes.index(size)]
        found = np.zeros(total + int(4 * deviation) + 1)
        for number, weight in _totals(total, deviation):
            found[: number + 1] += weight * beta_binomial(number, alpha, self.worth - alpha)
        return found

    def limits(self, size: str, total: int, risk: float, deviation: float = 0.0) -> tuple[int, int]:
        """Return how many of a size may be wanted: below and above each with *risk*."""
        below = np.cumsum(self.chances(size, total, deviation))
        return int(np.searchsorted(below, risk)), int(np.searchsorted(below, 1 - risk))


def _totals(total: int, deviation: float) -> list[tuple[int, float]]:
    if not deviation:
        return [(total, 1.0)]
    numbers = np.arange(max(total - int(4 * deviation), 0), total + int(4 * deviation) + 1)
    # Forty totals stand for all of them: the chances between differ by less than they are unsure.
    numbers = numbers[:: max(len(numbers) // 40, 1)]
    weights = np.exp(-0.5 * ((numbers - total) / deviation) ** 2)
    weights /= weights.sum()
    return [(int(n), float(w)) for n, w in zip(numbers, weights, strict=True)]


def given_mix(sizes: Sequence[str], mix: Mapping[str, int]) -> SizeMix:
    """Return the mix that a person gives; a size that it leaves out is not bought."""
    own = tuple(size for size in sizes if mix.get(size))
    total = sum(mix[size] for size in own)
    return SizeMix(own, tuple(ASSUMED_WORTH * mix[size] / total for size in own), 0)


def learned_mix(sizes: Sequence[str], earlier: Sequence[Mapping[str, int]]) -> SizeMix | None:
    """Return the mix that earlier orders show, by their counts; None without any."""
    counts = [[order.get(size, 0) for size in sizes] for order in earlier]
    counts = [row for row in counts if sum(row)]
    if not counts:
        return None
    # One shirt of every size is assumed, so that a size nobody ordered yet is not impossible.
    sums = np.sum(counts, axis=0) + 1.0
    shares = sums / sums.sum()
    worth = ASSUMED_WORTH
    if len(counts) > 1:
        worth = max(
            _WORTHS, key=lambda size: sum(_log_chance(row, shares * size) for row in counts)
        )
    return SizeMix(tuple(sizes), tuple(float(share * worth) for share in shares), len(counts))


def _log_chance(row: Sequence[int], alphas: Floats) -> float:
    """Return the log chance of the counts (Dirichlet-multinomial), but for what no alpha moves."""
    from scipy import special

    counts = np.asarray(row, float)
    whole = special.gammaln(alphas.sum()) - special.gammaln(alphas.sum() + counts.sum())
    return float(whole + np.sum(special.gammaln(alphas + counts) - special.gammaln(alphas)))
