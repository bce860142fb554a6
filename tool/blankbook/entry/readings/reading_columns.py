"""What each column of a table of readings holds, as far as its headings say.

A person can say otherwise. What stands above the headings counts too: a title may name the unit, or
say that everything was washed before.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from blankbook.entry.charts.chart_headings import known_point, read_heading, unit_in_text
from blankbook.entry.tables.table_cells import Cell, NoTableError, Table
from blankbook.records.flat_or_around import MAYBE_AROUND
from blankbook.words.points import POINTS

SKIP = "skip"
OTHER_COLUMNS = ("piece", "size", "colour", "lot", "note", "washes", "date")
_NAMES = {
    "piece": "piece", "garment": "piece", "sample": "piece", "id": "piece", "no": "piece",
    "no.": "piece", "number": "piece", "#": "piece", "size": "size", "label": "size",
    "tag": "size", "colour": "colour", "color": "colour", "shade": "colour", "lot": "lot",
    "dye lot": "lot", "batch": "lot", "note": "note", "notes": "note", "remark": "note",
    "remarks": "note", "comment": "note", "comments": "note", "washes": "washes",
    "cycles": "washes", "wash": "washes", "washed": "washes", "times washed": "washes",
    "date": "date", "day": "date", "measured": "date", "measured on": "date",
    "date measured": "date", "day of measuring": "date",
}  # fmt: skip
"""Headings of columns that hold something else than lengths (common practice, no source)."""
_AFTER = re.compile(
    r"\b(?:after|post)\b.*?\b(\d{1,3})\b|\b(\d{1,3})\s*(?:x\s*)?wash"
    r"|\bwash(?:es|ed)?\s*(\d{1,3})\b|\bw(\d{1,2})\b"
)
_JUST_AFTER = re.compile(r"\b(after|post)\b|\bwashed\b")
_WASHED = re.compile(r"\b(after|post)\b.*\bwash|\bwashed\b|\d\s*(?:x\s*)?wash")
_UNWASHED = re.compile(r"\bbefore\b|\bpre\b|\bun-?washed\b|\bas received\b|\bnot (?:yet )?washed\b")
EMPTY_TEXTS = {"", "-", "–", "—", "n/a", "na"}
MOST_HEADING_ROWS = 20
"""Number of rows in which headings are looked for."""


@dataclass(frozen=True, slots=True)
class ReadingColumn:
    """What a column holds."""

    at: int
    heading: Cell
    holds: str
    """A point of measure, one of `OTHER_COLUMNS`, ``skip``, or empty where it is not known."""
    washes: int = 0
    """After how many washes the pieces were read; 0 as received."""
    unit: str = ""
    """The unit in its heading, or nothing."""
    around: bool = False
    """Whether its heading says that the tape went all the way around."""
    is_given: bool = False
    """Whether a person said what it holds."""


@dataclass(frozen=True, slots=True)
class TableHead:
    """A table's columns, the rows below their headings, and what stands above them."""

    columns: tuple[ReadingColumn, ...]
    headings: tuple[Cell, ...]
    below: tuple[tuple[Cell, ...], ...]
    unit: str
    """The unit that is named above the headings, or nothing."""

    def point_columns(self) -> Iterator[ReadingColumn]:
        """Yield the columns that hold lengths."""
        return (column for column in self.columns if column.holds in POINTS)


def table_head(table: Table, given: Mapping[str, str]) -> TableHead:
    """Return what each column holds; *given* is what a person says, by heading or letter.

    Raises: NoTableError where no row names a point of measure, or columns contradict each other.
    """
    known, start, columns = _best_head(table, given)
    if not given and _best_head(table.turned(), {})[0] > max(known, 1):
        message = "has a column for each piece, and must have a row for each"
        raise NoTableError(message, "turn it in the spreadsheet, rows for columns, and save it")
    if not columns:
        raise NoTableError(
            "must have a row of headings that names a point of measure",
            "write --column HEADING=half_chest",
        )
    check_all_used(given, columns)
    below = table.rows[start + 1 :]
    columns = tuple(unknown_if_filled(column, below) for column in columns)
    units = _units_below(columns, below)
    if units:
        columns = tuple(
            replace(column, unit=units.get(column.at, column.unit)) for column in columns
        )
        below = below[1:]
    check_each_once(columns)
    above = [cell.text for row in table.rows[:start] for cell in row if cell.text]
    _check_title([*above, table.name], columns)
    return TableHead(columns, table.rows[start], below, unit_in_text(" / ".join(above)))


def _best_head(
    table: Table, given: Mapping[str, str]
) -> tuple[int, int, tuple[ReadingColumn, ...]]:
    """Return the row with the most known headings: their count, its index, its columns."""
    best: tuple[int, int, tuple[ReadingColumn, ...]] = (0, 0, ())
    for number, row in enumerate(table.rows[:MOST_HEADING_ROWS]):
        columns = tuple(_column(cell, at, row, given) for at, cell in enumerate(row))
        known = sum(column.holds in POINTS or column.holds in OTHER_COLUMNS for column in columns)
        if known > best[0] and any(column.holds in POINTS for column in columns):
            best = (known, number, columns)
    return best


