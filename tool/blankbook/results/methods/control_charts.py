"""Charts over lots: has the style moved, and with which lot did it show?

Values are in order of time, one a lot, such as the mean deviation from the size chart. Limits stand
three standard deviations to either side. With many lots the deviation comes from the moving ranges;
with few it cannot, and is taken from what is known of the spread within and between lots.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import hypot, inf, isinf
from statistics import fmean

from blankbook.results.limits import normal_below, t_quantile
from blankbook.results.methods.chart_constants import constants

LIMIT_DEVIATIONS = 3.0
"""Standard deviations from the centre to a limit."""
ENOUGH_LOTS = 5
"""With fewer lots, moving ranges say too little. Common practice, no source."""
AVERAGE_WEIGHT = 0.3
"""How much the newest lot counts in a moving average; 0.2 to 0.3 is usual (Hunter 1986)."""


class Basis(StrEnum):
    """Where the limits of a chart come from."""

    MOVING_RANGES = "moving ranges"
    STATED_SPREAD = "stated spread within and between lots"


class Signal(StrEnum):
    """On which side a point lies beyond its limits."""

    ABOVE = "above"
    BELOW = "below"


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One lot on a chart; on a moving-average chart *value* is the average."""

    value: float
    low: float
    high: float

    @property
    def signal(self) -> Signal | None:
        """The side on which the point lies outside; None inside and on a limit."""
        if self.value > self.high:
            return Signal.ABOVE
        return Signal.BELOW if self.value < self.low else None


@dataclass(frozen=True, slots=True)
class ControlChart:
    """Points in order of time about one centre line."""

    centre: float
    basis: Basis
    points: tuple[ChartPoint, ...]

    @property
    def signals(self) -> tuple[int, ...]:
        """The places, from 0, of the points that lie beyond their limits."""
        return tuple(at for at, point in enumerate(self.points) if point.signal)


@dataclass(frozen=True, slots=True)
class CentreLine:
    """A centre line that is given: a target, or the approved round."""

    value: float
    error: float = 0.0
    """Its standard error, in the unit of the values; 0 for a target."""


@dataclass(frozen=True, slots=True)
class StatedSpread:
    """The spread that is known apart from the points of the chart."""

    errors: tuple[float, ...]
    """Standard error of each lot's value, from the pieces within it."""
    between: float
    """Standard deviation from lot to lot."""
    freedom: float = inf
    """Degrees of freedom of the spread; infinite where it is taken as known."""

    @property
    def deviations(self) -> tuple[float, ...]:
        """The standard deviation of each lot's value about the line, both spreads together."""
        return tuple(hypot(error, self.between) for error in self.errors)


def moving_range_deviation(values: Sequence[float]) -> float:
    """Return the standard deviation of single values: the mean range of neighbours over d2.

    Raises: ValueError with fewer than two values.
    Source: NIST/SEMATECH e-Handbook 6.3.2.2, with d2 of two values unrounded.
    """
    if len(values) < 2:
        raise ValueError(f"must be two lots or more, found {len(values)}")
    return fmean(abs(after - before) for before, after in pairwise(values)) / constants(2).d2


def individuals_chart(values: Sequence[float], centre: float | None = None) -> ControlChart:
    """Return the chart for single values, with limits from their moving ranges.

    Without a given *centre* the line is the mean of the values.
    Source: NIST/SEMATECH e-Handbook 6.3.2.2.
    """
    half = LIMIT_DEVIATIONS * moving_range_deviation(values)
    middle = fmean(values) if centre is None else centre
    points = (ChartPoint(value, middle - half, middle + half) for value in values)
    return ControlChart(middle, Basis.MOVING_RANGES, tuple(points))


def stated_spread_chart(
    values: Sequence[float], stated: StatedSpread, centre: CentreLine | None = None
) -> ControlChart:
    """Return the chart whose limits follow each lot's own standard error and the lot spread.

    Without a given *centre* the line is the mean, each lot weighing by its variance; a point pulls
    that mean along, so it strays less from it: the variance is s_i^2 - 1 / sum(1 / s^2).
    Where the spread rests on few degrees of freedom the limits have the same false-alarm chance
    (27 in 10,000) by the t distribution.
    Raises: ValueError where errors and values do not match, or with one lot and no centre.
    """
    variances = _variances(values, stated)
    if centre is None and len(values) < 2:
        raise ValueError("must be two lots or more where no centre is given, found one")
    middle, extra = _mean(values, variances) if centre is None else (centre.value, centre.error**2)
    wide = _width(stated.freedom)
    halves = [wide * max(variance + extra, 0.0) ** 0.5 for variance in variances]
    points = (ChartPoint(v, middle - h, middle + h) for v, h in zip(values, halves, strict=True))
    return ControlChart(middle, Basis.STATED_SPREAD, tuple(points))


def chart_of_lots(
    values: Sequence[float], stated: StatedSpread, centre: CentreLine | None = None
) -> ControlChart:
    """Return the chart that the number of lots allows; its basis says which one it is."""
    if len(values) < ENOUGH_LOTS:
        return stated_spread_chart(values, stated, centre)
    return individuals_chart(values, centre.value if centre else None)


def moving_average_chart(
    values: Sequence[float],
    target: float,
    deviations: Sequence[float],
    basis: Basis,
    weight: float = AVERAGE_WEIGHT,
) -> ControlChart:
    """Return the chart of exponentially weighted moving averages, which sees small, lasting shifts.

    *deviations* are the standard deviations of the single values, one each; the limits widen from
    the first point on and settle at 3 s sqrt(weight / (2 - weight)).
    Source: Roberts 1959, Technometrics 1, 239-250; NIST/SEMATECH e-Handbook 6.3.2.4.
    """
    if not 0 < weight <= 1:
        raise ValueError(f"must be a weight above 0 and at most 1, found {weight}")
    return ControlChart(target, basis, tuple(_averages(values, target, deviations, weight)))


def _averages(
    values: Sequence[float], target: float, deviations: Sequence[float], weight: float
) -> Iterator[ChartPoint]:
    average, variance = target, 0.0
    for value, deviation in zip(values, deviations, strict=True):
        average = weight * value + (1 - weight) * average
        variance = (weight * deviation) ** 2 + (1 - weight) ** 2 * variance
        half = LIMIT_DEVIATIONS * variance**0.5
        yield ChartPoint(average, target - half, target + half)


def _variances(values: Sequence[float], stated: StatedSpread) -> list[float]:
    if len(values) != len(stated.errors):
        raise ValueError(f"must be {len(values)} standard errors, found {len(stated.errors)}")
    found = [deviation**2 for deviation in stated.deviations]
    if min(found, default=0.0) <= 0:
        raise ValueError("must be a spread above zero for every lot, found none")
    return found


def _mean(values: Sequence[float], variances: Sequence[float]) -> tuple[float, float]:
    """Return the weighted mean, and what it takes off the variance of each value about it."""
    weights = [1 / variance for variance in variances]
    return fmean(values, weights), -1 / sum(weights)


def _width(freedom: float) -> float:
    return (
        LIMIT_DEVIATIONS if isinf(freedom) else t_quantile(normal_below(LIMIT_DEVIATIONS), freedom)
    )
