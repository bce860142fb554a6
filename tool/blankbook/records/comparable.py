"""Which lengths of a chart can be held against readings: those that were taken along one line."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from blankbook.records.model.claims import Chart
from blankbook.words.points import POINTS

How = Mapping[str, str]
"""By point: a way of `blankbook.words.points.Point.variants`; the first where there is none."""

OUR_WAY: How = MappingProxyType({})
"""As the measuring guide has it."""


def is_alike(point: str, how: How, other: How) -> bool:
    """Say whether two records measure a point along the same line."""
    return POINTS[point].are_comparable(how.get(point, ""), other.get(point, ""))


def alike(chart: Chart | None, how: How) -> Chart | None:
    """Return a chart without the points that it measures along another line than *how*."""
    if chart is None:
        return None
    return without(chart, {point for point in POINTS if not is_alike(point, chart.how, how)})


def without(chart: Chart, points: set[str]) -> Chart:
    """Return a chart that does not speak of *points*."""
    if not points:
        return chart
    sizes = {
        size: {point: length for point, length in row.items() if point not in points}
        for size, row in chart.sizes.items()
    }
    return replace(chart, sizes=sizes)
