"""What in a new size chart looks like a slip of the supplier's pen."""

import itertools
from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.facts.changed_slips import is_unit_slip
from blankbook.history.moved.chart_grid import ChartGrid
from blankbook.words.points import INCH, POINTS


def chart_slips(old: ChartGrid, new: ChartGrid, sizes: tuple[str, ...]) -> Iterator[str]:
    """Yield what in a new chart looks like a slip of the pen, in words."""
    points = [point for point in POINTS if any(at[1] == point for at in new)]
    for point in points:
        both = [
            (size, old[size, point], new[size, point])
            for size in sizes
            if (size, point) in old and (size, point) in new
        ]
        yield from _column_slips(point, both)
        yield from _reversed_sizes(point, new, sizes)
    yield from _copied_rows(new, sizes)
    yield from _swapped_columns(old, new, points)


def _column_slips(point: str, both: list[tuple[str, Fraction, Fraction]]) -> Iterator[str]:
    """Yield what looks wrong in one column; *both* are its sizes with the old and new length."""
    name = POINTS[point].name
    shifts = {now - was for _, was, now in both}
    if len(both) > 2 and len(shifts) == 1 and shifts != {Fraction()}:
        yield f"{name}: every size moved by the same"
    if any(is_unit_slip(was, now) for _, was, now in both):
        yield f"{name}: the ratio of new to old is 2.54, as when inches are taken for centimetres"
        return
    for size, was, now in both:
        if abs(now - was) >= INCH:
            yield f"{name}, {size}: moved by an inch or more"


def _reversed_sizes(point: str, new: ChartGrid, sizes: tuple[str, ...]) -> Iterator[str]:
    lengths = [(size, new[size, point]) for size in sizes if (size, point) in new]
    for (small, small_length), (large, large_length) in itertools.pairwise(lengths):
        if small_length > large_length:
            yield f"{POINTS[point].name}: {small} is larger than {large}"


def _copied_rows(new: ChartGrid, sizes: tuple[str, ...]) -> Iterator[str]:
    rows = {s: {at[1]: value for at, value in new.items() if at[0] == s} for s in sizes}
    for small, large in itertools.pairwise(sizes):
        if len(rows[small]) > 1 and rows[small] == rows[large]:
            yield f"{large}: the row is a copy of {small}"


def _swapped_columns(old: ChartGrid, new: ChartGrid, points: list[str]) -> Iterator[str]:
    for index, point in enumerate(points):
        for other in points[index + 1 :]:
            rows = [size for size, at in new if at == point and (size, other) in new]
            same = [
                old.get((s, point)) == new[s, other] and old.get((s, other)) == new[s, point]
                for s in rows
            ]
            if rows and all(same) and any(new[s, point] != new[s, other] for s in rows):
                yield f"{POINTS[point].name} and {POINTS[other].name}: the columns are swapped"
