"""The sizes, the points and the unit of a chart; everything else is listed in the remarks."""

from collections.abc import Mapping
from fractions import Fraction

from blankbook.entry.charts.chart_cells import ROUNDING_DIFFERENCE, CellValue, read_cell
from blankbook.entry.charts.chart_headings import unit_in_text
from blankbook.entry.charts.chart_layout import (
    ChartColumn,
    ChartLayout,
    has_no_length,
    is_named_no_size,
)
from blankbook.entry.charts.size_chart import MissingAnswerError, Remarks
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.lengths import LengthError
from blankbook.words.points import POINTS

TOLERANCE_KINDS = {"tolerance", "+", "-", "−", "–"}
LIKELY_INCHES = Fraction(7, 10)
"""As a share of the largest possible length: above it, a number is likelier in centimetres than in
inches (common practice, no source)."""


def size_rows(layout: ChartLayout, remarks: Remarks) -> dict[str, int]:
    """Return the index of each size's row, in the order of the chart."""
    found: dict[str, int] = {}
    for at, (cell, kind) in enumerate(zip(layout.labels, layout.kinds, strict=True)):
        if kind in TOLERANCE_KINDS:
            remarks.cover([cell])
        elif not kind:
            _note_row_without_size(layout, cell, at, remarks)
        elif kind in found:
            remarks.trouble(cell, f"the size {kind} is there twice", "give one chart at a time")
        else:
            found[kind] = at
            remarks.cover([cell])
    return found


def _note_row_without_size(layout: ChartLayout, cell: Cell, at: int, remarks: Remarks) -> None:
    """Remark on a row without a size, unless it only says the units of its columns."""
    beside = [column.values[at] for column in layout.columns if column.values[at].text]
    if not beside:
        return
    if is_named_no_size(cell):
        if all(unit_in_text(neighbour.text) for neighbour in beside):
            remarks.cover(beside)
        else:
            remarks.leave_out(cell, "it is no size", beside)
        return
    odd = [neighbour for neighbour in beside if not has_no_length(neighbour)]
    if cell.text and odd:
        remarks.trouble(cell, "is no size", "write a label such as L, 2XL or 9-11, or delete it")
        return
    for neighbour in odd:
        remarks.trouble(neighbour, "stands beside no size")


def point_columns(
    layout: ChartLayout, rows: Mapping[str, int], unit: str, remarks: Remarks
) -> dict[str, ChartColumn]:
    """Return a column for each point; of two columns for a point, the one in *unit*."""
    found: dict[str, ChartColumn] = {}
    for column in layout.columns:
        if column.heading.kind == "point":
            _keep_column(found, column, unit, remarks)
        elif any(column.values[at].text for at in rows.values()):
            _leave_out(column, rows, remarks)
    return found


def _keep_column(
    found: dict[str, ChartColumn], column: ChartColumn, unit: str, remarks: Remarks
) -> None:
    """Keep a column for its point; of two, keep the one in *unit*, and note the other."""
    point = column.heading.point
    other = found.get(point)
    better = other is None or (column.unit == unit and other.unit not in {unit, ""})
    if better:
        found[point] = column
    left = other if better else column
    remarks.cover([column.cell])
    if left:
        name, where = POINTS[point].name, found[point].cell.address
        remarks.leave_out(left.cell, f"{name} is taken from {where}", left.values)


def _leave_out(column: ChartColumn, rows: Mapping[str, int], remarks: Remarks) -> None:
    """Remark on a column that is for no point: left out, unknown, or without a heading."""
    if column.heading.kind == "left_out":
        remarks.leave_out(column.cell, column.heading.why, column.values)
    elif column.heading.kind == "unknown":
        instead = (
            f"write --point '{column.cell.text}=half_chest', or '{column.cell.text}=-' to leave it"
        )
        remarks.trouble(column.cell, "is no point of measure that is known", f"{instead} out")
        remarks.cover(column.values)
    elif column.heading.kind != "tolerance":
        for at in rows.values():
            if column.values[at].text:
                remarks.trouble(column.values[at], "stands under no heading")


def chart_unit(
    given: str, layout: ChartLayout, rows: Mapping[str, int], columns: Mapping[str, ChartColumn]
) -> str:
    """Return the unit of bare numbers.

    It is *given* by a person, or else written around the chart, in a heading, or in every cell.
    Raises: MissingAnswerError where nothing says it.
    """
    named = sorted({column.unit for column in columns.values() if column.unit})
    if unit := given or unit_in_text(layout.around_text) or (named[0] if named else ""):
        return unit
    cells = [column.values[at].text for column in columns.values() for at in rows.values()]
    own = {_own_unit(text) for text in cells if text}
    if own and "" not in own:
        return min(own, key=lambda own_unit: own_unit != "in")  # of several, inches
    raise MissingAnswerError("unit", "the chart does not say its unit", _likely_unit(columns, rows))


def _own_unit(text: str) -> str:
    """Return the unit that a cell itself names: it reads the same whatever unit is assumed."""
    first, second = (_value_or_none(text, unit) for unit in ("in", "cm"))
    if first is None:
        return second.unit if second else ""
    if second is None or first.unit == second.unit:
        return first.unit
    same = abs(first.middle - second.middle) <= ROUNDING_DIFFERENCE  # it states both units
    return first.unit if same else ""


def _likely_unit(columns: Mapping[str, ChartColumn], rows: Mapping[str, int]) -> str:
    """Return inches, unless most numbers would be too long as inches."""
    inches = [
        value.middle <= POINTS[point].most * LIKELY_INCHES
        for point, column in columns.items()
        for at in rows.values()
        if (value := _value_or_none(column.values[at].text, "in")) is not None
    ]
    return "in" if sum(inches) * 2 >= len(inches) else "cm"


def _value_or_none(text: str, unit: str) -> CellValue | None:
    try:
        return read_cell(text, unit)
    except LengthError:
        return None
