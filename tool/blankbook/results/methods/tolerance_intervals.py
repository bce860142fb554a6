"""The limits between which a wanted share of all pieces lies, with a wanted confidence.

A mean of n pieces and a deviation on so many degrees of freedom are both uncertain, so the limits
are wider than the share alone would have them: mean +/- k s. The factor is exact, by integration;
the closed form that handbooks print (Howe 1969) is an approximation, 2.217 for 2.2228 at n = 43.

Source: ISO 16269-6:2014; Krishnamoorthy and Mathew 2009, Statistical Tolerance Regions, ch. 2.
"""

from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Nodes = NDArray[float64]

_NODES = 40
_FARTHEST = 8.5
"""Standard errors of the mean beyond which nothing is left to integrate."""


def tolerance_factor(error: float, freedom: float, share: float, confidence: float) -> float:
    """Return k: *share* of all pieces lies within mean +/- k s, with *confidence*.

    Mean and deviation need not come from the same pieces: *error* is the standard error of the mean
    in units of the deviation, 1 / sqrt(n) for n pieces; *freedom* is that of the deviation.
    With a mean that is z errors off, the interval holds the share where it reaches R from its
    middle, Phi(z + R) - Phi(z - R) = share in those units, so where the deviation is at least R / k
    of the true one: a chi-square, averaged over z. A deviation that is moderated, on nu0 assumed
    and df seen degrees of freedom, relates to the true one as a chi-square on their sum does, if
    the assumed spread is right. The factor is remembered; the error is taken to eight decimals, the
    freedom to two.

    >>> round(tolerance_factor(3 ** -0.5, 8, 0.90, 0.95), 3)
    3.33
    """
    return _factor(round(error, 8), max(round(freedom, 2), 0.01), share, confidence)


@lru_cache(maxsize=4096)
def _factor(error: float, freedom: float, share: float, confidence: float) -> float:
    """Return the factor by halving: the confidence grows with it."""
    import numpy as np
    from scipy import special

    reaches, weights = _reaches(error, share)
    low, high = 0.0, float(reaches[0] * (freedom / special.chdtri(freedom, confidence)) ** 0.5)
    while special.chdtrc(freedom, freedom * (reaches / high) ** 2) @ weights < confidence:
        high *= 2
    for _ in range(60):
        middle = (low + high) / 2
        sure = float(np.dot(special.chdtrc(freedom, freedom * (reaches / middle) ** 2), weights))
        low, high = (middle, high) if sure < confidence else (low, middle)
        if high - low < 1e-9 * high:
            break
    return high


@lru_cache(maxsize=256)
def _reaches(error: float, share: float) -> "tuple[Nodes, Nodes]":
    """Return how far the interval must reach for each offset of the mean, and their weights."""
    import numpy as np
    from scipy import special

    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    offsets = (nodes + 1) / 2 * _FARTHEST
    heights = weights * _FARTHEST / 2 * np.exp(-(offsets**2) / 2) * (2 / np.pi) ** 0.5
    away = offsets * error
    low, high = np.zeros(_NODES), away + special.ndtri((1 + share) / 2)
    for _ in range(55):
        middle = (low + high) / 2
        holds = special.ndtr(away + middle) - special.ndtr(away - middle) >= share
        low, high = np.where(holds, low, middle), np.where(holds, middle, high)
    return np.asarray(high), np.asarray(heights / heights.sum())
