"""A supplier's size charts, one after the other: what each version says otherwise than the last."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from blankbook.history.moved.chart_changes import Moved, grid, moved, suspicions
from blankbook.records.comparable import chart_without, is_comparable
from blankbook.records.model import Chart, Shop, Style
from blankbook.results.evidence import chart_tolerance
from blankbook.words.points import POINTS

Cell = tuple[str, str]
"""A size and a point."""


@dataclass(frozen=True, slots=True)
class Version:
    """One chart of a supplier against the one that it replaced."""

    chart: Chart
    first: bool
    """Whether the ledger has none before it; then nothing can have moved."""
    moved: tuple[Moved, ...] = ()
    """By point and size."""
    came: frozenset[Cell] = frozenset()
    """What the chart before did not have."""
    went: frozenset[Cell] = frozenset()
    """What only the chart before had."""
    tolerances: tuple[tuple[str, float, float], ...] = ()
    """Points whose tolerance is another: the point, what it was and what it is, millimetres."""
    otherwise: tuple[tuple[str, str, str], ...] = ()
    """Points that are measured in another way: the point, the way before and the way now."""
    unlike: tuple[str, ...] = ()
    """Those of them that run along another line now: what they say cannot be held against what was
    said before, and they are left out of all else here but the tolerance."""
    suspicions: tuple[str, ...] = ()
    """What looks like a slip of the supplier's pen, in words."""


def versions(style: Style, shop: Shop) -> Iterator[Version]:
    """Yield the charts of a style, the oldest first."""
    for chart in style.charts[:1]:
        yield Version(chart, first=True)
    for old, new in pairwise(style.charts):
        yield _version(old, new, style, shop)


def _version(old: Chart, new: Chart, style: Style, shop: Shop) -> Version:
    both = {point for point in POINTS if _speaks(old, point) and _speaks(new, point)}
    unlike = {point for point in both if not is_comparable(point, old.how, new.how)}
    one, other = chart_without(old, unlike), chart_without(new, unlike)
    was, now = grid(one), grid(other)
    cells, _ = moved(one, other, shop, style.sizes)
    points = [point for point in POINTS if point in both]
    limits = [
        (point, chart_tolerance(shop, old, point), chart_tolerance(shop, new, point))
        for point in points
    ]
    return Version(
        new,
        first=False,
        moved=cells,
        came=frozenset(now.keys() - was.keys()),
        went=frozenset(was.keys() - now.keys()),
        tolerances=tuple(one for one in limits if one[1] != one[2]),
        otherwise=tuple(_otherwise(old, new, points)),
        unlike=tuple(point for point in points if point in unlike),
        suspicions=tuple(suspicions(was, now, style.sizes)),
    )


def _otherwise(old: Chart, new: Chart, points: list[str]) -> Iterator[tuple[str, str, str]]:
    for point in points:
        before, after = _way(old, point), _way(new, point)
        if before != after:
            yield point, before, after


def _way(chart: Chart, point: str) -> str:
    """Return how a chart measures a point, in words; what it does not say is the first way."""
    return POINTS[point].variant_meaning(chart.how.get(point, ""))


def _speaks(chart: Chart, point: str) -> bool:
    return any(point in row for row in chart.sizes.values())
