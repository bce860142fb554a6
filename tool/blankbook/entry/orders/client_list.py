"""A client's list of shirts: a row for each person, a row for each size, or a grid of counts.

Every cell counts or is named by its address; a size that nobody knows is never guessed.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.orders.list_columns import TOTAL, ListHead, known_size, list_head
from blankbook.entry.readings.reading_columns import EMPTY_TEXTS, ReadingColumn
from blankbook.entry.readings.table_pieces import RejectedCell, cell_text, is_empty_row
from blankbook.entry.tables.table_cells import Cell, Table, check_nothing_hidden
from blankbook.records.model import Style

_WHOLE = re.compile(r"[0-9]{1,6}")


@dataclass(slots=True)
class ClientList:
    """What was read from a list, and what was not."""

    columns: tuple[ReadingColumn, ...] = ()
    needed: dict[str, dict[str, int]] = field(default_factory=dict)
    """By colour and size, in the order of the style's sizes."""
    rejected: list[RejectedCell] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many shirts it asks for."""
        return sum(sum(sizes.values()) for sizes in self.needed.values())


def read_client_list(
    table: Table, style: Style, given: Mapping[str, str], colour: str = ""
) -> ClientList:
    """Return what a list asks for; *given* is what a person says of its columns.

    *colour* is that of all shirts where no column says. Raises: NoTableError.
    """
    check_nothing_hidden(table)
    head = list_head(table, style.sizes, given)
    read = ClientList(head.columns)
    counts: dict[tuple[str, str], int] = {}
    entries = _grid(head, read, style.sizes) if head.is_grid else _listed(head, read)
    for size_cell, colour_cell, count in entries:
        size = known_size(cell_text(size_cell), style.sizes)
        own = _colour(colour_cell, style.colours, colour, size_cell, read)
        if not size:
            why = f"no size of this style; there are {', '.join(style.sizes)}"
            found = cell_text(size_cell)[:40]
            read.rejected.append(RejectedCell(size_cell.address, f"{found} is {why}"))
        elif own:
            counts[own, size] = counts.get((own, size), 0) + count
    for name in dict.fromkeys(own for own, _ in counts):
        own_sizes = {s: counts[name, s] for s in style.sizes if (name, s) in counts}
        read.needed[name] = own_sizes
    return read


def _colour(
    cell: Cell | None, colours: Sequence[str], usual: str, beside: Cell, read: ClientList
) -> str:
    """Return the style's own name for a colour; an unknown one is rejected."""
    text = cell_text(cell) if cell else ""
    own = {name.casefold(): name for name in colours}
    only = usual or (colours[0] if len(colours) == 1 else "")
    if not text and only:
        return only
    if text.casefold() in own:
        return own[text.casefold()]
    place = cell.address if cell and text else beside.address
    what = f"{text[:40]} is no colour of this style" if text else "has no colour"
    read.rejected.append(RejectedCell(place, f"{what}; there are {', '.join(colours)}"))
    return ""


Entry = tuple[Cell, Cell | None, int]
"""The cell with the size, that with the colour, and how many."""


def _rows(head: ListHead, read: ClientList) -> Iterator[tuple[Cell, ...]]:
    """Yield the rows that ask for something; sums, and headings once more, are noted."""
    again = [cell.text for cell in head.headings]
    for row in head.below:
        if is_empty_row(row):
            continue
        first = next(cell for cell in row if cell_text(cell))
        if [cell.text for cell in row] == again or TOTAL.fullmatch(first.text):
            number = first.address.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
            read.notes.append(f"row {number} left out: {first.text[:40]}")
            continue
        yield row


def _listed(head: ListHead, read: ClientList) -> Iterator[Entry]:
    """Yield the rows of a list: one shirt each, or as many as the count says."""
    places = {holds: head.place(holds) for holds in ("size", "colour", "count")}
    for row in _rows(head, read):
        found = {holds: row[at] for holds, at in places.items() if at is not None}
        size, count = found["size"], 1
        if size.odd or not cell_text(size):
            read.rejected.append(RejectedCell(size.address, size.odd or "has no size"))
            continue
        if "count" in found:
            whole = _count(found["count"], read)
            if whole is None:
                continue
            count = whole
        yield size, found.get("colour"), count


def _grid(head: ListHead, read: ClientList, sizes: Sequence[str]) -> Iterator[Entry]:
    """Yield the counts of a grid: sizes above, and a colour before each row or none."""
    for column in head.columns:
        if not column.holds and column.heading.text:
            why = f"is no size of this style; there are {', '.join(sizes)}"
            text = f"{column.heading.text[:40]} {why}"
            read.rejected.append(RejectedCell(column.heading.address, text))
    colour = head.place("colour")
    counted = [column for column in head.columns if column.holds in sizes]
    for row in _rows(head, read):
        for column in counted:
            cell = row[column.at]
            if cell_text(cell).casefold() in {*EMPTY_TEXTS, "0"}:
                continue
            count = _count(cell, read)
            if count is not None:
                name = None if colour is None else row[colour]
                yield Cell(column.holds, cell.address), name, count


def _count(cell: Cell, read: ClientList) -> int | None:
    """Return a whole number above zero; anything else is rejected."""
    text = cell_text(cell).removesuffix(".0")
    if cell.odd:
        read.rejected.append(RejectedCell(cell.address, cell.odd))
        return None
    if not _WHOLE.fullmatch(text) or not int(text):
        found = text[:40] or "nothing"
        why = f"must be a whole number of shirts above 0, found {found}"
        read.rejected.append(RejectedCell(cell.address, why))
        return None
    return int(text)
