"""Which garment a row of a table is, so that two garments are never taken for one."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.charts.size_labels import size_label
from blankbook.entry.readings.reading_columns import EMPTY_TEXTS
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.model import Style

LONGEST_PIECE_NAME = 60
"""In characters."""
_SUMMARY_NAME = re.compile(
    r"(?:(?:grand|sub)[ -]?)?(?:totals?|sums?|averages?|avg|means?|medians?|min(?:imum)?|"
    r"max(?:imum)?|range|count|std\.?(?: ?dev\.?)?|st\.? ?dev\.?|standard deviation|sd|"
    r"specs?|specification|target|nominal|chart|tol(?:erances?)?|diff(?:erences?)?|deviation)"
    r"(?:\s*[(:=].*|\s+(?:of\s+)?\S{1,6})?"
)
"""Names of rows that sum others up, or say what was wanted (common practice, no source)."""


@dataclass(slots=True)
class TablePiece:
    """One piece of the table."""

    key: str
    size: str
    colour: str
    lot: str = ""
    note: str = ""
    read: dict[tuple[int, str], list[str]] = field(default_factory=dict)
    """By washes and point: the readings as the file will hold them."""
    named: bool = True
    """Whether the table names the piece; if not, its name was made by counting."""
    address: str = ""
    """The cell with its name, or else the first cell of its row."""


@dataclass(frozen=True, slots=True)
class RejectedCell:
    """A cell that was not understood."""

    address: str
    why: str


def cell_text(cell: Cell) -> str:
    """Return a cell's own text, or that of the merged cell over it."""
    return cell.text or cell.over


def is_summary_row(row: Sequence[Cell], words: Mapping[str, Cell]) -> bool:
    """Say by its name whether a row sums others up, or says what was wanted."""
    first = next((cell for cell in row if cell.text), None)
    called = [first, words.get("piece"), words.get("size")]
    return any(
        cell and _SUMMARY_NAME.fullmatch(cell.text.casefold().strip(" :.=*")) for cell in called
    )


@dataclass(slots=True)
class PieceNames:
    """The names of pieces in the rows so far, given or counted."""

    style: Style
    colour: str
    _counts: dict[tuple[str, str], int] = field(default_factory=dict)
    _known: dict[str, tuple[object, TablePiece]] = field(default_factory=dict)

    def piece_of(self, row: Sequence[Cell], words: Mapping[str, Cell]) -> TablePiece | RejectedCell:
        """Return the piece of a row, without readings, or the cell that leaves it unknown."""
        for cell in words.values():
            if cell.odd:
                return RejectedCell(cell.address, cell.odd)
            if any(ord(c) < 32 or 127 <= ord(c) < 160 for c in cell.text):
                return RejectedCell(
                    cell.address, "holds a character that cannot be seen; type it anew"
                )
        at = words.get("size") or words.get("piece")
        size, shade = self._size(words), self._colour(words)
        if self.style.colours and shade not in self.style.colours:
            shade = ""
        if size and not shade:
            at = words.get("colour") or at
        if not size or not shade:
            what = "size" if not size else "colour"
            known = ", ".join(self.style.sizes if not size else self.style.colours)
            text = cell_text(at) if at else ""
            why = f"no {what} of the style, found {text or 'nothing'}; there are {known}"
            return RejectedCell(at.address if at else row[0].address, why)
        return self._same(self._found(row, words, size, shade), words)

    def _size(self, words: Mapping[str, Cell]) -> str:
        """Return the size of a row, from its column or else from the piece's name."""
        if "size" in words:
            text = cell_text(words["size"])
            same = [known for known in self.style.sizes if known.casefold() == text.casefold()]
            label = same[0] if same else size_label(text, numbers=True)
            return label if label in self.style.sizes else ""
        name = cell_text(words["piece"]) if "piece" in words else ""
        parts = re.split(r"[-_ ]", name)
        return next((part for part in parts if part in self.style.sizes), "")

    def _colour(self, words: Mapping[str, Cell]) -> str:
        """Return the colour of a row: of its column, of the whole table, or in the piece's name."""
        text = cell_text(words["colour"]) if "colour" in words else ""
        same = (known for known in self.style.colours if known.casefold() == text.casefold())
        if shade := next(same, text) or self.colour:
            return shade
        name = cell_text(words["piece"]) if "piece" in words else ""
        # Whole words of the name count: M-scream-1 is not of the colour cream.
        parts = f"-{'-'.join(re.split(r'[-_ ]', name.casefold()))}-"
        shades = (f"-{'-'.join(known.casefold().split())}-" for known in self.style.colours)
        named = zip(self.style.colours, shades, strict=True)
        return next((known for known, shade in named if shade in parts), "")

    def _found(
        self, row: Sequence[Cell], words: Mapping[str, Cell], size: str, shade: str
    ) -> tuple[object, TablePiece]:
        """Return the piece of a row, with what tells it from other garments of its name."""
        at = words.get("piece") or row[0]
        own = name = cell_text(words["piece"]) if "piece" in words else ""
        # A bare number is counted within size and colour: number 1 of L is not number 1 of M.
        if not own or own.isdigit():
            counted = self._counts[size, shade] = self._counts.get((size, shade), 0) + 1
            name = f"{size}-{shade}-{own or counted}"
        lot, note = (
            cell_text(words[column]) if column in words else "" for column in ("lot", "note")
        )
        key = "-".join(name.replace("/", "-").split())
        found = TablePiece(key, size, shade, lot, note, named=bool(own), address=at.address)
        if own.isdigit():
            return (own, size, shade), found
        return own.casefold() or ("", key), found

    def _same(
        self, entry: tuple[object, TablePiece], words: Mapping[str, Cell]
    ) -> TablePiece | RejectedCell:
        """Return the piece, unless its name already stands for another garment."""
        raw, found = entry
        if len(found.key) > LONGEST_PIECE_NAME:
            return RejectedCell(
                found.address, f"must be a name of at most {LONGEST_PIECE_NAME} characters"
            )
        before, held = self._known.setdefault(found.key.casefold(), entry)
        if (held.size, held.colour) != (found.size, found.colour):
            why = f"{found.key} is {held.size}, {held.colour} further up, and not "
            at = words["size"].address if "size" in words else found.address
            return RejectedCell(at, f"{why}{found.size}, {found.colour}")
        if before != raw:
            why = f"would be the piece {found.key}, as the row of {held.address} is already"
            return RejectedCell(found.address, f"{why}; name one of them otherwise")
        if found.lot and held.lot and found.lot != held.lot:
            why = f"{found.key} is of lot {held.lot} further up, and not {found.lot}"
            return RejectedCell(found.address, why)
        return found


def is_empty_row(row: Sequence[Cell]) -> bool:
    """Say whether a row has nothing in it."""
    return all(cell_text(cell).casefold() in EMPTY_TEXTS for cell in row)
