"""What a chart says of each point: its lengths, flat or all the way around."""

from collections.abc import Collection, Mapping
from fractions import Fraction
from statistics import median

from blankbook.entry.charts.chart_cells import (
    ROUNDING_DIFFERENCE,
    CellValue,
    chart_length,
    read_cell,
)
from blankbook.entry.charts.chart_layout import ChartColumn, ChartLayout
from blankbook.entry.charts.size_chart import MissingAnswerError, Remarks, SizeChart, TableHints
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.flat_or_around import MAYBE_AROUND, NARROW, is_around, wearers_chest
from blankbook.records.lengths import LengthError, say_length
from blankbook.words.points import POINTS

PointValues = Mapping[str, tuple[Cell, CellValue]]
SizeRows = Mapping[str, int]
TOO_LARGE = Fraction(8, 5)
"""Times the median of all sizes: a larger half chest is not just of a larger size (common practice,
no source: from youth sizes to 6XL a half chest doubles, so none is 1.6 times the median)."""


def point_values(column: ChartColumn, rows: SizeRows, unit: str, remarks: Remarks) -> PointValues:
    """Return what the cells of one point say, by size; remark on each that is not understood."""
    found = {}
    for size, at in rows.items():
        cell = column.values[at]
        remarks.cover([cell])
        if why := _no_length(cell):
            remarks.trouble(cell, why, "write the length of each size into its own cell")
            continue
        try:
            value = read_cell(cell.text, column.unit or unit)
        except LengthError as error:
            remarks.trouble(cell, str(error), error.instead)
            continue
        if value is not None:
            found[size] = (cell, value)
    return found


def _no_length(cell: Cell) -> str:
    """Return why a cell cannot be the length of its size, whatever it says; or nothing."""
    return cell.odd or (f"is merged with other cells, found {cell.over}" if cell.over else "")


def check_second_unit(
    layout: ChartLayout,
    columns: Mapping[str, ChartColumn],
    values: Mapping[str, PointValues],
    rows: SizeRows,
    remarks: Remarks,
) -> None:
    """Compare points that are given in a second unit with the first; remark on what differs."""
    for column in layout.columns:
        kept = columns.get(column.heading.point)
        if kept is None or column is kept or not column.unit or column.unit == kept.unit:
            continue
        if column.heading.around != kept.heading.around or column.heading.how != kept.heading.how:
            continue
        for size, (cell, value) in point_values(column, rows, column.unit, Remarks()).items():
            first = values[column.heading.point].get(size)
            if first and abs(first[1].middle - value.middle) > ROUNDING_DIFFERENCE:
                why = f"is not the length that {first[0].address} gives, {first[0].text}"
                remarks.trouble(cell, why, f"keep the right one: --point '{column.cell.text}=-'")


def chart_points_around(
    columns: Mapping[str, ChartColumn],
    values: Mapping[str, PointValues],
    hints: TableHints,
    unit: str,
) -> set[str]:
    """Return the points that the chart gives all the way around.

    Raises: MissingAnswerError where words and numbers contradict each other.
    """
    found: set[str] = set()
    body = _middles(values.get("body_length", {}), 1)
    for point in MAYBE_AROUND:  # the chest comes first: the others are compared with it
        if point not in values or point in hints.flat:
            continue
        chest = _middles(values.get("half_chest", {}), 2 if "half_chest" in found else 1)
        lengths = _middles(values[point], 1)
        seems = is_around(point, lengths, chest, body)
        tells = columns[point].heading.around is True
        if point in hints.around or (tells and seems is not False):
            found.add(point)
        elif seems is not None and seems != tells:
            raise _around_or_flat(columns[point], lengths, seems, unit)
    return found


def _around_or_flat(
    column: ChartColumn, lengths: Mapping[str, Fraction], seems: bool, unit: str
) -> MissingAnswerError:
    """Return the question how a point was measured, by the length of its middle size."""
    point = column.heading.point
    size = list(lengths)[len(lengths) // 2]
    way = "all the way around" if seems else "flat"
    given = say_length(float(lengths[size]), "in" if unit == "in" else "cm")
    words = f"{POINTS[point].name} of {size} is {given}, which looks as if it were measured {way}"
    likely = "around" if seems else "flat"
    return MissingAnswerError("around", words, likely, point=point, heading=column.cell.text)


def _middles(values: PointValues, by: int) -> dict[str, Fraction]:
    return {size: value.middle / by for size, (_, value) in values.items()}


def too_large_sizes(point: str, values: PointValues) -> set[str]:
    """Return the sizes whose width alone looks as if it were measured all the way around."""
    if point not in MAYBE_AROUND:
        return set()
    middle = median(value.middle for _, value in values.values())
    return {size for size, (_, value) in values.items() if value.middle > middle * TOO_LARGE}


def add_point(
    point: str, values: PointValues, allowed: Fraction | None, by: int, chart: SizeChart,
    large: Collection[str] = (),
) -> None:  # fmt: skip
    """Add the lengths of one point to the chart; *by* is 2 for all the way around.

    Sizes in *large* get a remark instead.
    """
    for size, (cell, value) in values.items():
        if size in large:
            why = "looks as if it alone were measured all the way around"
            help_ = f"write its half, or --flat {point} where it is right"
            chart.remarks.trouble(cell, why, help_)
            continue
        exact = value.middle / by
        if value.half and allowed is None:
            continue  # a range without a common width, which has its remark already
        if _is_possible(point, size, cell, exact, chart):
            chart.sizes.setdefault(size, {})[point] = chart_length(exact, value.unit, chart.unit)
    if allowed is not None:
        unit = next((value.unit for _, value in values.values()), chart.unit)
        chart.tolerance[point] = chart_length(allowed / by, unit, chart.unit)


def _is_possible(point: str, size: str, cell: Cell, exact: Fraction, chart: SizeChart) -> bool:
    """Say whether a garment can have a length; remark on one that no garment has."""
    limits = POINTS[point]
    chest = wearers_chest(size) if point == "half_chest" else None
    if max(limits.least, (chest or 0) * NARROW) <= exact <= limits.most:
        return True
    given = say_length(float(exact), "in" if chart.unit == "in" else "cm")
    help_ = "look whether the unit is right: --unit in, cm or mm"
    chart.remarks.trouble(cell, f"would be a {limits.name} of {given} for {size}", help_)
    return False
