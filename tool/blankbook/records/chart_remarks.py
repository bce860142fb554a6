"""What is worth a second look in a size chart: sizes that share a length, and wide tolerances.

All of it is true of some chart, so none of it is a fault. A shop wants to hear it before it buys.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Protocol

from blankbook.records.lengths import Length, say_length
from blankbook.records.model.claims import Style
from blankbook.words.points import POINTS

GROWING = {"half_chest": "wider", "body_length": "longer"}
"""The points at which every size is expected to grow, each with its word; at others, some styles
keep one measure."""
TOLERANCE_MEANS = "a piece inside the tolerance can measure as the size beside it"


class ChartedLengths(Protocol):
    """A chart, whether it is on record or was just read."""

    @property
    def unit(self) -> str:
        """What a bare number means."""

    @property
    def sizes(self) -> Mapping[str, Mapping[str, Length]]:
        """By size label, then by point."""

    @property
    def tolerance(self) -> Mapping[str, Length]:
        """By point."""


@dataclass(frozen=True, slots=True)
class ChartedStep:
    """The growth from one charted size to the next at one point."""

    small: str
    large: str
    low: Length
    high: Length

    @property
    def by(self) -> Fraction:
        """How much larger the larger size is, exact millimetres."""
        return self.high.exact - self.low.exact


def charted_steps(chart: ChartedLengths, sizes: Sequence[str], point: str) -> Iterator[ChartedStep]:
    """Yield the steps of one point between neighbouring charted sizes; *sizes* give the order."""
    for small, large in pairwise(size for size in dict.fromkeys(sizes) if size in chart.sizes):
        low, high = chart.sizes[small].get(point), chart.sizes[large].get(point)
        if low is not None and high is not None:
            yield ChartedStep(small, large, low, high)


def smallest_step(steps: Iterable[ChartedStep], tolerance: Length | None) -> ChartedStep | None:
    """Return the smallest step that grows and is no larger than the tolerance, or None."""
    growing = [step for step in steps if step.by > 0]
    smallest = min(growing, key=lambda step: step.by, default=None)
    return smallest if smallest and tolerance and smallest.by <= tolerance.exact else None


def chart_remarks(chart: ChartedLengths, sizes: Sequence[str]) -> Iterator[str]:
    """Yield in words which sizes do not grow, and which tolerances are as large as a step."""
    unit = "in" if chart.unit == "in" else "cm"
    for point, known in POINTS.items():
        steps = list(charted_steps(chart, sizes, point))
        for step in steps:
            low, high = (say_length(length.mm, unit) for length in (step.low, step.high))
            if step.by == 0 and point in GROWING:
                grows = f"{step.large} is no {GROWING[point]} than {step.small} in the chart"
                yield f"{grows}: both {high}"
            elif step.by < 0:
                pair = f"from {step.small} to {step.large} in the chart"
                yield f"{known.name} shrinks {pair}: {low} to {high}"
        smallest = smallest_step(steps, chart.tolerance.get(point)) if point in GROWING else None
        if smallest:
            allowed, by = (
                say_length(float(mm), unit) for mm in (chart.tolerance[point].exact, smallest.by)
            )
            size = f"{smallest.small} to {smallest.large} grows by {by}"
            yield f"{known.name} may be off by {allowed} and {size}: {TOLERANCE_MEANS}"


def newest_chart_remarks(style: Style) -> list[str]:
    """Return the remarks on the newest chart of a style; none where it has no chart."""
    return list(chart_remarks(style.charts[-1], style.sizes)) if style.charts else []
