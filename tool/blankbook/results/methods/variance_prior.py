"""What many small samples together say of the variance that each of them has.

Every sample variance is taken as drawn about its own true one, and the true ones as scaled inverse
chi-square: s_i^2 ~ s0^2 F(d_i, d0). The two constants are found from the mean and the variance of
log s_i^2.
Source: Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3(1), article 3,
section 6.2.
"""

from collections.abc import Sequence
from math import exp, inf, log
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_FREEDOM = 1e6
"""Of a variance that is as good as known."""


def fit_prior(variances: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return s0^2 and d0: the variance to expect, and how many degrees of freedom it is worth.

    *variances* are (s_i^2, d_i), all above zero; two at least. d0 is infinite where the samples
    differ by no more than chance would make them; then they are pooled.
    """
    from scipy import special

    logs = [
        log(square) - float(special.psi(freedom / 2)) + log(freedom / 2)
        for square, freedom in variances
    ]
    mean = sum(logs) / len(logs)
    spread = sum((value - mean) ** 2 for value in logs) / (len(logs) - 1)
    chance = sum(trigamma(freedom / 2) for _, freedom in variances) / len(variances)
    if spread <= chance:
        total = sum(freedom for _, freedom in variances)
        return sum(square * freedom for square, freedom in variances) / total, inf
    half = trigamma_inverse(spread - chance)
    return exp(mean + float(special.psi(half)) - log(half)), 2 * half


def trigamma(value: float) -> float:
    """Return the second derivative of log gamma."""
    from scipy import special

    return float(special.polygamma(1, value))


def trigamma_inverse(wanted: float) -> float:
    """Return the value whose trigamma is *wanted*, above zero.

    Newton's steps on 1/trigamma, which is convex and nearly straight: from 1/2 + 1/wanted they
    come down on the root and never pass it (Smyth 2004, appendix).
    """
    from scipy import special

    value = 0.5 + 1 / wanted
    for _ in range(50):
        now = trigamma(value)
        step = now * (1 - now / wanted) / float(special.polygamma(2, value))
        value += step
        if abs(step) < 1e-10 * value:
            break
    return value


def gamma_matched(variances: "NDArray[Any]", chances: "NDArray[Any]") -> tuple[float, float]:
    """Return a standard deviation and its degrees of freedom, for a variance that is uncertain.

    1 / variance is taken as gamma, with the mean and the variance that it has by its *chances*.
    """
    first, second = float(chances @ (1 / variances)), float(chances @ (1 / variances**2))
    spread = max(second - first**2, 2 * first**2 / MOST_FREEDOM)
    return first**-0.5, 2 * first**2 / spread


def log_inverse_chi_square(logs: "NDArray[Any]", worth: float) -> "NDArray[Any]":
    """Return the log chances of variances on an even grid of *logs*, about one, adding up to one.

    They are scaled inverse chi-square, on *worth* degrees of freedom.
    """
    import numpy as np

    heights = worth / 2 * (-logs - np.exp(-logs))
    return np.asarray(heights - np.log(np.exp(heights - heights.max()).sum()) - heights.max())
