"""A table as somebody gave it: pasted, in a file of separated values, or in a spreadsheet.

Cells keep their text and their address, by which a person finds them again. Nothing is read into
a cell here; what is empty stays empty.
"""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass

MOST_ROWS = 5000
MOST_COLUMNS = 200
MOST_BYTES = 20 << 20
"""What is larger than this is no table that a person wrote."""
_DELIMITERS = ("\t", ";", "|", ",")
_RULE = re.compile(r"[\s|:+=_-]+")
_GAP = re.compile(r"\s{2,}")


class NoTable(ValueError):  # noqa: N818 - what was found
    """What was given is no table; the message says why, ``instead`` what to give."""

    def __init__(self, wrong: str, instead: str) -> None:
        super().__init__(wrong)
        self.instead = instead


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its text without the space around it, and its address, such as ``B3``."""

    text: str
    address: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells, all equally long; a spreadsheet's sheet has a name."""

    rows: tuple[tuple[Cell, ...], ...]
    name: str = ""

    def turned(self) -> "Table":
        """Return the table with rows for columns; every cell keeps its address."""
        return Table(tuple(zip(*self.rows, strict=True)), self.name)


def address(row: int, column: int) -> str:
    """Return the address of a cell, counted from 0.

    >>> address(2, 1), address(0, 26)
    ('B3', 'AA1')
    """
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{row + 1}"


def table_of(rows: Sequence[Sequence[str]], name: str = "") -> Table:
    """Return rows of texts as a table: as wide as the widest row.

    Raises: NoTable where there is nothing in it, or too much.
    """
    if len(rows) > MOST_ROWS or max((len(row) for row in rows), default=0) > MOST_COLUMNS:
        message = f"must have at most {MOST_ROWS} rows and {MOST_COLUMNS} columns"
        raise NoTable(message, "give the table alone")
    if not any(text.strip() for row in rows for text in row):
        raise NoTable("must be a table, found nothing in it", "give rows with a line of headings")
    width = max(len(row) for row in rows)
    return Table(
        tuple(
            tuple(
                Cell(_clean(row[at]) if at < len(row) else "", address(number, at))
                for at in range(width)
            )
            for number, row in enumerate(rows)
        ),
        name,
    )


def _clean(text: str) -> str:
    """Return a cell's text on one line, with plain spaces and none around it."""
    return " ".join(text.replace("\u200b", "").replace("\ufeff", "").split())


def read_tables(body: bytes) -> list[Table]:
    """Return the tables in a file: one of separated values, or each sheet of a spreadsheet.

    Raises: NoTable.
    """
    if len(body) > MOST_BYTES:
        raise NoTable("must be at most 20 MB", "give the table alone")
    if body.startswith(b"PK\x03\x04"):
        from blankbook.entry.spreadsheets import sheets

        return sheets(body)
    if body.startswith(b"\xd0\xcf\x11\xe0"):
        raise NoTable("is a spreadsheet of the old kind", "save it as .xlsx or as CSV")
    return [from_text(_decoded(body))]


def _decoded(body: bytes) -> str:
    if body.startswith((b"\xff\xfe", b"\xfe\xff")):
        return body.decode("utf-16", "replace")
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError:  # what older spreadsheets write
        return body.decode("cp1252", "replace")


def from_text(text: str) -> Table:
    """Return the table in a text: separated by tabs, semicolons, bars, commas, or wide gaps.

    Raises: NoTable.
    """
    if "\x00" in text:
        raise NoTable("must be a table, found bytes that are no text", "give CSV or .xlsx")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    delimiter = _delimiter(text)
    if not delimiter:
        return table_of([_GAP.split(line.strip()) for line in text.split("\n")])
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter=delimiter))
    except csv.Error as error:
        raise NoTable(f"must be a table, found {error}", "give CSV or .xlsx") from None
    return table_of(_without_bars(rows) if delimiter == "|" else rows)


def _delimiter(text: str) -> str:
    """Return what separates the cells: the first that stands in most lines; empty for gaps."""
    lines = [line for line in text.split("\n") if line.strip()]
    quoted = [re.sub(r'"[^"\n]*"', "", line) for line in lines]
    for one in _DELIMITERS:
        if sum(one in line for line in quoted) * 2 > len(lines):
            return one
    counts = [(sum(one in line for line in quoted), one) for one in _DELIMITERS]
    most, found = max(counts, key=lambda pair: pair[0], default=(0, ""))
    gaps = sum(bool(_GAP.search(line.strip())) for line in lines)
    return found if most > gaps else ""


def _without_bars(rows: list[list[str]]) -> list[list[str]]:
    """Return rows that were drawn with bars, without their edges and the rules between them."""
    kept = [row if not _is_rule(row) else [] for row in rows]
    full = [row for row in kept if any(cell.strip() for cell in row)]
    if full and all(not row[0].strip() for row in full):
        kept = [row[1:] for row in kept]
    return [row[:-1] if row and not row[-1].strip() else row for row in kept]


def _is_rule(row: list[str]) -> bool:
    return bool(row) and bool(_RULE.fullmatch("|".join(row))) and "--" in "".join(row)
