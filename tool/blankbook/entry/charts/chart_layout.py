"""Where the sizes and the points of a chart stand: sizes down or across, titles and notes around.

A table is looked at both ways; from here on sizes go down and points across.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import accumulate

from blankbook.entry.charts.chart_headings import (
    Heading,
    point_of,
    read_heading,
    unit_of,
    without_footnote,
)
from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.tables.table_cells import Cell, NoTable, Table

MOST_CELLS = 20_000
LEAVE_OUT = "-"
_NO_CHART = "must be a size chart, found no sizes beside points of measure"
_HELP = "give a line of sizes and a line of headings such as Size, Chest width, Body length"
_SAYS_LITTLE = {"left_out", "unknown", "empty"}


@dataclass(frozen=True, slots=True)
class Column:
    """One point of the chart: its heading, and what stands under it, row by row."""

    cell: Cell
    heading: Heading
    values: tuple[Cell, ...]
    unit: str


@dataclass(frozen=True, slots=True)
class Layout:
    """A chart with its sizes down, cut into what it consists of."""

    labels: tuple[Cell, ...]
    """What stands where sizes stand, row by row."""
    kinds: tuple[str, ...]
    """Of each row: a size label, ``tolerance``, ``+`` or ``-`` of one, or nothing."""
    columns: tuple[Column, ...]
    across: bool
    """Whether the sizes stood across."""
    said: str
    """Everything that stands around the chart, on one line."""


def lay_out(table: Table, points: Mapping[str, str]) -> Layout:
    """Return the chart in a table; *points* says what headings mean that a person named.

    Raises: NoTable where there is none.
    """
    if len(table.rows) * len(table.rows[0]) > MOST_CELLS:
        raise NoTable("must be a size chart, found a much larger table", "give the chart alone")
    ways = [
        _look(view, points, across) for view, across in ((table, False), (table.turned(), True))
    ]
    best = max(ways, key=lambda way: way.score)
    if not best.score:
        raise NoTable(_NO_CHART, _HELP)
    return _cut(best)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to look at a table: the row of headings, the column of sizes, and how much is so."""

    table: Table
    across: bool
    headings: tuple[tuple[Heading, ...], ...]
    row: int = 0
    column: int = 0
    score: int = 0
    numbers: bool = False


def _look(table: Table, points: Mapping[str, str], across: bool) -> _Way:
    named = {_key(text): point for text, point in points.items()}
    headings = tuple(tuple(_heading(cell.text, named) for cell in row) for row in table.rows)
    way = _Way(table, across, headings)
    return max((way, *_candidates(way)), key=lambda candidate: candidate.score)


def _key(text: str) -> str:
    return " ".join(without_footnote(text).casefold().split())


def _heading(text: str, named: Mapping[str, str]) -> Heading:
    found = read_heading(text)
    told = named.get(_key(text))
    if told is None:
        return found
    if told == LEAVE_OUT:
        return Heading("left_out", why="left out as you say")
    how = found.how if found.point == told else ""
    return replace(found, kind="point", point=point_of(told), how=how, why="")


def _candidates(way: _Way) -> Iterator[_Way]:
    """Yield each row of headings with each column of sizes under it."""
    rows = way.table.rows
    for column in range(len(rows[0])):
        below = {
            counted: _labels_from(way.table, column, numbers=counted) for counted in (False, True)
        }
        headed = False
        for row, headings in enumerate(way.headings):
            headed = headed or headings[column].kind == "size"
            count = sum(heading.kind == "point" for heading in headings)
            if not count or headings[column].kind == "point":
                continue
            first = next((at for at, heading in enumerate(headings) if heading.kind == "point"), 0)
            numbers = headed or (not rows[row][column].text and column < first)
            found = below[numbers][row + 1]
            yield replace(way, row=row, column=column, score=count * found, numbers=numbers)


def _labels_from(table: Table, column: int, *, numbers: bool) -> list[int]:
    """Return how many sizes stand in a column from each row on."""
    are = [bool(size_label(row[column].text, numbers=numbers)) for row in table.rows]
    return [*list(accumulate(reversed(are)))[::-1], 0]


def _cut(way: _Way) -> Layout:
    rows, top = way.table.rows, way.row
    below = rows[top + 1 :]
    labels = tuple(row[way.column] for row in below)
    kinds = tuple(_kind(cell, way.numbers) for cell in labels)
    columns = _in_parts([_column(way, at, heading) for at, heading in _inherited(way)])
    full = tuple(
        column for column in columns if column.cell.text or any(c.text for c in column.values)
    )
    said = [cell.text for row in rows[:top] for cell in row if cell.text]
    said.append(rows[top][way.column].text)
    said += [column.cell.text for column in full if not any(cell.text for cell in column.values)]
    said += [_only(row) for row, kind in zip(below, kinds, strict=True) if not kind and _only(row)]
    return Layout(labels, kinds, full, way.across, " / ".join(text for text in said if text))


def _column(way: _Way, at: int, heading: Heading) -> Column:
    values = tuple(row[at] for row in way.table.rows[way.row + 1 :])
    cell = way.table.rows[way.row][at]
    return Column(cell, heading, values, heading.unit or _unit_among(values))


def _in_parts(columns: list[Column]) -> list[Column]:
    """Return columns with the unit of the part that they stand in, below ``Inches`` for one."""
    unit, found = "", []
    for column in columns:
        if column.heading.kind == "unknown" and not any(cell.text for cell in column.values):
            unit = unit_of(column.cell.text) or unit
        found.append(column if column.unit else replace(column, unit=unit))
    return found


def _inherited(way: _Way) -> list[tuple[int, Heading]]:
    """Return the headings beside the sizes; under a heading over two columns both have it."""
    found: list[tuple[int, Heading]] = []
    below = way.table.rows[way.row + 1 : way.row + 2]
    for at, heading in enumerate(way.headings[way.row]):
        if at == way.column:
            continue
        inherits = heading.kind == "empty" and found and below and unit_of(below[0][at].text)
        found.append((at, found[-1][1] if inherits else heading))
    return found


def _unit_among(values: tuple[Cell, ...]) -> str:
    """Return the unit that stands in a cell of its own under a heading."""
    bare = [unit_of(cell.text) for cell in values if not any(c.isdigit() for c in cell.text)]
    return next(filter(None, bare), "")


def _kind(cell: Cell, numbers: bool) -> str:
    found = read_heading(cell.text)
    if found.kind == "tolerance":
        return found.why or "tolerance"
    return size_label(cell.text, numbers=numbers)


def _only(row: tuple[Cell, ...]) -> str:
    """Return the text of a row that has nothing but one text: a note below the chart."""
    full = [cell.text for cell in row if cell.text]
    return full[0] if len(full) == 1 else ""


def says_little(cell: Cell) -> bool:
    """Say whether a cell beside no size is a description, a code or a unit: no number is lost."""
    text = cell.text
    return not any(c.isdigit() or c in "½¼¾⅛⅜⅝⅞" for c in text) or bool(unit_of(text))


def is_described(cell: Cell) -> bool:
    """Say whether a row without a size says by its name that it is no size."""
    found = read_heading(cell.text)
    return found.kind == "left_out" or (found.kind in _SAYS_LITTLE and unit_of(cell.text) != "")
