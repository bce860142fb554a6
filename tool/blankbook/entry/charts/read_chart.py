"""A size chart as a supplier wrote it, read into points, sizes and exact lengths.

Each cell that is not understood is named, and everything that is left out is listed: a number that
was guessed is worse than none.
"""

from collections.abc import Mapping, Sequence

from blankbook.entry.charts.chart_columns import chart_unit, point_columns, size_rows
from blankbook.entry.charts.chart_headings import unit_in_text
from blankbook.entry.charts.chart_layout import ChartColumn, ChartLayout, find_layout
from blankbook.entry.charts.chart_points import (
    add_point,
    chart_points_around,
    check_second_unit,
    point_values,
    too_large_sizes,
)
from blankbook.entry.charts.chart_tolerances import point_tolerances
from blankbook.entry.charts.size_chart import Remarks, SizeChart, TableHints
from blankbook.entry.charts.size_labels import size_rank
from blankbook.entry.tables.spaced_text import cut_at_spaces
from blankbook.entry.tables.table_cells import Cell, NoTableError, Table, check_nothing_hidden
from blankbook.records.lengths import Length
from blankbook.words.points import POINTS


def read_chart(tables: Sequence[Table], hints: TableHints) -> SizeChart:
    """Return the chart in the one table that has one.

    Raises: NoTableError where none has one, or several have; MissingAnswerError where only a
    person can say something.
    """
    found: list[tuple[Table, ChartLayout]] = []
    refused = NoTableError("must be a size chart, found nothing", "give a table")
    for table in tables:
        try:
            found.append((table, find_layout(table, hints.points)))
        except NoTableError as error:
            refused = error
    if not found and len(tables) == 1 and (spaced := _at_spaces(tables[0])):
        found.append((spaced, find_layout(spaced, hints.points)))
    if not found:
        raise refused
    if len(found) > 1:
        names = ", ".join(table.name for table, _ in found)
        raise NoTableError(
            f"has a chart on each of several sheets: {names}", "name one with --sheet"
        )
    check_nothing_hidden(found[0][0])
    return _chart_of(found[0][1], hints)


def _at_spaces(table: Table) -> Table | None:
    """Return the table cut at single spaces; None where it has cells already or cannot be cut."""
    if len(table.rows[0]) > 1:
        return None
    try:
        return cut_at_spaces("\n".join(row[0].text for row in table.rows))
    except NoTableError:
        return None


def _chart_of(layout: ChartLayout, hints: TableHints) -> SizeChart:
    """Return the chart of a layout. Raises: MissingAnswerError."""
    remarks = Remarks()
    rows = size_rows(layout, remarks)
    columns = point_columns(layout, rows, hints.unit or unit_in_text(layout.around_text), remarks)
    unit = chart_unit(hints.unit, layout, rows, columns)
    values = {point: point_values(column, rows, unit, remarks) for point, column in columns.items()}
    check_second_unit(layout, columns, values, rows, remarks)
    around = chart_points_around(columns, values, hints, unit)
    chart = SizeChart(unit, layout.across, remarks=remarks)
    tolerances = point_tolerances(layout, columns, values, rows, unit, remarks)
    for point in (key for key in POINTS if values.get(key)):
        large = (
            too_large_sizes(point, values[point]) if point not in (*around, *hints.flat) else set()
        )
        add_point(
            point, values[point], tolerances[point], 2 if point in around else 1, chart, large
        )
        _note_point(point, columns[point], point in around, chart)
    _list_the_rest(layout, remarks)
    chart.sizes = _in_order([size for size in rows if size in chart.sizes], chart.sizes)
    return chart


def _note_point(point: str, column: ChartColumn, around: bool, chart: SizeChart) -> None:
    """Note what was done with the lengths of a point, and the variant that they are measured by."""
    if around:
        chart.halved.append(point)
        chart.remarks.note(column.cell, "all the way around, so halved")
    if variant := column.heading.how:
        chart.how[point] = variant
        meaning = dict(POINTS[point].variants)[variant]
        chart.remarks.note(column.cell, f"measured {meaning}; measure yours the same way")


def _list_the_rest(layout: ChartLayout, remarks: Remarks) -> None:
    """List every cell that was neither read nor remarked on: nothing is dropped silently.

    What only says a unit, or heads the sizes, was read.
    """
    for row in layout.rows:
        rest = [cell for cell in row if cell.text and not _is_read(cell, layout, remarks)]
        if rest:
            more = f" with {len(rest) - 1} more" if len(rest) > 1 else ""
            remarks.leave_out(rest[0], f"it is no length of a size{more}", rest)


def _is_read(cell: Cell, layout: ChartLayout, remarks: Remarks) -> bool:
    """Say whether a cell was read, remarked on, only says a unit, or heads the sizes."""
    heads = cell is layout.corner and not any(c.isdigit() for c in cell.text)
    return heads or cell.address in remarks.covered or bool(unit_in_text(cell.text))


def _in_order(
    labels: list[str], sizes: Mapping[str, dict[str, Length]]
) -> dict[str, dict[str, Length]]:
    """Return the sizes from the smallest to the largest, by their letters or else their lengths."""
    ranks = {label: found for label in labels if (found := size_rank(label)) is not None}
    if len(ranks) == len(labels):
        labels = sorted(labels, key=ranks.__getitem__)
    elif _falls(sizes[labels[0]], sizes[labels[-1]]):
        labels = labels[::-1]
    return {size: sizes[size] for size in labels}


def _falls(first: Mapping[str, Length], last: Mapping[str, Length]) -> bool:
    shared = [point for point in first if point in last]
    return sum(first[point].mm for point in shared) > sum(last[point].mm for point in shared)
