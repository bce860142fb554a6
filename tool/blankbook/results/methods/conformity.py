"""Whether a value conforms to its limits, with an uncertain measurement: JCGM 106:2012.

How likely one measured thing conforms, and how wide a guard band keeps a wrong answer rarer than a
risk (clauses 7 and 8). An open side of the limits is ``-inf`` or ``inf``. A reading is normal about
the true value.
"""

from dataclasses import dataclass
from math import inf

from blankbook.results.limits import normal_below, normal_quantile


@dataclass(frozen=True, slots=True)
class SpecificationLimits:
    """The limits of a true value, from *low* to *high*."""

    low: float = -inf
    high: float = inf


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
