"""What a purchase of n pieces of each size can show, before a single one is bought.

A check answers "meets" or "fails" once the one-sided limits of a mean lie wholly on one side of a
border. Those limits rest on a moderated spread, so the chance of an answer is worked out the way
the answer itself is: the mean is normal, the squares within groups are chi-square, and the limits
are Student's on the freedom that assumption and pieces have together. The spread itself is only
known on so many degrees of freedom; unless a true deviation is given, the chance is averaged over
what it may be. Everything is integrated on a fixed grid: the same question, the same number.

Source: noncentral t (known freedom, nothing assumed) and Student's t (one piece each) are the two
borders of the rule; moderated variance, Smyth 2004; two one-sided tests, Schuirmann 1987.
Units: lengths in millimetres; chances and shares 0 to 1.
"""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, Any

from blankbook.results.limits import t_quantile
from blankbook.results.methods.proportions import chance_at_most, chance_at_most_in_lot

if TYPE_CHECKING:
    from numpy.typing import NDArray

CAP = 50
"""No shop buys more pieces of one size to settle one question."""


@dataclass(frozen=True, slots=True)
class Grid:
    """How finely a chance is integrated."""

    true: int
    """Steps over the true spread, where every chance is smooth."""
    seen: int
    """Steps over the squares seen: where limits that are too wide for a tolerance cut off the
    chance of "meets"."""
    tail: float
    """The chance that is left out on either side."""


FINE = Grid(100, 400, 1e-12)
"""Good to 0.001 with one degree of freedom, to 0.0001 with three, and better with more."""
QUICK = Grid(32, 60, 1e-5)
"""Within 0.001 of the fine one, in a twentieth of the time: what a page can afford."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the spread at a point of measure before the purchase."""

    deviation: float
    """Standard deviation of a single reading of a single piece."""
    freedom: float
    """The degrees of freedom it rests on; ``math.inf`` where it is taken as certain."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """How many pieces are to be bought."""

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
class _Worlds:
    """Ways the purchase may turn out: the true spread, and the limits that it leads to."""

    weight: "NDArray[Any]"
    error: "NDArray[Any]"
    """True standard deviation of the mean, or of the difference of two."""
    half: "NDArray[Any]"
    """Half the width between the limits."""


def chance_missing_step(
    known: Known,
    buy: Purchase,
    step: float,
    risk: float,
    true_deviation: float | None = None,
    grid: Grid = FINE,
) -> float:
    """Return the chance that a step which is missing altogether is shown to be missing.

    Shown: the upper limit of the step lies under half of the charted *step*.
    """
    worlds = _worlds(known, buy, 2, risk, true_deviation, grid)
    return _mean(worlds, _below((step / 2 - worlds.half) / worlds.error))


def chance_step_true(
    known: Known,
    buy: Purchase,
    allowed: float,
    risk: float,
    true_deviation: float | None = None,
    under: float | None = None,
    grid: Grid = FINE,
) -> float:
    """Return the chance that a step which is just as charted is shown to be true.

    Shown: both limits of the step lie within *allowed* of the charted one, or within *under* where
    less is allowed below it than above.
    """
    worlds = _worlds(known, buy, 2, risk, true_deviation, grid)
    below = allowed if under is None else under
    return _mean(worlds, _inside(worlds, (below - allowed) / 2, (below + allowed) / 2))


def chance_meets(
    known: Known,
    buy: Purchase,
    tolerance: float,
    risk: float,
    off: float = 0.0,
    in_sizes: int = 1,
    true_deviation: float | None = None,
    grid: Grid = FINE,
) -> float:
    """Return the chance that sizes which are *off* the chart by so much are all shown to meet it.

    Shown: both limits of the mean's distance from the chart lie inside the tolerance.
    """
    worlds = _worlds(known, buy, 1, risk, true_deviation, grid)
    return _mean(worlds, _inside(worlds, off, tolerance) ** in_sizes)


def chance_fails(
    known: Known,
    buy: Purchase,
    tolerance: float,
    risk: float,
    off: float,
    in_sizes: int = 1,
    true_deviation: float | None = None,
    grid: Grid = FINE,
) -> float:
    """Return the chance that at least one of the sizes, all *off* by so much, is shown to fail.

    Shown: both limits of the mean's distance from the chart lie outside the tolerance.
    Sign: + is larger than charted; the chance is the same either way.
    """
    worlds = _worlds(known, buy, 1, risk, true_deviation, grid)
    border = tolerance + worlds.half
    one = _below((off - border) / worlds.error) + _below((-off - border) / worlds.error)
    return _mean(worlds, 1 - (1 - one) ** in_sizes)


def chance_wrong_label(pieces: int, share: float, noticed: float = 1.0) -> float:
    """Return the chance to see at least one wrong label where *share* of the making is wrong.

    *noticed* is the chance that a wrong label, once it lies on the table, is seen to be one.
    Source: the binomial distribution.
    """
    return 1 - chance_at_most(0, pieces, share * noticed)


def chance_wrong_label_in_lot(pieces: int, wrong: int, lot: int) -> float:
    """Return the chance to see at least one of the *wrong* labels in a delivery of known size.

    Source: the hypergeometric distribution.
    """
    return 1 - chance_at_most_in_lot(0, pieces, wrong, lot)


def fewest(chance: Callable[[int], float], wanted: float, cap: int = CAP) -> int | None:
    """Return the smallest count whose *chance* reaches what is wanted; None above the *cap*.

    The chance must not fall as the count grows.

    >>> fewest(lambda pieces: chance_wrong_label(pieces, 0.10), 0.90)
    22
    """
    if chance(cap) < wanted:
        return None
    return bisect_left(range(1, cap + 1), wanted, key=chance) + 1


def _worlds(
    known: Known, buy: Purchase, groups: int, risk: float, true_deviation: float | None, grid: Grid
) -> _Worlds:
    """Return the grid over the true spread and over the squares that the pieces will show."""
    import numpy as np

    share = (groups / buy.per_size) ** 0.5
    freedom = known.freedom + buy.freedom
    weight, true, seen = _spreads(known, buy.freedom, true_deviation, grid)
    wide = np.asarray(t_quantile(1 - risk, freedom) * seen if freedom else inf)
    return _Worlds(weight, true * share, wide * share)


def _spreads(
    known: Known, added: int, true_deviation: float | None, grid: Grid
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


def _below(values: "NDArray[Any]") -> "NDArray[Any]":
    from scipy import special

    below: NDArray[Any] = special.ndtr(values)
    return below


def _inside(worlds: _Worlds, off: float, border: float) -> "NDArray[Any]":
    """Return the chance that both limits of a mean, truly *off* by so much, lie inside."""
    import numpy as np

    room = border - worlds.half
    inside = _below((room - off) / worlds.error) - _below((-room - off) / worlds.error)
    return np.asarray(np.maximum(inside, 0.0))


def _mean(worlds: _Worlds, chances: "NDArray[Any]") -> float:
    return float((worlds.weight * chances).sum())
