"""How many to buy to stock: what a shirt short costs against one left over.

Source: the newsvendor's critical fractile (Arrow, Harris and Marschak 1951): buy the least quantity
that meets the demand with a chance of at least short / (short + left over).
"""

from collections.abc import Sequence
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray


def critical_fractile(short: Decimal, left_over: Decimal) -> float:
    """Return the chance with which the demand should be met.

    *short* is what a missing piece costs, *left_over* what one too many costs.
    Raises: ValueError where neither costs anything, or one is negative.

    >>> critical_fractile(Decimal(3), Decimal(1))
    0.75
    """
    if short < 0 or left_over < 0 or not short + left_over:
        raise ValueError("what is short and what is left over must cost something")
    return float(short / (short + left_over))


def stock_level(chances: NDArray[np.float64] | Sequence[float], fractile: float) -> int:
    """Return the least quantity that meets the demand with at least the chance *fractile*."""
    below = np.cumsum(chances)
    return int(np.searchsorted(below, min(fractile, float(below[-1])) - 1e-12))


def expected_cost(
    chances: NDArray[np.float64], level: int, short: Decimal, left_over: Decimal
) -> float:
    """Return the expected cost of what is short and of what is left over, at a *level*."""
    demand = np.arange(len(chances))
    missing = np.maximum(demand - level, 0) @ chances
    over = np.maximum(level - demand, 0) @ chances
    return float(missing) * float(short) + float(over) * float(left_over)


def normal_loss(z: float) -> float:
    """Return the unit normal linear-loss integral: the expected excess of a standard normal over z.

    Source: Raiffa and Schlaifer 1961, Applied Statistical Decision Theory, table of L_N*(u).
    """
    from scipy import special

    density = float(np.exp(-(z**2) / 2) / (2 * np.pi) ** 0.5)
    return density - z * float(special.ndtr(-z))
