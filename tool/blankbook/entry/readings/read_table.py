"""A table of readings as a shop kept it elsewhere: a row for each piece, a column for each point.

A cell is read as a length or it is named by its address; nothing is made to fit. A row counts
whole or not at all: where one of its cells is not understood, the others may stand in the wrong
columns too.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.charts.chart_findings import Said
from blankbook.entry.readings.cell_lengths import exact_in, lengths_in
from blankbook.entry.readings.reading_columns import (
    EMPTY,
    OTHERS,
    Column,
    Headed,
    columns_of,
    washes_in,
)
from blankbook.entry.readings.reading_units import Raw, around, odd_one
from blankbook.entry.readings.table_pieces import (
    Found,
    Names,
    Rejected,
    says_nothing,
    says_sum,
    text_of,
)
from blankbook.entry.tables.table_cells import Cell, Table, nothing_hidden
from blankbook.entry.tables.table_days import NoDay, read_day
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import Style, Tape
from blankbook.words.points import POINTS

MOST_WASHES = 200


@dataclass(slots=True)
class ReadTable:
    """What came of a table."""

    columns: tuple[Column, ...] = ()
    pieces: tuple[Found, ...] = ()
    rejected: list[Rejected] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    """What was done with cells beside reading them: left out, halved, taken as repeats."""
    rows_left: list[str] = field(default_factory=list)
    """The rows that are left out because a cell of theirs was rejected."""
    days: dict[datetime.date, str] = field(default_factory=dict)
    """The days of measuring that a column names, with the first cell of each."""
    uncounted: str = ""
    """The cell that leaves open how pieces without a name are to be counted."""
    halved: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Row:
    number: str
    cells: Sequence[Cell]
    words: Mapping[str, Cell]
    found: Found


def read_table(table: Table, said: Said, style: Style, tape: Tape, colour: str = "") -> ReadTable:
    """Return the pieces of a table; *said* is what a person says of its columns.

    Raises: NoTable; Unsaid where only a person can say what a column holds.
    """
    nothing_hidden(table)
    head = columns_of(table, said.points)
    read = ReadTable(head.columns)
    names = Names(style, colour)
    rows = _rows(head, names, read)
    unit = said.unit or head.unit
    raws = {row.number: _raws(row, head, tape, unit) for row in rows}
    told = {column.holds: column.around for column in head.of_points() if column.around}
    ways = around([raw for own in raws.values() for raw in own], told, style, said)
    read.halved = [point for point in POINTS if point in ways]
    for column in head.of_points():
        if column.holds in ways:
            read.notes.append(
                f"{column.heading.address} {column.heading.text}: all the way around, so halved"
            )
    pieces: dict[str, Found] = {}
    for row in rows:
        odd = {
            raw.cell.address: why
            for raw in raws[row.number]
            if (why := odd_one(raw, ways, style, said))
        }
        _read_row(row, head, tape, unit, ways, odd, pieces, read)
    read.pieces = tuple(pieces.values())
    return read


def _rows(head: Headed, names: Names, read: ReadTable) -> list[_Row]:
    """Return the rows that are one garment each, in order; what else there is, is told."""
    found: list[_Row] = []
    seen: dict[tuple[str, ...], str] = {}
    headings = [cell.text for cell in head.headings]
    for cells in head.below:
        if says_nothing(cells):
            continue
        number = cells[0].address.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
        words = {
            column.holds: cells[column.at] for column in head.columns if column.holds in OTHERS
        }
        if [cell.text for cell in cells] == headings:
            read.notes.append(f"row {number} left out: the headings once more")
            continue
        if says_sum(cells, words):
            text = next(cell.text for cell in cells if cell.text)
            read.notes.append(f"row {number} left out: {text} is no piece")
            continue
        piece = names.of(cells, words)
        if isinstance(piece, Rejected):
            if all(cells[column.at].text.casefold() in EMPTY for column in head.of_points()):
                text = next(text_of(cell) for cell in cells if text_of(cell))
                read.notes.append(f"row {number} left out: {text[:40]}, and no reading")
                continue
            if not ("piece" in words and text_of(words["piece"])):
                read.uncounted = read.uncounted or piece.address
            read.rejected.append(piece)
            read.rows_left.append(number)
            continue
        texts = tuple(text_of(cell).casefold() for cell in cells)
        again = seen.setdefault(texts, number)
        if piece.named and again != number:
            why = f"is row {again} once more; write repeated readings into one cell: 20; 20 1/8"
            read.rejected.append(Rejected(piece.address, why))
            read.rows_left.append(number)
            continue
        found.append(_Row(number, cells, words, piece))
    return found


def _raws(row: _Row, head: Headed, tape: Tape, unit: str) -> list[Raw]:
    found = []
    for column in head.of_points():
        cell = row.cells[column.at]
        known = column.unit or unit
        try:
            lengths = exact_in(cell, tape, known)
            bare = not known and all(_bare(length.written) for length in lengths)
        except LengthError:
            continue  # it is named where the row is read
        found += [
            Raw(column.holds, row.found.size, length.exact, cell, bare, length.unit)
            for length in lengths
        ]
    return found


def _bare(text: str) -> bool:
    """Say whether a length names no unit itself: it reads otherwise in another one."""
    try:
        return read_length(text, "mm").unit != read_length(text, "cm").unit
    except LengthError:
        return "/" in text and not text[-1:].isalpha() and text[-1:] != '"'


def _read_row(
    row: _Row, head: Headed, tape: Tape, unit: str, ways: set[str], odd: Mapping[str, str],
    pieces: dict[str, Found], read: ReadTable,
) -> None:  # fmt: skip
    rejected: list[Rejected] = []
    stage = _stage(row, rejected)
    day = _day(row, rejected)
    found: dict[tuple[int, str], list[str]] = {}
    for column in head.of_points():
        cell = row.cells[column.at]
        if text_of(cell).casefold() in EMPTY:
            continue
        if column.washes and stage and column.washes != stage:
            why = f"says {stage} washes, and {column.heading.address} says {column.washes}"
            rejected.append(Rejected(row.words["washes"].address, why))
            continue
        by = 2 if column.holds in ways else 1
        try:
            texts = lengths_in(cell, column.holds, tape, column.unit or unit, by)
        except LengthError as error:
            more = f"; {error.instead}" if error.instead else ""
            rejected.append(Rejected(cell.address, f"{error}{more}"))
            continue
        if cell.address in odd:
            rejected.append(Rejected(cell.address, odd[cell.address]))
        found[column.washes or stage, column.holds] = texts
    if rejected:
        read.rejected += rejected
        read.rows_left.append(row.number)
        return
    if day:
        read.days.setdefault(day, row.words["date"].address)
    _keep(row, found, pieces, read)


def _keep(
    row: _Row, found: Mapping[tuple[int, str], list[str]], pieces: dict[str, Found],
    read: ReadTable,
) -> None:  # fmt: skip
    held = pieces.setdefault(row.found.piece.casefold(), row.found)
    if held is not row.found:
        held.lot = held.lot or row.found.lot
        notes = [note for note in (held.note, row.found.note) if note]
        held.note = " / ".join(dict.fromkeys(notes))
        if again := [POINTS[point].name for at, point in found if (at, point) in held.read]:
            what = ", ".join(again)
            read.notes.append(f"row {row.number}: {held.piece} once more, {what} read repeatedly")
    for key, texts in found.items():
        held.read.setdefault(key, []).extend(texts)


def _stage(row: _Row, rejected: list[Rejected]) -> int:
    cell = row.words.get("washes")
    if cell is None:
        return 0
    washes = washes_in(text_of(cell))
    if washes is None or washes > MOST_WASHES:
        why = f"must be a number of washes, found {cell.text[:40]}"
        rejected.append(Rejected(cell.address, why))
        return 0
    return washes


def _day(row: _Row, rejected: list[Rejected]) -> datetime.date | None:
    cell = row.words.get("date")
    if cell is None or text_of(cell).casefold() in EMPTY:
        return None
    try:
        return read_day(text_of(cell))
    except NoDay as error:
        rejected.append(Rejected(cell.address, f"{error}; {error.instead}"))
        return None
