"""A size chart as cells, so that two charts can be compared."""

from collections.abc import Mapping
from fractions import Fraction

from blankbook.records.model import Chart

ChartGrid = Mapping[tuple[str, str], Fraction]
"""Exact millimetres by size and point."""


def chart_grid(chart: Chart) -> dict[tuple[str, str], Fraction]:
    """Return a chart as cells."""
    return {
        (size, point): length.exact
        for size, row in chart.sizes.items()
        for point, length in row.items()
    }
