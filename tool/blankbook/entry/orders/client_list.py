"""A client's list of shirts: a row for each person, a row for each size, or a grid of counts.

Every cell counts or is named by its address; a size that nobody knows is never guessed.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.readings.table_pieces import RejectedCell, cell_text, is_empty_row
from blankbook.entry.tables.table_cells import Cell, NoTableError, Table, check_nothing_hidden

SIZE_HEADINGS = {"size", "shirt size", "t-shirt size", "tee size", "größe", "taille", "talla",
                 "taglia"}  # fmt: skip
COLOUR_HEADINGS = {"colour", "color", "shirt colour", "shirt color", "farbe", "couleur", "colore"}
COUNT_HEADINGS = {"qty", "quantity", "pieces", "pcs", "count", "number", "how many", "shirts",
                  "anzahl", "menge", "quantité", "cantidad", "quantità"}  # fmt: skip
"""What columns of such lists are called (common practice, no source)."""
_TOTAL = re.compile(r"(grand |sub)?totals?\b.*|sum\b.*|gesamt\b.*|summe\b.*", re.IGNORECASE)
_WHOLE = re.compile(r"[0-9]{1,6}")
MOST_OF_A_LINE = 1000000


@dataclass(slots=True)
class ClientList:
    """What was read from a list, and what was not."""

    needed: dict[str, dict[str, int]] = field(default_factory=dict)
    """By colour and size, in the order of the style's sizes."""
    rejected: list[RejectedCell] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def read_client_list(
    table: Table, sizes: Sequence[str], colours: Sequence[str], colour: str = ""
) -> ClientList:
    """Return what a list asks for; *colour* is that of all shirts where no column says.

    Raises: NoTableError where no column holds sizes and no heading is a size.
    """
    check_nothing_hidden(table)
    read = ClientList()
    counts: dict[tuple[str, str], int] = {}
    for head, row in enumerate(table.rows):
        columns = _columns(row)
        if "size" in columns:
            entries = _listed(table.rows[head + 1 :], columns, read, row)
            break
        if len(_sizes_in(row, sizes)) > 1:
            entries = _grid(table.rows[head + 1 :], row, sizes, read)
            break
    else:
        raise NoTableError(
            "must have a column for the size, or a column for each size, found neither",
            "write size over the column with the sizes",
        )
    for size_cell, colour_cell, count in entries:
        size = _known_size(size_cell.text, sizes)
        own = _colour(colour_cell, colours, colour, size_cell, read)
        if not size:
            why = f"no size of this style; there are {', '.join(sizes)}"
            read.rejected.append(RejectedCell(size_cell.address, f"{size_cell.text[:40]} is {why}"))
        elif own:
            counts[own, size] = counts.get((own, size), 0) + count
    for name in dict.fromkeys(own for own, _ in counts):
        read.needed[name] = {size: counts[name, size] for size in sizes if (name, size) in counts}
    return read


def _columns(row: Sequence[Cell]) -> dict[str, int]:
    """Return the columns by what they hold: ``size``, ``colour`` and ``count``."""
    found: dict[str, int] = {}
    kinds = (("size", SIZE_HEADINGS), ("colour", COLOUR_HEADINGS), ("count", COUNT_HEADINGS))
    for at, cell in enumerate(row):
        text = cell_text(cell).casefold().strip(" :")
        for kind, headings in kinds:
            if text in headings:
                found.setdefault(kind, at)
    return found


def _sizes_in(row: Sequence[Cell], sizes: Sequence[str]) -> dict[int, str]:
    found = {at: _known_size(cell.text, sizes) for at, cell in enumerate(row)}
    return {at: size for at, size in found.items() if size}


