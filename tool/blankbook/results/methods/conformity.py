"""Whether a value conforms to its limits, with an uncertain measurement: JCGM 106:2012.

Of one measured thing: how likely it conforms, and how wide a guard band keeps a wrong answer rarer
than a risk (clauses 7 and 8). Of all that a process makes and a measurement lets through: the
consumer's risk, that what is accepted does not conform, and the producer's, that what is rejected
does (clause 9).

An open side of the limits is ``-inf`` or ``inf``. A reading is normal about the true value.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, inf, isfinite

from blankbook.results.limits import normal_below, normal_quantile

Density = Callable[[float], float]
"""How the process spreads what it makes: the density of a true value."""

_NODES = 12
"""To a piece no wider than half a standard uncertainty, where a reading's chance is smooth."""
_FINEST = 64
"""Pieces of the process' whole range, at least: its density has its own humps."""
_MOST = 2000
_HALVINGS = 45


@dataclass(frozen=True, slots=True)
class SpecificationLimits:
    """The limits of a true value, from *low* to *high*."""

    low: float = -inf
    high: float = inf

    def guarded(self, band: float) -> "SpecificationLimits":
        """Return the acceptance limits: *band* inside of these on either side."""
        return SpecificationLimits(self.low + band, self.high - band)

    def holds(self, value: float) -> bool:
        """Say whether a value lies inside."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Process:
    """What is made, before anybody has measured it."""

    density: Density
    least: float
    most: float
    """Nothing that matters is made outside of these two."""


@dataclass(frozen=True, slots=True)
class Risks:
    """Shares of everything that the process makes."""

    nonconforming: float
    consumer: float
    """Accepted, and does not conform."""
    producer: float
    """Rejected, and does conform."""


def conformance(value: float, error: float, asked: SpecificationLimits) -> float:
    """Return the chance that the true value conforms, given its reading and standard uncertainty.

    Source: JCGM 106:2012, clause 7, with a normal distribution about the reading.

    >>> round(conformance(509.7, 8.6, SpecificationLimits(low=490)), 4)
    0.989
    """
    return normal_below((asked.high - value) / error) - normal_below((asked.low - value) / error)


def guard_band(error: float, risk: float) -> float:
    """Return the guard band that keeps a wrong answer rarer than *risk*, in the unit of *error*.

    Source: JCGM 106:2012, clause 8: w = z u, z the normal quantile of 1 - risk (1.645 at 5 %).
    """
    return normal_quantile(1 - risk) * error


def global_risks(
    made: Process, error: float, asked: SpecificationLimits, band: float = 0.0
) -> Risks:
    """Return what is let through wrongly, and kept out wrongly, with a guard band on either side.

    Source: JCGM 106:2012, clause 9.5: the joint density of true value and reading, integrated over
    what conforms and is rejected, and the other way round.
    """
    taken = asked.guarded(band)
    bad = consumer = producer = 0.0
    for value, weight in _nodes(made, error, asked, taken):
        share = weight * made.density(value)
        accepted = conformance(value, error, taken) if taken.low < taken.high else 0.0
        if asked.holds(value):
            producer += share * (1 - accepted)
        else:
            bad += share
            consumer += share * accepted
    return Risks(bad, consumer, producer)


def band_for_consumer(
    made: Process, error: float, asked: SpecificationLimits, risk: float
) -> float:
    """Return the guard band that holds the consumer's risk, as a share of all that is made.

    Sign: negative where the acceptance limits may lie outside of what is asked.
    """
    low, high = -8 * error, 8 * error
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        too_many = global_risks(made, error, asked, middle).consumer > risk
        low, high = (middle, high) if too_many else (low, middle)
    return high


def _nodes(
    made: Process, error: float, asked: SpecificationLimits, taken: SpecificationLimits
) -> Iterator[tuple[float, float]]:
    """Yield true values and weights; no piece of the integral holds a border of the limits."""
    import numpy as np

    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    marks = (asked.low, asked.high, taken.low, taken.high)
    inner = (mark for mark in marks if isfinite(mark) and made.least < mark < made.most)
    width = max(
        min(error / 2, (made.most - made.least) / _FINEST), (made.most - made.least) / _MOST
    )
    for start, end in pairwise(sorted({made.least, *inner, made.most})):
        pieces = max(1, ceil((end - start) / width))
        for piece in range(pieces):
            half = (end - start) / pieces / 2
            middle = start + (2 * piece + 1) * half
            for node, weight in zip(nodes, weights, strict=True):
                yield float(middle + half * node), float(half * weight)
