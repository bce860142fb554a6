"""Where sizes and points stand in a table: sizes down or across, with titles and notes around.

A table is looked at as it is and turned; in the layout, sizes go down and points across.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import accumulate

from blankbook.entry.charts.chart_headings import (
    Heading,
    known_point,
    read_heading,
    unit_in_text,
    without_footnote,
)
from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.tables.table_cells import Cell, NoTableError, Table

MOST_CHART_CELLS = 20_000
"""Every row of headings is tried with every column of sizes: a larger table would take long."""
LEAVE_OUT = "-"
"""What a person writes for a heading that is to be left out."""
_NO_CHART = "must be a size chart, found no sizes beside points of measure"
_HELP = "give a line of sizes and a line of headings such as Size, Chest width, Body length"
_NO_SIZE_KINDS = {"left_out", "unknown", "empty"}


@dataclass(frozen=True, slots=True)
class ChartColumn:
    """One point of the chart: its heading, and what stands under it, row by row."""

    cell: Cell
    heading: Heading
    values: tuple[Cell, ...]
    unit: str


@dataclass(frozen=True, slots=True)
class ChartLayout:
    """A chart with its sizes down, cut into its parts."""

    labels: tuple[Cell, ...]
    """The cells of the column of sizes, row by row."""
    kinds: tuple[str, ...]
    """Of each row: a size label, ``tolerance``, ``+`` or ``-`` of one, or nothing."""
    columns: tuple[ChartColumn, ...]
    across: bool
    """Whether the sizes stood across."""
    around_text: str
    """Everything that stands around the chart, on one line."""
    corner: Cell
    """The heading of the sizes."""
    rows: tuple[tuple[Cell, ...], ...]
    """All of the table, with its sizes down."""


def find_layout(table: Table, points: Mapping[str, str]) -> ChartLayout:
    """Return the layout of the chart in a table; *points* are headings that a person explained.

    Raises: NoTableError where there is none.
    """
    if len(table.rows) * len(table.rows[0]) > MOST_CHART_CELLS:
        raise NoTableError(
            "must be a size chart, found a much larger table", "give the chart alone"
        )
    candidates = [
        _best_candidate(view, points, across)
        for view, across in ((table, False), (table.turned(), True))
    ]
    best = max(candidates, key=lambda candidate: candidate.score)
    if not best.score:
        raise NoTableError(_NO_CHART, _HELP)
    return _layout_of(best)


@dataclass(frozen=True, slots=True)
class _Candidate:
    """One guess at a layout: a row of headings, a column of sizes, and how well they fit."""

    table: Table
    across: bool
    headings: tuple[tuple[Heading, ...], ...]
    row: int = 0
    column: int = 0
    score: int = 0
    """Headings that are points, times rows that are sizes."""
    numbers: bool = False
    """Whether a bare number may be a size, as on children's charts."""


def _best_candidate(table: Table, points: Mapping[str, str], across: bool) -> _Candidate:
    """Return the guess that fits a table best; its score is 0 where none fits."""
    named = {_plain_heading(text): point for text, point in points.items()}
    headings = tuple(tuple(_heading(cell.text, named) for cell in row) for row in table.rows)
    candidate = _Candidate(table, across, headings)
    return max((candidate, *_candidates(candidate)), key=lambda candidate: candidate.score)


def _plain_heading(text: str) -> str:
    return " ".join(without_footnote(text).casefold().split())


def _heading(text: str, named: Mapping[str, str]) -> Heading:
    """Return what a heading means; a person's word counts before the spelling."""
    found = read_heading(text)
    named_point = named.get(_plain_heading(text))
    if named_point is None:
        return found
    if named_point == LEAVE_OUT:
        return Heading("left_out", why="as you asked")
    how = found.how if found.point == named_point else ""
    return replace(found, kind="point", point=known_point(named_point), how=how, why="")


def _candidates(candidate: _Candidate) -> Iterator[_Candidate]:
    """Yield each row that has headings with each column of sizes under it."""
    rows = candidate.table.rows
    for column in range(len(rows[0])):
        below = {
            counted: _label_counts(candidate.table, column, numbers=counted)
            for counted in (False, True)
        }
        headed = False
        for row, headings in enumerate(candidate.headings):
            headed = headed or headings[column].kind == "size"
            count = sum(heading.kind == "point" for heading in headings)
            if not count or headings[column].kind == "point":
                continue
            first = next((at for at, heading in enumerate(headings) if heading.kind == "point"), 0)
            # A bare number is a size only under a heading that says so, or under none left of the
            # first point; elsewhere it is a length.
            numbers = headed or (not rows[row][column].text and column < first)
            found = below[numbers][row + 1]
            yield replace(candidate, row=row, column=column, score=count * found, numbers=numbers)


