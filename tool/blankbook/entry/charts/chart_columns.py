"""The sizes, the points and the unit of a chart that was laid out; what is none of them is said."""

from collections.abc import Mapping
from fractions import Fraction

from blankbook.entry.charts.chart_cells import Value, read_value
from blankbook.entry.charts.chart_findings import Remarks, Unsaid
from blankbook.entry.charts.chart_headings import unit_of
from blankbook.entry.charts.chart_layout import Column, Layout, is_described, says_little
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.lengths import LengthError
from blankbook.words.points import POINTS

TOLERANCES = {"tolerance", "+", "-", "−", "–"}
LIKELY = Fraction(7, 10)
"""Of the most that is possible: what is more, taken as inches, is centimetres (common practice)."""


def rows_of(layout: Layout, remarks: Remarks) -> dict[str, int]:
    """Return the row of each size, in the order of the chart."""
    found: dict[str, int] = {}
    for at, (cell, kind) in enumerate(zip(layout.labels, layout.kinds, strict=True)):
        if kind in TOLERANCES:
            continue
        if not kind:
            _no_size(layout, cell, at, remarks)
        elif kind in found:
            remarks.trouble(cell, f"the size {kind} is there twice", "give one chart at a time")
        else:
            found[kind] = at
    return found


def _no_size(layout: Layout, cell: Cell, at: int, remarks: Remarks) -> None:
    beside = [column.values[at] for column in layout.columns if column.values[at].text]
    if not beside:
        return
    if is_described(cell):
        if not all(says_little(neighbour) for neighbour in beside):
            remarks.note(cell, "left out, it is no size")
        return
    odd = [neighbour for neighbour in beside if not says_little(neighbour)]
    if cell.text and odd:
        remarks.trouble(cell, "is no size", "write a label such as L, 2XL or 9-11, or delete it")
        return
    for neighbour in odd:
        remarks.trouble(neighbour, "stands beside no size")


def columns_of(
    layout: Layout, rows: Mapping[str, int], unit: str, remarks: Remarks
) -> dict[str, Column]:
    """Return a column for each point; *unit* is preferred where a point is there in two."""
    found: dict[str, Column] = {}
    for column in layout.columns:
        if column.heading.kind == "point":
            _keep(found, column, unit, remarks)
        elif any(column.values[at].text for at in rows.values()):
            _leave(column, rows, remarks)
    return found


def _keep(found: dict[str, Column], column: Column, unit: str, remarks: Remarks) -> None:
    point = column.heading.point
    other = found.get(point)
    better = other is None or (column.unit == unit and other.unit not in {unit, ""})
    if better:
        found[point] = column
    left = other if better else column
    if left:
        name, where = POINTS[point].name, found[point].cell.address
        remarks.note(left.cell, f"left out, {name} is taken from {where}")


def _leave(column: Column, rows: Mapping[str, int], remarks: Remarks) -> None:
    if column.heading.kind == "left_out":
        remarks.note(column.cell, f"left out, {column.heading.why}")
    elif column.heading.kind == "unknown":
        instead = (
            f"write --point '{column.cell.text}=half_chest', or '{column.cell.text}=-' to leave it"
        )
        remarks.trouble(column.cell, "is no point of measure that is known", f"{instead} out")
    elif column.heading.kind != "tolerance":
        for at in rows.values():
            if column.values[at].text:
                remarks.trouble(column.values[at], "stands under no heading")


def unit_of_chart(
    said: str, layout: Layout, rows: Mapping[str, int], columns: Mapping[str, Column]
) -> str:
    """Return the unit of bare numbers: as a person says, as is written around, over, or beside.

    Raises: Unsaid where nothing says it.
    """
    named = sorted({column.unit for column in columns.values() if column.unit})
    if unit := said or unit_of(layout.said) or (named[0] if named else ""):
        return unit
    cells = [column.values[at].text for column in columns.values() for at in rows.values()]
    own = {_own_unit(text) for text in cells if text}
    if own and "" not in own:
        return min(own, key=lambda own_unit: own_unit != "in")
    raise Unsaid("unit", "the chart does not say its unit", _likely(columns, rows))


def _own_unit(text: str) -> str:
    """Return the unit that a cell itself names: it reads alike whatever else is taken for bare."""
    first, second = (_try(text, unit) for unit in ("in", "cm"))
    if first is None:
        return second.unit if second else ""
    return first.unit if second is None or first.unit == second.unit else ""


def _likely(columns: Mapping[str, Column], rows: Mapping[str, int]) -> str:
    inches = [
        value.middle <= POINTS[point].most * LIKELY
        for point, column in columns.items()
        for at in rows.values()
        if (value := _try(column.values[at].text, "in")) is not None
    ]
    return "in" if sum(inches) * 2 >= len(inches) else "cm"


def _try(text: str, unit: str) -> Value | None:
    try:
        return read_value(text, unit)
    except LengthError:
        return None
