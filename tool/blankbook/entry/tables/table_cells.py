"""A table as somebody gave it: pasted, in a file of separated values, or in a spreadsheet.

Cells keep their text, and the address by which a person finds them again. Nothing is interpreted
here.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

MOST_TABLE_ROWS = 5000
MOST_COLUMNS = 200
MOST_TABLE_BYTES = 20 << 20
"""A larger file is not a table that a person wrote."""
TOO_LARGE_TABLE = f"must have at most {MOST_TABLE_ROWS} rows and {MOST_COLUMNS} columns"
TABLE_ALONE = "give the table alone"


class NoTableError(ValueError):
    """What was given is no table; the message says why, ``instead`` what to give instead."""

    def __init__(self, wrong: str, instead: str) -> None:
        super().__init__(wrong)
        self.instead = instead


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its text, trimmed, and its address, such as ``B3``."""

    text: str
    address: str
    odd: str = ""
    """Why the text must not be taken as it stands, such as a crossed-out one; for a message."""
    over: str = ""
    """The text of a merged cell that covers this one and others; also in the first of them."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells, all equally long; a sheet of a spreadsheet has a name."""

    rows: tuple[tuple[Cell, ...], ...]
    name: str = ""
    hidden: tuple[str, ...] = ()
    """What holds something and is not shown: ``row 4``, ``column C``, ``the sheet``."""

    def turned(self) -> "Table":
        """Return the table with rows for columns; every cell keeps its address."""
        return Table(tuple(zip(*self.rows, strict=True)), self.name, self.hidden)


HIDDEN_SHEET = "the sheet"
CellMarks = Mapping[tuple[int, int], tuple[str, str]]
"""By row and column, from 0: what is odd about a cell, and the text of a cell that covers it."""


def visible_tables(tables: Sequence[Table]) -> list[Table]:
    """Return the sheets that are not hidden, or all of them where each is hidden."""
    return [table for table in tables if HIDDEN_SHEET not in table.hidden] or list(tables)


def check_nothing_hidden(table: Table) -> None:
    """Refuse a sheet with hidden rows or columns that hold something. Raises: NoTableError."""
    hidden = [place for place in table.hidden if place != HIDDEN_SHEET]
    if hidden:
        more = f" and {len(hidden) - 5} more" if len(hidden) > 5 else ""
        what = ", ".join(hidden[:5])
        raise NoTableError(f"holds what it does not show: {what}{more}", "show it, or delete it")


def cell_address(row: int, column: int) -> str:
    """Return the address of a cell; row and column count from 0.

    >>> cell_address(2, 1), cell_address(0, 26)
    ('B3', 'AA1')
    """
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{row + 1}"


def make_table(
    rows: Sequence[Sequence[str]],
    name: str = "",
    marks: CellMarks | None = None,
    hidden: Sequence[str] = (),
) -> Table:
    """Return rows of texts as a table, as wide as the widest row.

    Raises: NoTableError where there is nothing in it, or too much.
    """
    if len(rows) > MOST_TABLE_ROWS or max((len(row) for row in rows), default=0) > MOST_COLUMNS:
        raise NoTableError(TOO_LARGE_TABLE, TABLE_ALONE)
    if not any(text.strip() for row in rows for text in row):
        raise NoTableError(
            "must be a table, found nothing in it", "give rows with a line of headings"
        )
    width = max(len(row) for row in rows)
    return Table(
        tuple(
            tuple(
                Cell(
                    _clean(row[at]) if at < len(row) else "",
                    cell_address(number, at),
                    *(marks or {}).get((number, at), ()),
                )
                for at in range(width)
            )
            for number, row in enumerate(rows)
        ),
        name,
        tuple(hidden),
    )


def _clean(text: str) -> str:
    """Return a cell's text on one line, with plain spaces and none around it."""
    return " ".join(text.replace("\u200b", "").replace("\ufeff", "").split())
