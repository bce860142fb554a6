"""Which lengths of a chart can be compared with readings: those measured along the same line.

A body length from the centre back is shorter than one from the shoulder by more than the tolerance:
to compare the two would fail a sound shirt.
"""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from blankbook.records.model.claims import Chart
from blankbook.words.points import POINTS

Variants = Mapping[str, str]
"""By point: one of `blankbook.words.points.Point.variants`; the first where there is none."""

GUIDE_VARIANTS: Variants = MappingProxyType({})
"""As the measuring guide has it: every point by its first variant."""


def is_comparable(point: str, how: Variants, other: Variants) -> bool:
    """Say whether two records measure a point along the same line; each gives its variants."""
    return POINTS[point].are_comparable(how.get(point, ""), other.get(point, ""))


def comparable_chart(chart: Chart | None, how: Variants) -> Chart | None:
    """Return a chart without the points that it measures along another line than *how* says."""
    if chart is None:
        return None
    return chart_without(
        chart, {point for point in POINTS if not is_comparable(point, chart.how, how)}
    )


def chart_without(chart: Chart, points: set[str]) -> Chart:
    """Return a chart without its lengths at *points*."""
    if not points:
        return chart
    sizes = {
        size: {point: length for point, length in row.items() if point not in points}
        for size, row in chart.sizes.items()
    }
    return replace(chart, sizes=sizes)
