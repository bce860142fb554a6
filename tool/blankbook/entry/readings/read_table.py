"""A table of readings as a shop kept it elsewhere: a row for each piece, a column for each point.

A cell is read as a length, or else it is named by its address; nothing is guessed. A row counts as
a whole or not at all: where one of its cells is not understood, the others may stand in the wrong
columns too.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.charts.size_chart import TableHints
from blankbook.entry.readings.cell_lengths import lengths_in_cell, readings_in_cell
from blankbook.entry.readings.reading_columns import (
    EMPTY_TEXTS,
    OTHER_COLUMNS,
    ReadingColumn,
    TableHead,
    count_washes,
    table_head,
)
from blankbook.entry.readings.reading_units import RawReading, oddity, table_points_around
from blankbook.entry.readings.table_pieces import (
    PieceNames,
    RejectedCell,
    TablePiece,
    cell_text,
    is_empty_row,
    is_summary_row,
)
from blankbook.entry.tables.table_cells import Cell, Table, check_nothing_hidden
from blankbook.entry.tables.table_dates import NoDateError, read_date
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import Shop, Style, Tape
from blankbook.words.points import POINTS

MOST_WASHES = 200


@dataclass(slots=True)
class TableReadings:
    """What was read from a table, and what was not."""

    columns: tuple[ReadingColumn, ...] = ()
    pieces: tuple[TablePiece, ...] = ()
    rejected: list[RejectedCell] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    """What else was done: rows left out, lengths halved, readings taken as repeats."""
    rows_left: list[str] = field(default_factory=list)
    """The rows that are left out because one of their cells was rejected."""
    days: dict[datetime.date, str] = field(default_factory=dict)
    """The dates that a column names, each with its first cell."""
    uncounted: str = ""
    """The first cell without which pieces that have no name cannot be counted."""
    halved: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Row:
    number: str
    cells: Sequence[Cell]
    words: Mapping[str, Cell]
    found: TablePiece


def read_table(
    table: Table, hints: TableHints, style: Style, shop: Shop, tape: Tape, colour: str = ""
) -> TableReadings:
    """Return the pieces of a table; *hints* are what a person says about its columns.

    Raises: NoTableError; MissingAnswerError where only a person can say what a column holds.
    """
    check_nothing_hidden(table)
    head = table_head(table, hints.points)
    read = TableReadings(head.columns)
    names = PieceNames(style, colour)
    rows = _rows(head, names, read)
    unit = hints.unit or head.unit
    raws = {row.number: _raw_readings(row, head, tape, unit) for row in rows}
    by_heading = {column.holds: column.around for column in head.point_columns() if column.around}
    points_around = table_points_around(
        [raw for own in raws.values() for raw in own], by_heading, style, hints
    )
    read.halved = [point for point in POINTS if point in points_around]
    for column in head.point_columns():
        if column.holds in points_around:
            read.notes.append(
                f"{column.heading.address} {column.heading.text}: all the way around, so halved"
            )
    pieces: dict[str, TablePiece] = {}
    for row in rows:
        odd = {
            raw.cell.address: why
            for raw in raws[row.number]
            if (why := oddity(raw, points_around, style, shop, hints))
        }
        _read_row(row, head, tape, unit, points_around, odd, pieces, read)
    read.pieces = tuple(pieces.values())
    return read


def _rows(head: TableHead, names: PieceNames, read: TableReadings) -> list[_Row]:
    """Return the rows that are one garment each, in order; note or reject the others."""
    found: list[_Row] = []
    seen: dict[tuple[str, ...], str] = {}
    headings = [cell.text for cell in head.headings]
    for cells in head.below:
        if is_empty_row(cells):
            continue
        number = cells[0].address.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        words = {
            column.holds: cells[column.at]
            for column in head.columns
            if column.holds in OTHER_COLUMNS
        }
        if [cell.text for cell in cells] == headings:
            read.notes.append(f"row {number} left out: the headings once more")
            continue
        if is_summary_row(cells, words):
            text = next(cell.text for cell in cells if cell.text)
            read.notes.append(f"row {number} left out: {text} is no piece")
            continue
        piece = names.piece_of(cells, words)
        if isinstance(piece, RejectedCell):
            if all(
                cells[column.at].text.casefold() in EMPTY_TEXTS for column in head.point_columns()
            ):
                text = next(cell_text(cell) for cell in cells if cell_text(cell))
                read.notes.append(f"row {number} left out: {text[:40]}, and no reading")
                continue
            if not ("piece" in words and cell_text(words["piece"])):
                read.uncounted = read.uncounted or piece.address
            read.rejected.append(piece)
            read.rows_left.append(number)
            continue
        # A row that is there twice was copied by mistake, or is a repeat in the wrong form.
        texts = tuple(cell_text(cell).casefold() for cell in cells)
        again = seen.setdefault(texts, number)
        if piece.named and again != number:
            why = f"is row {again} once more; write repeated readings into one cell: 20; 20 1/8"
            read.rejected.append(RejectedCell(piece.address, why))
            read.rows_left.append(number)
            continue
        found.append(_Row(number, cells, words, piece))
    return found


def _raw_readings(row: _Row, head: TableHead, tape: Tape, unit: str) -> list[RawReading]:
    """Return the readings of a row before anything is decided on their unit, or halved."""
    found = []
    for column in head.point_columns():
        cell = row.cells[column.at]
        known = column.unit or unit
        try:
            lengths = lengths_in_cell(cell, tape, known)
            bare = not known and all(_bare(length.written) for length in lengths)
        except LengthError:
            continue  # `_read_row` rejects the cell
        found += [
            RawReading(column.holds, row.found.size, length.exact, cell, bare, length.unit)
            for length in lengths
        ]
    return found


def _bare(text: str) -> bool:
    """Say whether a length names no unit itself, so that its value depends on the assumed one."""
    try:
        return read_length(text, "mm").unit != read_length(text, "cm").unit
    except LengthError:
        return "/" in text and not text[-1:].isalpha() and text[-1:] != '"'


def _read_row(
    row: _Row,
    head: TableHead,
    tape: Tape,
    unit: str,
    points_around: set[str],
    odd: Mapping[str, str],
    pieces: dict[str, TablePiece],
    read: TableReadings,
) -> None:
    """Add the readings of a row to *pieces*, or reject its cells and leave the row out."""
    rejected: list[RejectedCell] = []
    stage = _stage(row, rejected)
    day = _day(row, rejected)
    found: dict[tuple[int, str], list[str]] = {}
    for column in head.point_columns():
        cell = row.cells[column.at]
        if cell_text(cell).casefold() in EMPTY_TEXTS:
            continue
        if column.washes and stage and column.washes != stage:
            why = f"says {stage} washes, and {column.heading.address} says {column.washes}"
            rejected.append(RejectedCell(row.words["washes"].address, why))
            continue
        by = 2 if column.holds in points_around else 1
        try:
            texts = readings_in_cell(cell, column.holds, tape, column.unit or unit, by)
        except LengthError as error:
            more = f"; {error.instead}" if error.instead else ""
            rejected.append(RejectedCell(cell.address, f"{error}{more}"))
            continue
        if cell.address in odd:
            rejected.append(RejectedCell(cell.address, odd[cell.address]))
        found[column.washes or stage, column.holds] = texts
    if rejected:
        read.rejected += rejected
        read.rows_left.append(row.number)
        return
    if day:
        read.days.setdefault(day, row.words["date"].address)
    _keep_piece(row, found, pieces, read)


def _keep_piece(
    row: _Row, found: Mapping[tuple[int, str], list[str]], pieces: dict[str, TablePiece],
    read: TableReadings,
) -> None:  # fmt: skip
    """Add the readings of a row to its piece; a further row of one piece holds repeats."""
    held = pieces.setdefault(row.found.key.casefold(), row.found)
    if held is not row.found:
        held.lot = held.lot or row.found.lot
        notes = [note for note in (held.note, row.found.note) if note]
        held.note = " / ".join(dict.fromkeys(notes))
        if again := [POINTS[point].name for at, point in found if (at, point) in held.read]:
            what = ", ".join(again)
            read.notes.append(f"row {row.number}: {held.key} once more, {what} read repeatedly")
    for key, texts in found.items():
        held.read.setdefault(key, []).extend(texts)


def _stage(row: _Row, rejected: list[RejectedCell]) -> int:
    """Return the washes that a row's own column names; 0 without one."""
    cell = row.words.get("washes")
    if cell is None:
        return 0
    washes = count_washes(cell_text(cell))
    if washes is None or washes > MOST_WASHES:
        why = f"must be a number of washes, found {cell.text[:40]}"
        rejected.append(RejectedCell(cell.address, why))
        return 0
    return washes


def _day(row: _Row, rejected: list[RejectedCell]) -> datetime.date | None:
    """Return the date that a row's own column names, or None."""
    cell = row.words.get("date")
    if cell is None or cell_text(cell).casefold() in EMPTY_TEXTS:
        return None
    try:
        return read_date(cell_text(cell))
    except NoDateError as error:
        rejected.append(RejectedCell(cell.address, f"{error}; {error.instead}"))
        return None