def _label_counts(table: Table, column: int, *, numbers: bool) -> list[int]:
    """Return how many sizes stand in a column from each row down; a last 0 for below the table."""
    are = [bool(size_label(row[column].text, numbers=numbers)) for row in table.rows]
    return [*list(accumulate(reversed(are)))[::-1], 0]


def _layout_of(candidate: _Candidate) -> ChartLayout:
    """Return the parts of a table as a candidate cuts it."""
    rows, top = candidate.table.rows, candidate.row
    below = rows[top + 1 :]
    labels = tuple(row[candidate.column] for row in below)
    kinds = tuple(_row_kind(cell, candidate.numbers) for cell in labels)
    columns = _with_units_of_parts(
        [_column(candidate, at, heading) for at, heading in _headings_beside_sizes(candidate)]
    )
    full = tuple(
        column for column in columns if column.cell.text or any(c.text for c in column.values)
    )
    texts = [cell.text for row in rows[:top] for cell in row if cell.text]
    texts.append(rows[top][candidate.column].text)
    texts += [column.cell.text for column in full if not any(cell.text for cell in column.values)]
    texts += [
        _single_text(row)
        for row, kind in zip(below, kinds, strict=True)
        if not kind and _single_text(row)
    ]
    return ChartLayout(
        labels,
        kinds,
        full,
        candidate.across,
        " / ".join(text for text in texts if text),
        rows[top][candidate.column],
        rows,
    )


def _column(candidate: _Candidate, at: int, heading: Heading) -> ChartColumn:
    values = tuple(row[at] for row in candidate.table.rows[candidate.row + 1 :])
    cell = candidate.table.rows[candidate.row][at]
    return ChartColumn(cell, heading, values, heading.unit or _unit_among(values))


def _with_units_of_parts(columns: list[ChartColumn]) -> list[ChartColumn]:
    """Return columns with the unit of their part: an empty column headed ``Inches`` begins one."""
    unit, found = "", []
    for column in columns:
        if column.heading.kind == "unknown" and not any(cell.text for cell in column.values):
            unit = unit_in_text(column.cell.text) or unit
        found.append(column if column.unit else replace(column, unit=unit))
    return found


def _headings_beside_sizes(candidate: _Candidate) -> list[tuple[int, Heading]]:
    """Return the headings beside the sizes, with their index.

    Where one heading stands over a column in inches and one in centimetres, both have it.
    """
    found: list[tuple[int, Heading]] = []
    below = candidate.table.rows[candidate.row + 1 : candidate.row + 2]
    for at, heading in enumerate(candidate.headings[candidate.row]):
        if at == candidate.column:
            continue
        inherits = heading.kind == "empty" and found and below and unit_in_text(below[0][at].text)
        found.append((at, found[-1][1] if inherits else heading))
    return found


def _unit_among(values: tuple[Cell, ...]) -> str:
    """Return the unit in a cell without a number under a heading, or nothing."""
    bare = [unit_in_text(cell.text) for cell in values if not any(c.isdigit() for c in cell.text)]
    return next(filter(None, bare), "")


def _row_kind(cell: Cell, numbers: bool) -> str:
    """Return the size label of a row, the kind of its tolerance, or nothing."""
    found = read_heading(cell.text)
    if found.kind == "tolerance":
        return found.why or "tolerance"
    return size_label(cell.text, numbers=numbers)


def _single_text(row: tuple[Cell, ...]) -> str:
    """Return the text of a row with a single filled cell, such as a note below the chart."""
    full = [cell.text for cell in row if cell.text]
    return full[0] if len(full) == 1 else ""


def has_no_length(cell: Cell) -> bool:
    """Say whether a cell is a description or a unit: no length is lost where it is left out."""
    text = cell.text
    return not any(c.isdigit() or c in "½¼¾⅛⅜⅝⅞" for c in text) or bool(unit_in_text(text))


def is_named_no_size(cell: Cell) -> bool:
    """Say whether the first cell of a row says that the row is for no size."""
    found = read_heading(cell.text)
    return found.kind == "left_out" or (
        found.kind in _NO_SIZE_KINDS and unit_in_text(cell.text) != ""
    )
