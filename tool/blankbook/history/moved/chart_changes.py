"""A supplier's chart against the one before it: what moved, and what looks like a slip."""

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from blankbook.history.facts.chart_sources import Origin, origin_of
from blankbook.history.moved.uneven_grading import uneven
from blankbook.records.comparable import comparable_chart
from blankbook.records.lengths import say_length
from blankbook.records.model import Chart, Shop, Style
from blankbook.words.points import INCH, POINTS

Grid = Mapping[tuple[str, str], Fraction]
"""Exact millimetres by size and point."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One cell, or one step between neighbouring sizes, that is not what it was: millimetres."""

    size: str
    """``M``, or ``M to L`` for a step."""
    point: str
    old: Fraction
    new: Fraction
    past: bool = False
    """Whether it moved by more than the tolerance."""

    @property
    def by(self) -> Fraction:
        """How far it moved, larger being positive."""
        return self.new - self.old


@dataclass(frozen=True, slots=True)
class ChartChange:
    """One chart of a style against what stood there before it."""

    style: str
    since: str
    in_place: bool
    """Whether the same chart was edited, and not a new one added."""
    origin: str
    cells: tuple[Moved, ...]
    steps: tuple[Moved, ...]
    suspicions: tuple[str, ...]
    whence: Origin
    ways: tuple[str, ...] = ()
    """Points that are measured along another line than before, in words; none of them moved."""
    uneven: tuple[str, ...] = ()
    """Points whose grading became uneven or reversed, in words."""


def chart_changes(old: Style, new: Style, shop: Shop | None) -> Iterator[ChartChange]:
    """Yield each chart of *new* that was edited or added, against the one it replaces."""
    was = {chart.since: chart for chart in old.charts}
    for index, chart in enumerate(new.charts):
        same = was.get(chart.since)
        before = same or (new.charts[index - 1] if index else None)
        if before is None:
            continue
        ways = tuple(other_ways(before, chart))
        alike_before = comparable_chart(before, chart.how) or before
        cells, steps = moved(alike_before, chart, shop, new.sizes)
        otherwise = (*gone(grid(alike_before), grid(chart)), *tolerances(before, chart))
        if cells or ways or otherwise or same is None:
            found = (*suspicions(grid(alike_before), grid(chart), new.sizes), *otherwise)
            yield ChartChange(
                new.key, str(chart.since), same is not None, chart.origin, cells, steps, found,
                origin_of(chart, before, in_place=same is not None), ways,
                tuple(uneven(grid(alike_before), grid(chart), new.sizes, shop)),
            )  # fmt: skip


def other_ways(old: Chart, new: Chart) -> Iterator[str]:
    """Yield the points that are measured along another line than before, in words."""
    for point, known in POINTS.items():
        was, now = old.how.get(point, ""), new.how.get(point, "")
        if point in _charted(new) and point in _charted(old) and not known.are_comparable(was, now):
            yield (
                f"{known.name}: measured {known.variant_meaning(now)}, and before "
                f"{known.variant_meaning(was)}: the lengths are not comparable"
            )


def _charted(chart: Chart) -> set[str]:
    return {point for row in chart.sizes.values() for point in row}


def grid(chart: Chart) -> dict[tuple[str, str], Fraction]:
    """Return a chart as cells."""
    return {
        (size, point): length.exact
        for size, row in chart.sizes.items()
        for point, length in row.items()
    }


def moved(
    old: Chart, new: Chart, shop: Shop | None, sizes: tuple[str, ...]
) -> tuple[tuple[Moved, ...], tuple[Moved, ...]]:
    """Return the cells that moved and the steps that changed, by point and size."""
    one, other = grid(old), grid(new)
    cells = [
        Moved(size, point, one[size, point], other[size, point])
        for point in POINTS
        for size in sizes
        if (size, point) in one
        and (size, point) in other
        and one[size, point] != other[size, point]
    ]
    marked = tuple(_marked(cell, new, shop) for cell in cells)
    return marked, tuple(_steps(one, other, sizes))


def _marked(cell: Moved, chart: Chart, shop: Shop | None) -> Moved:
    stated = chart.tolerance.get(cell.point)
    limit = stated.mm if stated else (shop.tolerance.get(cell.point) if shop else None)
    past = limit is not None and abs(float(cell.by)) > limit + 1e-9
    return Moved(cell.size, cell.point, cell.old, cell.new, past)


