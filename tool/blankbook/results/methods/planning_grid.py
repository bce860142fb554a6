"""How a purchase may turn out: the grid that the chances of planning are summed over.

The true spread is known on a few degrees of freedom only, the spread that the pieces will show
scatters about it, and one reader's own difference is in every mean alike. Fixed values with weights
stand for each, so that the same question gives the same number.

Source: moderated variance, Smyth 2004; Welch and Satterthwaite, JCGM 100:2008, G.4.1.
Units: lengths in millimetres; chances and shares 0 to 1.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, Any

from blankbook.results.limits import t_quantile

if TYPE_CHECKING:
    from numpy.typing import NDArray

READERS = 9
"""So many values stand for a reader's own difference."""


@dataclass(frozen=True, slots=True)
class PlanningGrid:
    """How finely a chance is integrated."""

    true: int
    """Steps over the true spread, where every chance is smooth."""
    seen: int
    """Steps over the squares seen: where limits that are too wide for a tolerance cut off the
    chance of "meets"."""
    tail: float
    """The chance that is left out on either side."""


FINE = PlanningGrid(100, 400, 1e-12)
"""Good to 0.001 with one degree of freedom, to 0.0001 with three, and better with more."""
QUICK = PlanningGrid(32, 60, 1e-5)
"""Within 0.001 of the fine one, in a twentieth of the time: what a page can afford."""


@dataclass(frozen=True, slots=True)
class KnownSpread:
    """What is known of the spread at a point of measure before the purchase."""

    deviation: float
    """Standard deviation of a single reading of a single piece."""
    freedom: float
    """The degrees of freedom it rests on; ``math.inf`` where it is taken as certain."""
    shared: float = 0.0
    """Standard deviation of what one person reads differently: the same in every piece, so that it
    is in the mean of a size and not in the difference of two."""
    shared_freedom: float = inf


@dataclass(frozen=True, slots=True)
class PieceCounts:
    """How many pieces are bought."""

    sizes: int
    each: int
    """Of every size in every colour."""
    colours: int = 1

    @property
    def per_size(self) -> int:
        """The pieces of one size, all colours together."""
        return self.each * self.colours

    @property
    def pieces(self) -> int:
        """All pieces."""
        return self.sizes * self.per_size

    @property
    def freedom(self) -> int:
        """What they add to the freedom of the spread, pooled within size and colour."""
        return self.sizes * self.colours * (self.each - 1)


@dataclass(frozen=True, slots=True)
class SpreadWorlds:
    """The ways a purchase may turn out: true spreads, and the limits that each leads to."""

    weight: "NDArray[Any]"
    error: "NDArray[Any]"
    """True standard deviation of the mean, or of the difference of two."""
    half: "NDArray[Any]"
    """Half the width between the limits."""


def spread_worlds(
    known: KnownSpread,
    buy: PieceCounts,
    groups: int,
    risk: float,
    true_deviation: float | None,
    grid: PlanningGrid,
) -> SpreadWorlds:
    """Return the grid over the true spread and over the squares that the pieces will show."""
    import numpy as np

    share = (groups / buy.per_size) ** 0.5
    freedom = known.freedom + buy.freedom
    weight, true, seen = _spreads(known, buy.freedom, true_deviation, grid)
    width = seen * share
    if known.shared and groups == 1:
        freedom = _joined_freedom(known, buy, freedom)
        width = np.sqrt(width**2 + known.shared**2)
    half = np.asarray(t_quantile(1 - risk, freedom) * width if freedom else inf)
    return SpreadWorlds(weight, true * share, half)


def _joined_freedom(known: KnownSpread, buy: PieceCounts, freedom: float) -> float:
    """Return the freedom of a mean with what its reader brings, at the spread as it is known.

    Source: Welch and Satterthwaite, JCGM 100:2008, G.4.1.
    """
    own, shared = known.deviation**2 / buy.per_size, known.shared**2
    whole = own**2 / freedom + shared**2 / known.shared_freedom if freedom else inf
    return (own + shared) ** 2 / whole


@lru_cache(maxsize=256)
def reader_offsets(shared: float) -> tuple[tuple[float, float], ...]:
    """Return weights and values that stand for a reader's own difference, the same in every mean.

    Source: Gauss-Hermite quadrature.
    """
    if not shared:
        return ((1.0, 0.0),)
    import numpy as np

    values, weights = np.polynomial.hermite_e.hermegauss(READERS)
    return tuple(
        (float(weight), float(value * shared))
        for weight, value in zip(weights / weights.sum(), values, strict=True)
    )


def _spreads(
    known: KnownSpread, added: int, true_deviation: float | None, grid: PlanningGrid
) -> "tuple[NDArray[Any], NDArray[Any], NDArray[Any]]":
    """Return weights, true deviations and the moderated ones that the limits will be built on.

    Raises: ValueError where nothing says what the true spread may be.
    """
    import numpy as np

    sure = known.freedom == inf
    if true_deviation is not None or sure:
        weight, true = np.ones(1), np.full(1, known.deviation if sure else true_deviation)
    elif known.freedom > 0:
        weight, square = _chi_square(known.freedom, grid.true, grid.tail)
        true = known.deviation * np.sqrt(known.freedom / square)
    else:
        raise ValueError("must know the spread, or assume one: found neither")
    if sure:
        return weight, true, np.full(1, known.deviation)
    inner, squares = _chi_square(added, grid.seen, grid.tail)
    pooled = known.freedom * known.deviation**2 + np.multiply.outer(true**2, squares)
    seen = np.sqrt(pooled / max(known.freedom + added, 1e-300))
    return np.multiply.outer(weight, inner), true[:, None], seen


@lru_cache(maxsize=4096)
def _chi_square(freedom: float, steps: int, tail: float) -> "tuple[NDArray[Any], NDArray[Any]]":
    """Return weights and values that stand for a chi-square variable.

    Equal steps in the logarithm, where the density dies away on both sides: there the plain sum is
    exact to the last digits that matter.
    """
    import numpy as np
    from scipy import special

    if freedom == 0:
        return np.ones(1), np.zeros(1)
    low, high = special.chdtri(freedom, [1 - tail, tail])
    logs = np.linspace(np.log(low), np.log(high), steps)
    heights = freedom / 2 * logs - np.exp(logs) / 2
    weight = np.exp(heights - heights.max())
    return weight / weight.sum(), np.exp(logs)


def below_chance(values: "NDArray[Any]") -> "NDArray[Any]":
    """Return the chances that a standard normal variable is below each of *values*."""
    from scipy import special

    below: NDArray[Any] = special.ndtr(values)
    return below


def inside_chance(worlds: SpreadWorlds, off: float, border: float) -> "NDArray[Any]":
    """Return the chance that both limits of a mean, truly *off* by so much, lie inside."""
    import numpy as np

    room = border - worlds.half
    inside = below_chance((room - off) / worlds.error) - below_chance((-room - off) / worlds.error)
    return np.asarray(np.maximum(inside, 0.0))


def grid_mean(worlds: SpreadWorlds, chances: "NDArray[Any]") -> float:
    """Return the chance averaged over all ways the purchase may turn out."""
    return float((worlds.weight * chances).sum())
