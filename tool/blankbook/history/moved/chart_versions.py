"""A supplier's size charts, one after the other: what changed from each version to the next."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from blankbook.history.moved.chart_changes import LengthChange, length_changes
from blankbook.history.moved.chart_grid import chart_grid
from blankbook.history.moved.chart_slips import chart_slips
from blankbook.records.comparable import chart_without, is_comparable
from blankbook.records.model import Chart, Shop, Style
from blankbook.results.chart_values import chart_tolerance
from blankbook.words.points import POINTS

Cell = tuple[str, str]
"""A size and a point."""


@dataclass(frozen=True, slots=True)
class ChartVersion:
    """One chart of a supplier against the one that it replaced."""

    chart: Chart
    first: bool
    """Whether it is the oldest of the ledger; then nothing can have moved."""
    moved: tuple[LengthChange, ...] = ()
    """By point and size."""
    added: frozenset[Cell] = frozenset()
    """Cells that the chart before did not have."""
    removed: frozenset[Cell] = frozenset()
    """Cells that only the chart before had."""
    tolerances: tuple[tuple[str, float, float], ...] = ()
    """Points whose tolerance changed: the point, what it was and what it is, millimetres."""
    measured_otherwise: tuple[tuple[str, str, str], ...] = ()
    """Points that are measured otherwise: the point, how before and how now, in words."""
    not_comparable: tuple[str, ...] = ()
    """Those of them that run along another line now. Their lengths are not comparable with those
    before, so they are left out of all else here but the tolerances."""
    suspicions: tuple[str, ...] = ()
    """What looks like a slip of the supplier's pen, in words."""


def chart_versions(style: Style, shop: Shop) -> Iterator[ChartVersion]:
    """Yield the charts of a style, the oldest first."""
    for chart in style.charts[:1]:
        yield ChartVersion(chart, first=True)
    for old, new in pairwise(style.charts):
        yield _version(old, new, style, shop)


def _version(old: Chart, new: Chart, style: Style, shop: Shop) -> ChartVersion:
    both = {point for point in POINTS if _charts_point(old, point) and _charts_point(new, point)}
    unlike = {point for point in both if not is_comparable(point, old.how, new.how)}
    comparable_old, comparable_new = chart_without(old, unlike), chart_without(new, unlike)
    was, now = chart_grid(comparable_old), chart_grid(comparable_new)
    cells, _ = length_changes(comparable_old, comparable_new, shop, style.sizes)
    points = [point for point in POINTS if point in both]
    limits = [
        (point, chart_tolerance(shop, old, point), chart_tolerance(shop, new, point))
        for point in points
    ]
    return ChartVersion(
        new,
        first=False,
        moved=cells,
        added=frozenset(now.keys() - was.keys()),
        removed=frozenset(was.keys() - now.keys()),
        tolerances=tuple(limit for limit in limits if limit[1] != limit[2]),
        measured_otherwise=tuple(_measured_otherwise(old, new, points)),
        not_comparable=tuple(point for point in points if point in unlike),
        suspicions=tuple(chart_slips(was, now, style.sizes)),
    )


def _measured_otherwise(
    old: Chart, new: Chart, points: list[str]
) -> Iterator[tuple[str, str, str]]:
    for point in points:
        before, after = _how_measured(old, point), _how_measured(new, point)
        if before != after:
            yield point, before, after


def _how_measured(chart: Chart, point: str) -> str:
    """Return how a chart measures a point, in words; where it does not say, the usual way."""
    return POINTS[point].variant_meaning(chart.how.get(point, ""))


def _charts_point(chart: Chart, point: str) -> bool:
    return any(point in row for row in chart.sizes.values())