def _steps(old: Grid, new: Grid, sizes: tuple[str, ...]) -> Iterator[Moved]:
    for point in POINTS:
        for small, large in itertools.pairwise(sizes):
            at = ((small, point), (large, point))
            if all(cell in old and cell in new for cell in at):
                was, now = old[at[1]] - old[at[0]], new[at[1]] - new[at[0]]
                if was != now:
                    yield Moved(f"{small} to {large}", point, was, now)


def tolerances(old: Chart, new: Chart) -> Iterator[str]:
    """Yield where a chart allows a piece to be off by more or less than before, in words."""
    for point, known in POINTS.items():
        was, now = old.tolerance.get(point), new.tolerance.get(point)
        if was and not now:
            yield f"{known.name}: a tolerance was given before, and is no more"
        elif was and now and was.exact != now.exact:
            both = f"{say_length(was.mm, old.unit)} and is {say_length(now.mm, new.unit)}"
            yield f"{known.name}: the tolerance was {both}"


def suspicions(old: Grid, new: Grid, sizes: tuple[str, ...]) -> Iterator[str]:
    """Yield what in a new chart looks like a slip of the pen, in words."""
    points = [point for point in POINTS if any(at[1] == point for at in new)]
    for point in points:
        both = [(size, old[size, point], new[size, point]) for size in sizes
                if (size, point) in old and (size, point) in new]  # fmt: skip
        yield from _in_column(point, both)
        yield from _wrong_way(point, new, sizes)
    yield from _copied(new, sizes)
    yield from _swapped(old, new, points)


def _in_column(point: str, both: list[tuple[str, Fraction, Fraction]]) -> Iterator[str]:
    name = POINTS[point].name
    shifts = {now - was for _, was, now in both}
    if len(both) > 2 and len(shifts) == 1 and shifts != {Fraction()}:
        yield f"{name}: every size moved by the same"
    if any(_is_unit_slip(was, now) for _, was, now in both):
        yield f"{name}: the ratio of new to old is 2.54, as when inches are taken for centimetres"
        return
    for size, was, now in both:
        if abs(now - was) >= INCH:
            yield f"{name}, {size}: moved by an inch or more"


def _is_unit_slip(old: Fraction, new: Fraction) -> bool:
    """Say whether one is the other in the wrong unit, as near as half a percent."""
    ratio = float(max(old, new) / min(old, new)) if old and new else 0.0
    return abs(ratio / 2.54 - 1) < 0.005


def _wrong_way(point: str, new: Grid, sizes: tuple[str, ...]) -> Iterator[str]:
    held = [(size, new[size, point]) for size in sizes if (size, point) in new]
    for (small, less), (large, more) in itertools.pairwise(held):
        if less > more:
            yield f"{POINTS[point].name}: {small} is larger than {large}"


def gone(old: Grid, new: Grid) -> Iterator[str]:
    """Yield what a chart had before and has no more, in words."""
    for point in POINTS:
        had = [size for size, at in old if at == point]
        gone = [size for size in had if (size, point) not in new]
        if gone:
            which = "" if gone == had else f", {', '.join(gone)}"
            yield f"{POINTS[point].name}{which}: charted before, and no more"


def _copied(new: Grid, sizes: tuple[str, ...]) -> Iterator[str]:
    rows = {s: {at[1]: value for at, value in new.items() if at[0] == s} for s in sizes}
    for small, large in itertools.pairwise(sizes):
        if len(rows[small]) > 1 and rows[small] == rows[large]:
            yield f"{large}: the row is a copy of {small}"


def _swapped(old: Grid, new: Grid, points: list[str]) -> Iterator[str]:
    for index, one in enumerate(points):
        for other in points[index + 1 :]:
            rows = [size for size, point in new if point == one and (size, other) in new]
            same = [
                old.get((s, one)) == new[s, other] and old.get((s, other)) == new[s, one]
                for s in rows
            ]
            if rows and all(same) and any(new[s, one] != new[s, other] for s in rows):
                yield f"{POINTS[one].name} and {POINTS[other].name}: the columns are swapped"
