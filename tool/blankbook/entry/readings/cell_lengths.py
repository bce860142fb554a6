"""The lengths in a cell of a table, as a round's file with its tape holds them."""

import re
from fractions import Fraction

from blankbook.entry.charts.chart_cells import plain_spelling
from blankbook.entry.round.typed_lengths import value_text
from blankbook.entry.tables.table_cells import Cell
from blankbook.entry.tables.table_dates import looks_like_date, serial_date_help
from blankbook.records.lengths import MM_PER_UNIT, Length, LengthError, read_length
from blankbook.records.model import Tape
from blankbook.words.points import INCH, POINTS

AS_TEXT = "a spreadsheet makes days of fractions: type 22 1/8 as text"


def readings_in_cell(cell: Cell, point: str, tape: Tape, unit: str, by: int = 1) -> list[str]:
    """Return the readings in a cell, written for a file with that tape.

    *unit* holds where a reading names none; *by* is 2 where the tape went all the way around.
    Raises: LengthError.
    """
    check_cell(cell)
    return [
        _reading_for_file(*_read(part, unit or tape.unit), point, tape, by) for part in _parts(cell)
    ]


def lengths_in_cell(cell: Cell, tape: Tape, unit: str) -> list[Length]:
    """Return the lengths in a cell, at whichever point. Raises: LengthError."""
    check_cell(cell)
    return [_read(part, unit or tape.unit)[1] for part in _parts(cell)]


def check_cell(cell: Cell) -> None:
    """Refuse a cell that is not what its text says: crossed out, merged, a formula, a date.

    Raises: LengthError.
    """
    text = cell.text
    if cell.odd:
        raise LengthError(cell.odd, "give the cell its reading as text, such as 22 1/8")
    if cell.over:
        message = f"is merged with other cells, found {cell.over}"
        raise LengthError(message, "give each piece its own reading")
    if text.startswith("="):
        raise LengthError(f"is a formula without a value, found {text}", "save the sheet once more")
    if serial_date_help(text):
        raise LengthError(f"is a day as a spreadsheet counts, found {text}", AS_TEXT)
    if looks_like_date(text):
        raise LengthError(f"is a day, found {text}", AS_TEXT)


def _parts(cell: Cell) -> list[str]:
    parts = [part.strip() for part in cell.text.split(";") if part.strip()]
    if not parts:
        raise LengthError(f"must be a length, found {cell.text or 'nothing'}", "write 22 1/8")
    return parts


def _plain(text: str) -> str:
    """Return one reading in plain characters, with a point for a decimal comma."""
    text = re.sub(r"(?<=\d),(?=\d{1,3}(?!\d))", ".", text) if text.count(",") == 1 else text
    return plain_spelling(text)


def _read(text: str, unit: str) -> tuple[str, Length]:
    """Return one reading in plain characters, and its length. Raises: LengthError.

    The message quotes the reading as it was written.
    """
    plain = _plain(text)
    try:
        return plain, read_length(plain, unit)
    except LengthError:
        return text, read_length(text, unit)


def _reading_for_file(text: str, length: Length, key: str, tape: Tape, by: int) -> str:
    """Return a reading as the file holds it. Raises: LengthError."""
    point = POINTS[key]
    if not point.least <= length.exact / by <= point.most:
        low, high = (float(end * by / INCH) for end in (point.least, point.most))
        given = f"{point.name} all the way around" if by > 1 else point.name
        message = f"{given} must be between {low:g} and {high:g} in, found {text}"
        other = length.exact / INCH * MM_PER_UNIT["cm"] / by
        in_cm = length.unit == "in" and point.least <= other <= point.most
        raise LengthError(message, f"write {text} cm where it is centimetres" if in_cm else "")
    # In another unit it keeps its text: converted, it would lie between the marks of the tape.
    if length.unit != tape.unit:
        if by == 1:
            return text if text[-1:].isalpha() else f"{text} {length.unit}"
        return (
            f"{value_text(length.exact / by / MM_PER_UNIT[length.unit], length.unit)} {length.unit}"
        )
    return _on_tape(text, length.exact / MM_PER_UNIT[tape.unit], tape, by)


def _on_tape(text: str, value: Fraction, tape: Tape, by: int) -> str:
    """Return a reading on a mark of the tape; what a spreadsheet rounded gets its mark back.

    22.13 is 22 1/8, rounded to two decimals; 22.1 is on no tape of eighths.
    """
    step = tape.reads_to.exact / MM_PER_UNIT[tape.unit]
    if (value / step).denominator == 1:
        return value_text(value / by, tape.unit)
    decimals = re.fullmatch(r"\d+\.(\d+)\D*", text)
    mark = round(value / step) * step
    last = len(decimals[1]) if decimals else 0
    if last >= 2 and abs(mark - value) * 2 <= Fraction(1, 10**last):
        return value_text(mark / by, tape.unit)
    near = value_text(mark, tape.unit)
    message = f"must be on a tape read to {tape.reads_to.written} {tape.unit}, found {text}"
    raise LengthError(message, f"the nearest mark is {near}; --tape says what was read with")
