"""A size chart as a supplier wrote it, read into points, sizes and exact lengths.

Whatever is not understood is named by its cell, and what is left out is said: a number that was
guessed is worse than none.
"""

from collections.abc import Mapping, Sequence

from blankbook.entry.charts.chart_columns import columns_of, rows_of, unit_of_chart
from blankbook.entry.charts.chart_findings import Remarks, Said, SizeChart
from blankbook.entry.charts.chart_headings import unit_of
from blankbook.entry.charts.chart_layout import Column, Layout, lay_out
from blankbook.entry.charts.chart_points import (
    compare_units,
    take,
    tolerance_of,
    too_large,
    values_of,
    which_around,
)
from blankbook.entry.charts.size_labels import rank
from blankbook.entry.tables.spaced_text import cut_at_spaces
from blankbook.entry.tables.table_cells import NoTable, Table, nothing_hidden
from blankbook.records.lengths import Length
from blankbook.words.points import POINTS


def read_chart(tables: Sequence[Table], said: Said) -> SizeChart:
    """Return the chart in the one table that has one.

    Raises: NoTable where none has, or several have; Unsaid where a person must say something.
    """
    found: list[tuple[Table, Layout]] = []
    refused = NoTable("must be a size chart, found nothing", "give a table")
    for table in tables:
        try:
            found.append((table, lay_out(table, said.points)))
        except NoTable as error:
            refused = error
    if not found and len(tables) == 1 and (spaced := _at_spaces(tables[0])):
        found.append((spaced, lay_out(spaced, said.points)))
    if not found:
        raise refused
    if len(found) > 1:
        names = ", ".join(table.name for table, _ in found)
        raise NoTable(f"has a chart on each of several sheets: {names}", "name one with --sheet")
    nothing_hidden(found[0][0])
    return _read(found[0][1], said)


def _at_spaces(table: Table) -> Table | None:
    """Return the table cut at single spaces, where it has no cells otherwise."""
    if len(table.rows[0]) > 1:
        return None
    try:
        return cut_at_spaces("\n".join(row[0].text for row in table.rows))
    except NoTable:
        return None


def _read(layout: Layout, said: Said) -> SizeChart:
    remarks = Remarks()
    rows = rows_of(layout, remarks)
    columns = columns_of(layout, rows, said.unit or unit_of(layout.said), remarks)
    unit = unit_of_chart(said.unit, layout, rows, columns)
    values = {point: values_of(column, rows, unit, remarks) for point, column in columns.items()}
    compare_units(layout, columns, values, rows, remarks)
    around = which_around(columns, values, said, unit)
    chart = SizeChart(unit, layout.across, remarks=remarks)
    for point in (key for key in POINTS if values.get(key)):
        allowed = tolerance_of(layout, columns[point], values[point], unit, remarks)
        large = too_large(point, values[point]) if point not in (*around, *said.flat) else set()
        take(point, values[point], allowed, 2 if point in around else 1, chart, large)
        _say(point, columns[point], point in around, chart)
    chart.sizes = _in_order([size for size in rows if size in chart.sizes], chart.sizes)
    return chart


def _say(point: str, column: Column, around: bool, chart: SizeChart) -> None:
    """Note what was done with the lengths of a point, and the way in which they are measured."""
    if around:
        chart.halved.append(point)
        chart.remarks.note(column.cell, "all the way around, so halved")
    if way := column.heading.how:
        chart.how[point] = way
        meaning = dict(POINTS[point].variants)[way]
        chart.remarks.note(column.cell, f"measured {meaning}; measure yours the same way")


def _in_order(
    labels: list[str], sizes: Mapping[str, dict[str, Length]]
) -> dict[str, dict[str, Length]]:
    """Return the sizes from the smallest to the largest: by their letters, or by their lengths."""
    ranks = {label: found for label in labels if (found := rank(label)) is not None}
    if len(ranks) == len(labels):
        labels = sorted(labels, key=ranks.__getitem__)
    elif _falls(sizes[labels[0]], sizes[labels[-1]]):
        labels = labels[::-1]
    return {size: sizes[size] for size in labels}


def _falls(first: Mapping[str, Length], last: Mapping[str, Length]) -> bool:
    shared = [point for point in first if point in last]
    return sum(first[point].mm for point in shared) > sum(last[point].mm for point in shared)
