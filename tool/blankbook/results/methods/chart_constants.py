"""The constants of ranges, from the distribution they stand for.

Printed tables round them inconsistently and carry misprints, so nothing is copied: the range of n
normal values is integrated.
"""

from dataclasses import dataclass
from functools import cache
from math import sqrt

MOST_IN_GROUP = 200
"""As many pieces as a study may have."""


@dataclass(frozen=True, slots=True)
class Constants:
    """The constants of a group's range, by the letters that every table prints."""

    d2: float
    """Mean of the range of normal values, in standard deviations."""
    d3: float
    """Standard deviation of that range."""


@cache
def constants(n: int) -> Constants:
    """Return the constants for groups of *n* values, 2 to 200.

    Source: Tippett 1925, Biometrika 17, 364-387.

    >>> round(constants(2).d2, 4), round(constants(5).d3, 4)
    (1.1284, 0.8641)
    """
    if not 2 <= n <= MOST_IN_GROUP:
        raise ValueError(f"must be 2 to {MOST_IN_GROUP} values in a group, found {n}")
    mean, square = _range_moments(n)
    return Constants(mean, sqrt(square - mean**2))


def _range_moments(n: int) -> tuple[float, float]:
    """Return the mean and the mean square of the range of *n* standard normal values.

    P(range <= r) = n * integral of density(x) * (below(x + r) - below(x))^(n-1) over x; the moments
    are integrals of its complement over r. By x the trapezoid is as good as exact, for everything
    vanishes at both ends; by r it is not, hence Gauss and Legendre there.
    """
    import numpy as np
    from scipy import special

    node, weight = np.polynomial.legendre.leggauss(64)
    reach = 16.0  # a range above 16 has a chance below 1e-25 even among two hundred values
    r, part = (node + 1) * reach / 2, weight * reach / 2
    x, step = np.linspace(-9, 9, 181, retstep=True)
    inside = special.ndtr(x + r[:, None]) - special.ndtr(x)
    density = np.exp(-(x**2) / 2) / (2 * np.pi) ** 0.5
    above = 1 - n * (density * inside ** (n - 1)).sum(axis=1) * step
    return float(part @ above), float(2 * part @ (r * above))


def range_divisor(n: int, groups: int) -> float:
    """Return d2*, by which the mean of *groups* ranges of *n* values is divided.

    It turns the mean range into the square root of an unbiased variance, which matters where there
    is only one range, as between appraisers. It nears d2 as groups grow in number.
    Source: Duncan 1955, Industrial Quality Control 11 (cited from memory):
    d2*^2 = d2^2 + d3^2 / groups.

    >>> round(1 / range_divisor(3, 1), 4)
    0.5231
    """
    found = constants(n)
    return sqrt(found.d2**2 + found.d3**2 / groups)