def _known_size(text: str, sizes: Sequence[str]) -> str:
    """Return the style's own label for what a cell says, or nothing.

    >>> _known_size("xxl", ["XL", "2XL"]), _known_size("Large", ["M", "L"]), _known_size("9", ["M"])
    ('2XL', 'L', '')
    """
    own = {size.casefold(): size for size in sizes}
    plain = text.strip()
    if plain.casefold() in own:
        return own[plain.casefold()]
    label = size_label(plain, numbers=any(size[:1].isdigit() for size in sizes))
    for form in (label, re.sub(r"^(\d)XL$", lambda found: "X" * int(found[1]) + "L", label),
                 re.sub(r"^(X{2,})L$", lambda found: f"{len(found[1])}XL", label)):  # fmt: skip
        if form and form.casefold() in own:
            return own[form.casefold()]
    return ""


def _colour(
    cell: Cell | None, colours: Sequence[str], usual: str, beside: Cell, read: ClientList
) -> str:
    """Return the style's own name for a colour; an unknown one is rejected."""
    text = cell_text(cell) if cell else ""
    own = {name.casefold(): name for name in colours}
    if not text:
        only = usual or (colours[0] if len(colours) == 1 else "")
        if not only:
            why = f"has no colour; there are {', '.join(colours)}"
            read.rejected.append(RejectedCell(beside.address, why))
        return only
    if text.casefold() in own:
        return own[text.casefold()]
    place = cell.address if cell else beside.address
    why = f"{text[:40]} is no colour of this style; there are {', '.join(colours)}"
    read.rejected.append(RejectedCell(place, why))
    return ""


Entry = tuple[Cell, Cell | None, int]
"""The cell with the size, that with the colour, and how many."""


def _listed(
    rows: Sequence[Sequence[Cell]], columns: Mapping[str, int], read: ClientList,
    headings: Sequence[Cell],
) -> Iterator[Entry]:  # fmt: skip
    """Yield the rows of a list: one shirt each, or as many as the count says."""
    again = [cell.text for cell in headings]
    for row in rows:
        if is_empty_row(row) or [cell.text for cell in row] == again:
            continue
        size = row[columns["size"]]
        first = next(cell for cell in row if cell_text(cell))
        if _TOTAL.fullmatch(first.text):
            read.notes.append(f"row of {first.address} left out: {first.text[:40]}")
            continue
        if size.odd or not cell_text(size):
            read.rejected.append(RejectedCell(size.address, size.odd or "has no size"))
            continue
        count = 1
        if "count" in columns:
            found = _count(row[columns["count"]], read)
            if found is None:
                continue
            count = found
        yield size, row[columns["colour"]] if "colour" in columns else None, count


def _grid(
    rows: Sequence[Sequence[Cell]], head: Sequence[Cell], sizes: Sequence[str], read: ClientList
) -> Iterator[Entry]:
    """Yield the counts of a grid: sizes above, and a colour before each row or none."""
    places = _sizes_in(head, sizes)
    for cell in head[1:]:
        if cell.text and head.index(cell) not in places and not _TOTAL.fullmatch(cell.text):
            why = f"{cell.text[:40]} is no size of this style; there are {', '.join(sizes)}"
            read.rejected.append(RejectedCell(cell.address, why))
    for row in rows:
        if is_empty_row(row):
            continue
        name = row[0] if 0 not in places else None
        if name and _TOTAL.fullmatch(name.text):
            read.notes.append(f"row of {name.address} left out: {name.text[:40]}")
            continue
        for at in places:
            if not cell_text(row[at]) or row[at].text in {"-", "–", "0"}:
                continue
            count = _count(row[at], read)
            if count is not None:
                yield Cell(head[at].text, row[at].address), name, count


def _count(cell: Cell, read: ClientList) -> int | None:
    """Return a whole number above zero; anything else is rejected."""
    text = cell_text(cell).removesuffix(".0")
    if cell.odd:
        read.rejected.append(RejectedCell(cell.address, cell.odd))
        return None
    if not _WHOLE.fullmatch(text) or not 0 < int(text) <= MOST_OF_A_LINE:
        found = text[:40] or "nothing"
        why = f"must be a whole number of shirts above 0, found {found}"
        read.rejected.append(RejectedCell(cell.address, why))
        return None
    return int(text)
