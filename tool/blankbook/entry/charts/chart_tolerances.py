"""How far a piece may be from each length of a chart, wherever the chart says it.

In the heading of a point, beside each length, in a row or a column of tolerances, or as ranges that
are all equally wide. A chart keeps one tolerance for each point, for both directions and all sizes:
what says anything else is named, and a person decides.
"""

from collections.abc import Mapping
from fractions import Fraction

from blankbook.entry.charts.chart_cells import read_tolerance
from blankbook.entry.charts.chart_columns import TOLERANCE_KINDS
from blankbook.entry.charts.chart_layout import ChartColumn, ChartLayout
from blankbook.entry.charts.chart_points import PointValues, SizeRows
from blankbook.entry.charts.size_chart import Remarks
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.lengths import LengthError

Tolerances = list[tuple[Cell, Fraction]]
TOLERANCE_HELP = "write it with --tolerance POINT=1/2"


def point_tolerances(
    layout: ChartLayout,
    columns: Mapping[str, ChartColumn],
    values: Mapping[str, PointValues],
    rows: SizeRows,
    unit: str,
    remarks: Remarks,
) -> dict[str, Fraction | None]:
    """Return the tolerance of each point in millimetres; remark on tolerances that differ.

    None where the chart says none, or several.
    """
    beside = _tolerance_columns(layout, columns)
    found: dict[str, Fraction | None] = {}
    told: set[str] = set()
    for point, column in columns.items():
        said = _in_column(layout, column, unit, remarks)
        said += _beside_lengths(values[point])
        said += _from_ranges(values[point], remarks)
        for other in beside.get(point, ()):
            said += _down_column(other, column.unit or unit, rows, layout, remarks)
        found[point] = _common(said, told, remarks)
    return found


def _common(said: Tolerances, told: set[str], remarks: Remarks) -> Fraction | None:
    """Return what all of the tolerances of a point say; remark on the first that differs.

    *told* are the cells that were remarked on for another point already.
    """
    for cell, other in said[1:]:
        if other != said[0][1]:
            if cell.address not in told:
                why = "another tolerance for the same point, and a chart keeps one for both "
                remarks.trouble(cell, f"{why}directions and all sizes", TOLERANCE_HELP)
            told.add(cell.address)
            return None
    return said[0][1] if said else None


def _in_column(layout: ChartLayout, column: ChartColumn, unit: str, remarks: Remarks) -> Tolerances:
    """Return what the heading of a point says, and the rows of tolerances under it."""
    found = _read(column.cell, column.heading.allowed, column.unit or unit, remarks)
    for kind, cell in zip(layout.kinds, column.values, strict=True):
        if kind in TOLERANCE_KINDS:
            found += _read(cell, cell.text, column.unit or unit, remarks)
    return found


def _beside_lengths(values: PointValues) -> Tolerances:
    """Return the tolerances that stand beside the lengths themselves."""
    return [(cell, value.allowed) for cell, value in values.values() if value.allowed is not None]


def _down_column(
    column: ChartColumn, unit: str, rows: SizeRows, layout: ChartLayout, remarks: Remarks
) -> Tolerances:
    """Return what a column of tolerances says, size by size."""
    remarks.cover([column.cell])
    found: Tolerances = []
    held = {*rows.values(), *(n for n, kind in enumerate(layout.kinds) if kind in TOLERANCE_KINDS)}
    for at in sorted(held):
        cell = column.values[at]
        found += _read(cell, cell.text, column.unit or unit, remarks)
    return found


def _tolerance_columns(
    layout: ChartLayout, columns: Mapping[str, ChartColumn]
) -> dict[str, list[ChartColumn]]:
    """Return the columns of tolerances that speak of each point.

    One that names its point speaks of that. Others speak of all points where they stand together,
    before or behind the points; else each speaks of the column before it.
    """
    every = layout.columns
    own = [at for at, column in enumerate(every) if column.heading.kind == "tolerance"]
    points = [at for at, column in enumerate(every) if column.heading.kind == "point"]
    together = bool(own) and own[-1] - own[0] == len(own) - 1
    of_all = together and not points[0] < own[0] < points[-1]
    found: dict[str, list[ChartColumn]] = {}
    for at in own:
        named = every[at].heading.point
        before = next((n for n in range(at, -1, -1) if n not in own), None)
        for point, column in columns.items():
            owner = of_all or (before is not None and every[before] is column)
            if point == named or (not named and owner):
                found.setdefault(point, []).append(every[at])
    return found


def _from_ranges(values: PointValues, remarks: Remarks) -> Tolerances:
    """Return the tolerances that ranges give; remark on ranges that differ in width."""
    ranges = [(cell, value.half) for cell, value in values.values() if value.half]
    if len(ranges) == len(values) and len({half for _, half in ranges}) == 1:
        return ranges
    for cell, _ in ranges:
        why = "is a range, and a chart keeps one length"
        remarks.trouble(cell, why, "write the length that the supplier aims at")
    return []


def _read(cell: Cell, text: str, unit: str, remarks: Remarks) -> Tolerances:
    """Return the tolerance in a cell; remark on one that is not understood."""
    remarks.cover([cell])
    try:
        value = read_tolerance(text, unit)
    except LengthError as error:
        remarks.trouble(cell, str(error), error.instead)
        return []
    return [(cell, value.low)] if value else []
