"""What each column of a client's list holds, as far as its headings say.

A person can say otherwise, as of a table of readings.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.readings.reading_columns import (
    MOST_HEADING_ROWS,
    SKIP,
    ReadingColumn,
    answer_for,
    check_all_used,
    check_each_once,
    unknown_if_filled,
)
from blankbook.entry.tables.table_cells import Cell, NoTableError, Table

LIST_COLUMNS = ("size", "colour", "count")
_HEADINGS = {
    "size": ("size", "shirt size", "t-shirt size", "tee size", "größe", "taille", "talla",
             "taglia"),
    "colour": ("colour", "color", "shirt colour", "shirt color", "farbe", "couleur", "colore"),
    "count": ("qty", "quantity", "pieces", "pcs", "count", "how many", "shirts",
              "anzahl", "menge", "quantité", "cantidad", "quantità"),
    SKIP: ("name", "first name", "last name", "surname", "vorname", "nachname", "nom", "nombre",
           "nome", "cognome", "person", "player", "member", "e-mail", "email", "phone", "class",
           "team", "department", "note", "notes", "remark", "remarks", "comment", "comments"),
}  # fmt: skip
"""What columns of such lists are called (common practice, no source). A number is not among
them: on a team's list it may be the one on the back."""
_KINDS = {heading.casefold(): kind for kind, headings in _HEADINGS.items() for heading in headings}
TOTAL = re.compile(r"(grand |sub)?totals?\b.*|sum\b.*|gesamt\b.*|summe\b.*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class ListHead:
    """A list's columns, and the rows below their headings."""

    columns: tuple[ReadingColumn, ...]
    headings: tuple[Cell, ...]
    below: tuple[tuple[Cell, ...], ...]
    is_grid: bool
    """Whether each size has a column of its own; such a column holds that size."""

    def place(self, holds: str) -> int | None:
        """Return where the column is that holds something; None without one."""
        return next((column.at for column in self.columns if column.holds == holds), None)


def list_head(table: Table, sizes: Sequence[str], given: Mapping[str, str]) -> ListHead:
    """Return what each column holds; *given* is what a person says, by heading or letter.

    Raises: NoTableError where no column holds sizes and no heading is a size.
    """
    for head, row in enumerate(table.rows[:MOST_HEADING_ROWS]):
        columns = [_column(cell, at, row, given) for at, cell in enumerate(row)]
        is_grid = not any(column.holds == "size" for column in columns)
        if is_grid and sum(bool(known_size(cell.text, sizes)) for cell in row) < 2:
            continue
        if is_grid:
            columns = [_of_grid(column, sizes) for column in columns]
        check_all_used(given, columns)
        below = table.rows[head + 1 :]
        columns = [c if c.holds == "colour" else unknown_if_filled(c, below) for c in columns]
        check_each_once(columns)
        return ListHead(tuple(columns), row, below, is_grid)
    raise NoTableError(
        "must have a column for the size, or a column for each size, found neither",
        "write size over the column with the sizes, or --column HEADING=size",
    )


def _column(cell: Cell, at: int, row: Sequence[Cell], given: Mapping[str, str]) -> ReadingColumn:
    if answer := answer_for(cell, row, given):
        return ReadingColumn(at, cell, answer, is_given=True)
    plain = cell.text.casefold().strip(" :")
    return ReadingColumn(at, cell, _KINDS.get(plain, "") if plain else SKIP)


def _of_grid(column: ReadingColumn, sizes: Sequence[str]) -> ReadingColumn:
    """Return a column of a grid: a size, the names of colours before them all, or a sum."""
    if column.is_given:
        return column
    text = column.heading.text
    holds = known_size(text, sizes) or (SKIP if TOTAL.fullmatch(text) else column.holds)
    if column.at == 0 and holds in {"", SKIP}:
        holds = "colour"
    return ReadingColumn(column.at, column.heading, holds)


def known_size(text: str, sizes: Sequence[str]) -> str:
    """Return the style's own label for what a cell says, or nothing.

    >>> known_size("xxl", ["XL", "2XL"]), known_size("Large", ["M", "L"]), known_size("9", ["M"])
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
