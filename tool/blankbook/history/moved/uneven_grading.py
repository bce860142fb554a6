"""Whether the grading of a chart became uneven or reversed."""

import itertools
from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.moved.chart_grid import ChartGrid
from blankbook.records.lengths import say_length
from blankbook.records.model import Shop
from blankbook.words.points import POINTS


def uneven_points(
    old: ChartGrid, new: ChartGrid, sizes: tuple[str, ...], shop: Shop | None
) -> Iterator[str]:
    """Yield the points whose grade steps changed and are uneven, missing or reversed now, in words.

    Steps are uneven where they differ among themselves by more than they did before.
    """
    unit = shop.unit if shop else "in"
    for point, known in POINTS.items():
        was, now = _steps(old, sizes, point), _steps(new, sizes, point)
        if not now or was == now:
            continue
        span = (
            f"steps of {say_length(float(min(now)), unit)} to {say_length(float(max(now)), unit)}"
        )
        if min(now) < 0:
            yield f"{known.name}: the grading is reversed, {span}"
        elif min(now) == 0 and known.step:
            yield f"{known.name}: two labels share one length, {span}"
        elif max(now) - min(now) > (max(was) - min(was) if was else 0):
            before = f"; before all {say_length(float(was[0]), unit)}" if len(set(was)) == 1 else ""
            yield f"{known.name}: the grading is uneven now, {span}{before}"


def _steps(grid: ChartGrid, sizes: tuple[str, ...], point: str) -> list[Fraction]:
    charted = [size for size in sizes if (size, point) in grid]
    return [grid[large, point] - grid[small, point] for small, large in itertools.pairwise(charted)]
