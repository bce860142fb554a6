"""Readings that were given as text: flags, or the lines of a file."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import edited, read_standard_input

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound, TypedReading


MOST_LINES_BYTES = 1_000_000
"""A longer list is more than a round can hold."""


def known_key(key: str, known: Iterable[str], tape: bool) -> None:
    """Hold a key against what can be looked at. Raises: WrongUse with the nearest one."""
    import difflib

    if key not in known:
        near = difflib.get_close_matches(key, list(known), n=1)
        what = "point of measure" if tape else "thing to look at"
        remedy = f"did you mean {near[0]}?" if near else "there are " + ", ".join(known)
        raise WrongUse(f"no {what} called {shown(key)}", remedy)


def known_piece(piece: str, known: Iterable[str]) -> None:
    """Hold a piece against those that can be looked at. Raises: WrongUse with the nearest one."""
    import difflib

    names = list(known)
    if piece not in names:
        near = difflib.get_close_matches(piece, names, n=1)
        remedy = f"did you mean {near[0]}?" if near else "there are " + ", ".join(names)
        raise WrongUse(f"no piece called {shown(piece)}", remedy)


def assignments(put: Iterable[str], lines: str | None) -> Iterator[tuple[str, str, str]]:
    """Yield piece, point and reading of everything that was given as text."""
    for one in put:
        name, equals, reading = one.partition("=")
        piece, dot, point = name.rpartition(".")
        if not equals or not dot:
            message = f"--put must be PIECE.POINT=READING, found {shown(one) or 'nothing'}"
            raise WrongUse(message, "write --put L-black-1.half_chest='22 1/8'")
        yield piece.strip(), point.strip(), reading.strip()
    for number, line in enumerate(_lines(lines), start=1):
        parts = line.split(None, 2)
        if not parts or parts[0].startswith("#"):
            continue
        if len(parts) < 3:
            message = f"line {number} must be PIECE POINT READING, found {shown(line.strip())}"
            raise WrongUse(message, "write L-black-1 half_chest 22 1/8")
        yield parts[0], parts[1], parts[2].strip()


def _lines(named: str | None) -> list[str]:
    if named is None:
        return []
    from blankbook.entry.tables.separated_text import decode_table

    if named == "-":
        body = read_standard_input(MOST_LINES_BYTES + 1)
    else:
        with Path(named).open("rb") as file:
            body = file.read(MOST_LINES_BYTES + 1)
    if len(body) > MOST_LINES_BYTES:
        raise WrongUse(f"--lines must be at most {MOST_LINES_BYTES:,} bytes", "give it in parts")
    return decode_table(body).splitlines()


def put_all(sheet: "FilledRound", listed: Iterable[tuple[str, str, str]]) -> list[str]:
    """Put every reading into the sheet, and return what is odd about any of them."""
    from blankbook.text.writing.edits import CannotEditError

    odd = []
    try:
        for piece, point, text in listed:
            reading = _put_one(sheet, piece, point, text)
            said = "; ".join(one.says for one in reading.warnings) if reading else ""
            if said:
                odd.append(f"{piece} {point} {text}: {said}")
        sheet.write_readings()
    except CannotEditError as error:
        raise edited(error, "the round") from None
    return odd


def _put_one(sheet: "FilledRound", piece: str, point: str, text: str) -> "TypedReading | None":
    from blankbook.entry.round.filled_round import NOT_MEASURED
    from blankbook.records.lengths import LengthError

    known_piece(piece, sheet.looked_at)
    known_key(point, sheet.stage.keys, sheet.stage.takes_lengths)
    if text == NOT_MEASURED:
        return None
    again = text.startswith("*")
    try:
        reading = sheet.read((piece, point), text.removeprefix("*"), again=again)
    except LengthError as error:
        raise WrongUse(f"{shown(piece)} {point} {shown(error)}", error.instead) from None
    sheet.put_reading((piece, point), reading.written, again=again)
    return reading
