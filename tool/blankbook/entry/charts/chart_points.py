"""What a chart says of each point: its lengths, flat or all the way around, and its tolerance."""

from collections.abc import Collection, Mapping
from fractions import Fraction
from statistics import median

from blankbook.entry.charts.chart_cells import APART, Value, length, read_allowed, read_value
from blankbook.entry.charts.chart_columns import TOLERANCES
from blankbook.entry.charts.chart_findings import Remarks, Said, SizeChart, Unsaid
from blankbook.entry.charts.chart_layout import Column, Layout
from blankbook.entry.charts.flat_or_around import AROUND, NARROW, is_around, wearer
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.lengths import LengthError, say_length
from blankbook.words.points import POINTS

Values = Mapping[str, tuple[Cell, Value]]
Rows = Mapping[str, int]
Allowed = list[tuple[Cell, Fraction]]
LARGE = Fraction(8, 5)
"""Of the middle of all sizes: more is no half chest of a larger size (common practice, no source:
from youth sizes to 6XL a half chest doubles, so none is 1.6 times the middle one)."""
BY_HAND = "write it with --tolerance POINT=1/2"


def values_of(column: Column, rows: Rows, unit: str, remarks: Remarks) -> Values:
    """Return what the cells of one point say, by size."""
    found = {}
    for size, at in rows.items():
        cell = column.values[at]
        if why := _no_value(cell):
            remarks.trouble(cell, why, "write the length of each size into its own cell")
            continue
        try:
            value = read_value(cell.text, column.unit or unit)
        except LengthError as error:
            remarks.trouble(cell, str(error), error.instead)
            continue
        if value is not None:
            found[size] = (cell, value)
    return found


def _no_value(cell: Cell) -> str:
    """Return why a cell's text is not the length of its size, whatever it says."""
    return cell.odd or (f"is merged with other cells, found {cell.over}" if cell.over else "")


def compare_units(
    layout: Layout, columns: Mapping[str, Column], values: Mapping[str, Values], rows: Rows,
    remarks: Remarks,
) -> None:  # fmt: skip
    """Hold a point that is given in a second unit against the first; name what differs."""
    for column in layout.columns:
        kept = columns.get(column.heading.point)
        if kept is None or column is kept or not column.unit or column.unit == kept.unit:
            continue
        if column.heading.around != kept.heading.around or column.heading.how != kept.heading.how:
            continue
        for size, (cell, value) in values_of(column, rows, column.unit, Remarks()).items():
            first = values[column.heading.point].get(size)
            if first and abs(first[1].middle - value.middle) > APART:
                why = f"is not the length that {first[0].address} gives, {first[0].text}"
                remarks.trouble(cell, why, f"keep the right one: --point '{column.cell.text}=-'")


def which_around(
    columns: Mapping[str, Column], values: Mapping[str, Values], said: Said, unit: str
) -> set[str]:
    """Return the points that the chart gives all the way around.

    Raises: Unsaid where words and numbers contradict each other.
    """
    found: set[str] = set()
    body = _middles(values.get("body_length", {}), 1)
    for point in AROUND:  # the chest comes first: the others are held against it
        if point not in values or point in said.flat:
            continue
        chest = _middles(values.get("half_chest", {}), 2 if "half_chest" in found else 1)
        lengths = _middles(values[point], 1)
        seems = is_around(point, lengths, chest, body)
        tells = columns[point].heading.around is True
        if point in said.around or (tells and seems is not False):
            found.add(point)
        elif seems is not None and seems != tells:
            raise _unsure(columns[point], lengths, seems, unit)
    return found


def _unsure(column: Column, lengths: Mapping[str, Fraction], seems: bool, unit: str) -> Unsaid:
    point = column.heading.point
    size = list(lengths)[len(lengths) // 2]
    way = "all the way around" if seems else "flat"
    given = say_length(float(lengths[size]), "in" if unit == "in" else "cm")
    words = f"{POINTS[point].name} of {size} is {given}, which looks as if it were measured {way}"
    likely = "around" if seems else "flat"
    return Unsaid("around", words, likely, point=point, heading=column.cell.text)


def _middles(values: Values, by: int) -> dict[str, Fraction]:
    return {size: value.middle / by for size, (_, value) in values.items()}


def too_large(point: str, values: Values) -> set[str]:
    """Return the sizes whose flat width looks as if it alone were measured all the way around."""
    if point not in AROUND:
        return set()
    middle = median(value.middle for _, value in values.values())
    return {size for size, (_, value) in values.items() if value.middle > middle * LARGE}


def take(
    point: str, values: Values, allowed: Fraction | None, by: int, chart: SizeChart,
    large: Collection[str] = (),
) -> None:  # fmt: skip
    """Put the lengths of one point into the chart; *by* is 2 for all the way around.

    What is *large* is named instead.
    """
    for size, (cell, value) in values.items():
        if size in large:
            why = "looks as if it alone were measured all the way around"
            help_ = f"write its half, or --flat {point} where it is right"
            chart.remarks.trouble(cell, why, help_)
            continue
        exact = value.middle / by
        if value.half and allowed is None:
            continue  # a range that was named already
        if _possible(point, size, cell, exact, chart):
            chart.sizes.setdefault(size, {})[point] = length(exact, value.unit, chart.unit)
    if allowed is not None:
        unit = next((value.unit for _, value in values.values()), chart.unit)
        chart.tolerance[point] = length(allowed / by, unit, chart.unit)


def _possible(point: str, size: str, cell: Cell, exact: Fraction, chart: SizeChart) -> bool:
    limits = POINTS[point]
    chest = wearer(size) if point == "half_chest" else None
    if max(limits.least, (chest or 0) * NARROW) <= exact <= limits.most:
        return True
    given = say_length(float(exact), "in" if chart.unit == "in" else "cm")
    help_ = "look whether the unit is right: --unit in, cm or mm"
    chart.remarks.trouble(cell, f"would be a {limits.name} of {given} for {size}", help_)
    return False


def tolerance_of(
    layout: Layout, column: Column, values: Values, unit: str, remarks: Remarks
) -> Fraction | None:
    """Return the tolerance of one point, millimetres; what contradicts another is named.

    Ranges that are all equally wide are lengths with a tolerance: the middle, and half the range.
    """
    found = _read(column.cell, column.heading.allowed, column.unit or unit, remarks)
    for kind, cell in zip(layout.kinds, column.values, strict=True):
        if kind in TOLERANCES:
            found += _read(cell, cell.text, column.unit or unit, remarks)
    found += [(cell, value.allowed) for cell, value in values.values() if value.allowed is not None]
    found += _from_ranges(values, remarks)
    for cell, other in found[1:]:
        if other != found[0][1]:
            why = "another tolerance for the same point, and a chart keeps one for both directions"
            remarks.trouble(cell, why, BY_HAND)
            return None
    return found[0][1] if found else None


def _from_ranges(values: Values, remarks: Remarks) -> Allowed:
    ranges = [(cell, value.half) for cell, value in values.values() if value.half]
    if len(ranges) == len(values) and len({half for _, half in ranges}) == 1:
        return ranges
    for cell, _ in ranges:
        why = "is a range, and a chart keeps one length"
        remarks.trouble(cell, why, "write the length that the supplier aims at")
    return []


def _read(cell: Cell, text: str, unit: str, remarks: Remarks) -> Allowed:
    try:
        value = read_allowed(text, unit)
    except LengthError as error:
        remarks.trouble(cell, str(error), error.instead)
        return []
    return [(cell, value.low)] if value else []