def _column(cell: Cell, at: int, row: Sequence[Cell], given: Mapping[str, str]) -> ReadingColumn:
    """Return what a column holds: by a person's word, by its heading, or unknown."""
    answer = answer_for(cell, row, given)
    washes = _washes_in_heading(cell.text)
    heading = read_heading(_without_wash(cell.text))
    around = heading.around is True and heading.point in MAYBE_AROUND
    if answer:
        holds, _, after = answer.partition("@")
        around = around and heading.point == holds
        return ReadingColumn(
            at, cell, holds, int(after or washes), unit_in_text(cell.text), around, is_given=True
        )
    plain = cell.text.casefold().strip(" :")
    if plain in _NAMES:
        return ReadingColumn(at, cell, _NAMES[plain])
    if not plain:
        return ReadingColumn(at, cell, SKIP)
    point = heading.point if heading.kind == "point" else known_point(cell.text)
    # Only widths can be all the way around: a length that is headed so is not understood.
    if point and (not heading.around or around):
        return ReadingColumn(
            at, cell, point, washes, heading.unit or unit_in_text(cell.text), around
        )
    if heading.kind == "size":
        return ReadingColumn(at, cell, "size")
    return ReadingColumn(at, cell, SKIP if heading.kind in {"left_out", "tolerance"} else "")


def answer_for(cell: Cell, row: Sequence[Cell], given: Mapping[str, str]) -> str | None:
    """Return what a person says of a column, by its heading or its letter."""
    letter = cell.address.rstrip("0123456789").casefold()
    answer = given.get(cell.text.casefold()) if cell.text else None
    # A letter means the column with that address, unless it is a heading of the table.
    if answer is None and all(other.text.casefold() != letter for other in row):
        answer = given.get(letter)
    return answer


def unknown_if_filled(column: ReadingColumn, below: Sequence[Sequence[Cell]]) -> ReadingColumn:
    """Return a column without a heading as unknown, not as skipped, if something stands in it."""
    if column.heading.text or column.is_given or not any(row[column.at].text for row in below):
        return column
    return replace(column, holds="")


def check_all_used(given: Mapping[str, str], columns: Sequence[ReadingColumn]) -> None:
    """Refuse a person's word about a column that does not exist. Raises: NoTableError."""
    letters = {
        column.heading.address.rstrip("0123456789").casefold()
        for column in columns
        if column.is_given
    }
    texts = {column.heading.text.casefold() for column in columns if column.is_given}
    for key in given:
        if key not in letters | texts:
            there = ", ".join(column.heading.text for column in columns if column.heading.text)
            raise NoTableError(f"has no column {key}, which --column names", f"there are {there}")


def check_each_once(columns: Sequence[ReadingColumn]) -> None:
    """Refuse two columns that hold the same, as nobody can tell which of them counts.

    Raises: NoTableError.
    """
    first: dict[tuple[str, int], ReadingColumn] = {}
    for column in columns:
        if column.holds in {"", SKIP}:
            continue
        other = first.setdefault((column.holds, column.washes), column)
        if other is not column:
            both = f"{other.heading.address} {other.heading.text} and {column.heading.address}"
            message = f"must have one column for {column.holds}, found {both} {column.heading.text}"
            letter = column.heading.address.rstrip("0123456789")
            after = f", or --column {letter}=POINT@3" if column.holds in POINTS else ""
            raise NoTableError(message, f"write --column {letter}=skip{after}")


def _units_below(
    columns: Sequence[ReadingColumn], below: Sequence[Sequence[Cell]]
) -> dict[int, str]:
    """Return the units by column, where the row under the headings holds nothing but units."""
    if not below:
        return {}
    full = {at: unit_in_text(cell.text) for at, cell in enumerate(below[0]) if cell.text}
    points = {column.at for column in columns if column.holds in POINTS}
    bare = not any(c.isdigit() for cell in below[0] for c in cell.text)
    return full if bare and full and all(full.values()) and set(full) <= points else {}


def _check_title(texts: Sequence[str], columns: Sequence[ReadingColumn]) -> None:
    """Refuse a table whose title says that it was washed, while no column says so.

    Raises: NoTableError.
    """
    if any(column.holds == "washes" or column.washes for column in columns):
        return
    if all(column.is_given for column in columns if column.holds in POINTS):
        return
    for text in texts:
        plain = text.casefold()
        if _WASHED.search(plain) and not _UNWASHED.search(plain):
            point = next(
                column for column in columns if column.holds in POINTS and not column.is_given
            )
            letter = point.heading.address.rstrip("0123456789")
            remedy = (
                f"write --column {letter}={point.holds}@{_washes_in_heading(text) or 1} for each"
            )
            message = f"says '{text[:60]}' over its columns, and none says after how many washes"
            raise NoTableError(message, f"{remedy}, or @0 as received")


def _washes_in_heading(text: str) -> int:
    """Return how many washes a heading names; 1 where it only says after washing, else 0."""
    plain = text.casefold()
    if found := _AFTER.search(plain):
        return int(next(filter(None, found.groups())))
    return 1 if _JUST_AFTER.search(plain) else 0


def count_washes(text: str) -> int | None:
    """Return how many washes a cell says, or None where it is not understood.

    >>> [count_washes(text) for text in ("5", "after 3 washes", "as received", "1/2")]
    [5, 3, 0, None]
    """
    plain = text.casefold().strip()
    if plain in EMPTY_TEXTS or plain in {"no", "none", "new", "as received", "received", "before"}:
        return 0
    counted = re.fullmatch(r"(\d{1,3})(?:\.0+)?\s*(?:x|times|wash(?:es)?|cycles?)?", plain)
    if counted:
        return int(counted[1])
    return (
        int(next(filter(None, after.groups())))
        if (after := _AFTER.fullmatch(re.sub(r"\s*wash(es)?$", "", plain)))
        else None
    )


def _without_wash(text: str) -> str:
    """Return a heading without the words of washing, which leaves the point."""
    plain = _AFTER.sub(" ", text.casefold())
    return re.sub(
        r"\b(after|before|post|pre|wash(es|ed|ing)?|as received|received|new|x)\b", " ", plain
    )
