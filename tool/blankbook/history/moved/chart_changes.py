"""A supplier's size chart against the one before it: which cells and grade steps moved."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from blankbook.history.facts.chart_sources import ChartSource, chart_source
from blankbook.history.moved.chart_grid import ChartGrid, chart_grid
from blankbook.history.moved.chart_slips import chart_slips
from blankbook.history.moved.uneven_grading import uneven_points
from blankbook.records.comparable import comparable_chart
from blankbook.records.lengths import exact_length, say_length
from blankbook.records.model import Chart, Shop, Style
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class LengthChange:
    """One cell, or one grade step between neighbouring sizes, that moved; millimetres."""

    size: str
    """``M``, or ``M to L`` for a step."""
    point: str
    old: Fraction
    new: Fraction
    past_tolerance: bool = False
    """Whether it moved by more than the tolerance."""

    @property
    def by(self) -> Fraction:
        """How far it moved, larger being positive."""
        return self.new - self.old


@dataclass(frozen=True, slots=True)
class ChartChange:
    """One chart of a style against the one that it replaces."""

    style: str
    since: str
    in_place: bool
    """Whether a chart was edited, and not a new one added."""
    source_text: str
    """The source as it was written."""
    cells: tuple[LengthChange, ...]
    steps: tuple[LengthChange, ...]
    suspicions: tuple[str, ...]
    """What looks like a slip, what went missing and which tolerances changed, in words."""
    source: ChartSource
    not_comparable: tuple[str, ...] = ()
    """Points that are measured along another line than before, in words; none of them moved."""
    uneven: tuple[str, ...] = ()
    """Points whose grading became uneven or reversed, in words."""


def chart_changes(old: Style, new: Style, shop: Shop | None) -> Iterator[ChartChange]:
    """Yield each chart of *new* that was edited or added, against the one it replaces."""
    by_day = {chart.since: chart for chart in old.charts}
    for index, chart in enumerate(new.charts):
        same_day = by_day.get(chart.since)
        before = same_day or (new.charts[index - 1] if index else None)
        if before is None:
            continue
        change = _chart_change(before, chart, new, shop, in_place=same_day is not None)
        if change is not None:
            yield change


def _chart_change(
    old: Chart, new: Chart, style: Style, shop: Shop | None, *, in_place: bool
) -> ChartChange | None:
    """Return one chart against the one it replaces; None where it was edited without effect."""
    not_comparable = tuple(incomparable_points(old, new))
    comparable = comparable_chart(old, new.how) or old
    cells, steps = length_changes(comparable, new, shop, style.sizes)
    was, now = chart_grid(comparable), chart_grid(new)
    other_changes = (*missing_cells(was, now), *tolerance_changes(old, new))
    if in_place and not (cells or not_comparable or other_changes):
        return None
    return ChartChange(
        style.key,
        str(new.since),
        in_place,
        new.origin,
        cells,
        steps,
        (*chart_slips(was, now, style.sizes), *other_changes),
        chart_source(new, old, in_place=in_place),
        not_comparable,
        tuple(uneven_points(was, now, style.sizes, shop)),
    )


def incomparable_points(old: Chart, new: Chart) -> Iterator[str]:
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


def length_changes(
    old: Chart, new: Chart, shop: Shop | None, sizes: tuple[str, ...]
) -> tuple[tuple[LengthChange, ...], tuple[LengthChange, ...]]:
    """Return the cells that moved and the grade steps that changed, by point and size."""
    was, now = chart_grid(old), chart_grid(new)
    cells = [
        LengthChange(*at, was[at], now[at], _is_past(now[at] - was[at], point, new, shop))
        for point in POINTS
        for size in sizes
        if (at := (size, point)) in was and at in now and was[at] != now[at]
    ]
    return tuple(cells), tuple(_changed_steps(was, now, sizes))


def _is_past(by: Fraction, point: str, chart: Chart, shop: Shop | None) -> bool:
    """Say whether a length moved by more than the chart, or else the shop, tolerates."""
    stated = chart.tolerance.get(point)
    usual = shop.tolerance.get(point) if shop else None
    limit = stated.exact if stated else None if usual is None else exact_length(usual)
    return limit is not None and abs(by) > limit


def _changed_steps(
    old: ChartGrid, new: ChartGrid, sizes: tuple[str, ...]
) -> Iterator[LengthChange]:
    for point in POINTS:
        for small, large in itertools.pairwise(sizes):
            at = ((small, point), (large, point))
            if all(cell in old and cell in new for cell in at):
                was, now = old[at[1]] - old[at[0]], new[at[1]] - new[at[0]]
                if was != now:
                    yield LengthChange(f"{small} to {large}", point, was, now)


def tolerance_changes(old: Chart, new: Chart) -> Iterator[str]:
    """Yield the points at which a chart tolerates more or less than before, in words."""
    for point, known in POINTS.items():
        was, now = old.tolerance.get(point), new.tolerance.get(point)
        if was and not now:
            yield f"{known.name}: a tolerance was given before, and is no more"
        elif was and now and was.exact != now.exact:
            both = f"{say_length(was.mm, old.unit)} and is {say_length(now.mm, new.unit)}"
            yield f"{known.name}: the tolerance was {both}"


def missing_cells(old: ChartGrid, new: ChartGrid) -> Iterator[str]:
    """Yield the cells that only the older chart has, in words."""
    for point in POINTS:
        had = [size for size, at in old if at == point]
        gone = [size for size in had if (size, point) not in new]
        if gone:
            which = "" if gone == had else f", {', '.join(gone)}"
            yield f"{POINTS[point].name}{which}: charted before, and no more"
