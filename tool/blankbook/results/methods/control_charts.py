"""Points on charts over lots, and the moving average that sees what no single lot shows."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

AVERAGE_WEIGHT = 0.3
"""How much the newest lot counts in a moving average; 0.2 to 0.3 is usual (Hunter 1986)."""


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


def moving_average(
    steps: Sequence[float], wide: float, weight: float = AVERAGE_WEIGHT
) -> list[ChartPoint]:
    """Return the exponentially weighted moving averages, which see small, lasting shifts.

    *steps* are independent, about zero with deviation one. Limits stand *wide* deviations of the
    average to either side: they widen from the first point on and settle at wide * sqrt(weight /
    (2 - weight)).
    Source: Roberts 1959, Technometrics 1, 239-250; NIST/SEMATECH e-Handbook 6.3.2.4.
    """
    if not 0 < weight <= 1:
        raise ValueError(f"must be a weight above 0 and at most 1, found {weight}")
    found, average, variance = [], 0.0, 0.0
    for step in steps:
        average = weight * step + (1 - weight) * average
        variance = weight**2 + (1 - weight) ** 2 * variance
        half = wide * variance**0.5
        found.append(ChartPoint(average, -half, half))
    return found
