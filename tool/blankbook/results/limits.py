"""Quantiles and tail areas, from scipy.special, and the limits that checks are built on.

Nothing is worked out by hand where scipy.special has the function; scipy.stats is not imported,
because it takes half a second to load.
"""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from blankbook.words.answers import Answer

HAIR = 1e-6
"""Millimetres: what floats may be off by. A value as near as this to a border lies on it."""


@lru_cache(maxsize=4096)
def t_quantile(chance: float, freedom: float) -> float:
    """Return the value that a Student t variable on *freedom* stays below with *chance*."""
    from scipy import special

    return float(special.stdtrit(freedom, chance))


def t_below(value: float, freedom: float) -> float:
    """Return the chance that a Student t variable on *freedom* is below *value*."""
    from scipy import special

    return float(special.stdtr(freedom, value))


def normal_below(value: float) -> float:
    """Return the chance that a standard normal variable is below *value*."""
    from scipy import special

    return float(special.ndtr(value))


@lru_cache(maxsize=256)
def normal_quantile(chance: float) -> float:
    """Return the value that a standard normal variable stays below with *chance*."""
    from scipy import special

    return float(special.ndtri(chance))


def chi_square_above(chance: float, freedom: float) -> float:
    """Return the value that a chi-square variable on *freedom* exceeds with *chance*."""
    from scipy import special

    return float(special.chdtri(freedom, chance))


@dataclass(frozen=True, slots=True)
class Limits:
    """A mean with its one-sided limits, each wrong with the stated risk."""

    mean: float
    error: float
    """Standard error of the mean."""
    freedom: float
    low: float
    high: float


def limits(mean: float, error: float, freedom: float, risk: float) -> Limits:
    """Return *mean* with the one-sided limits that each miss with chance *risk*.

    Units: those of *mean* and *error*.
    Source: Student 1908; two one-sided limits as in Schuirmann 1987.
    """
    half = t_quantile(1 - risk, freedom) * error
    return Limits(mean, error, freedom, mean - half, mean + half)


def deviation_limits(deviation: float, freedom: float, risk: float) -> tuple[float, float]:
    """Return the one-sided limits of a standard deviation, from the chi-square distribution."""
    square = deviation * deviation * freedom
    low = (square / chi_square_above(risk, freedom)) ** 0.5
    high = (square / chi_square_above(1 - risk, freedom)) ** 0.5
    return low, high


MOST_MORE = 50
"""No shop buys more pieces of one size to settle one question."""


def fewest_more(settles: Callable[[int], bool], most: int) -> int | None:
    """Return the smallest count from 1 to *most* that settles a question; None where none does.

    A larger count settles whatever a smaller one does, so the search can halve its way.

    >>> fewest_more(lambda more: more >= 7, 50), fewest_more(lambda more: False, 50)
    (7, None)
    """
    if not settles(most):
        return None
    return bisect_left(range(1, most), True, key=settles) + 1


def freedom_to_settle(deviation: float, freedom: float, border: float, risk: float) -> int | None:
    """Return how many more degrees of freedom would settle on which side of *border* it lies.

    The *deviation* is taken to stay as it is. None where more than two hundred would be needed.
    """

    def settles(more: int) -> bool:
        low, high = deviation_limits(deviation, freedom + more, risk)
        return high <= border or low > border

    return fewest_more(settles, 200)


SETTLED = 0.8
"""How often so many more pieces must settle a question before they are said to."""


def pieces_to_settle(
    off: Limits,
    borders: tuple[float, float],
    deviation: float,
    risk: float,
    groups: int = 1,
    fixed: float = 0.0,
) -> int | None:
    """Return how many more pieces (in each of *groups*) settle it, eight times in ten.

    It is settled where the limits lie wholly between the *borders* or wholly beyond one. The mean
    will move as its own error lets it; the *deviation* of single pieces is taken to stay as it is,
    and *fixed* is the part of the standard error that no number of pieces makes smaller. None where
    fifty are not enough.
    Source: the predictive distribution of a mean of more values, Student's t.
    """
    own = off.error**2 - fixed**2

    def settles(more: int) -> bool:
        after = 1 / (1 / own + more / (deviation**2 * groups))
        half = t_quantile(1 - risk, off.freedom + more * groups) * (after + fixed**2) ** 0.5
        moves = max(own - after, 1e-12) ** 0.5

        def below(end: float) -> float:
            return t_below((end - off.mean) / moves, off.freedom)

        low, high = borders
        inside = max(below(high - half) - below(low + half), 0.0)
        return inside + below(low - half) + 1 - below(high + half) >= SETTLED

    return fewest_more(settles, MOST_MORE)


def chance_between(off: Limits, low: float, high: float) -> float:
    """Return the chance that what *off* is the mean of lies between two borders."""
    above = t_below((high - off.mean) / off.error, off.freedom)
    return above - t_below((low - off.mean) / off.error, off.freedom)


def is_inside(off: Limits, low: float, high: float) -> bool:
    """Say whether the limits lie wholly between two borders."""
    return low <= off.low and off.high <= high


def is_outside(off: Limits, low: float, high: float) -> bool:
    """Say whether the limits lie wholly beyond one of two borders."""
    return off.high < low or off.low > high


def answer_inside(off: Limits, allowed: float) -> Answer:
    """Return meets where the limits lie wholly inside +/- *allowed*, fails where wholly outside."""
    if is_inside(off, -allowed, allowed):
        return Answer.MEETS
    return Answer.FAILS if is_outside(off, -allowed, allowed) else Answer.NOT_SHOWN
