"""A table of readings as a shop kept it elsewhere: a row for each piece, a column for each point.

What a column holds is guessed from its heading, and a person says where the guess is wrong. A cell
is read as a length or it is named by its address; nothing is made to fit.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blankbook.entry.cell_lengths import lengths_in
from blankbook.entry.headings import point_of, read_heading, unit_of
from blankbook.entry.size_labels import size_label
from blankbook.entry.tables import Cell, NoTable, Table
from blankbook.records.lengths import LengthError
from blankbook.records.model import Style, Tape
from blankbook.words.points import POINTS

SKIP = "skip"
OTHERS = ("piece", "size", "colour", "lot", "note", "washes")
_NAMES = {
    "piece": "piece", "garment": "piece", "sample": "piece", "id": "piece", "no": "piece",
    "no.": "piece", "number": "piece", "#": "piece", "size": "size", "label": "size",
    "tag": "size", "colour": "colour", "color": "colour", "shade": "colour", "lot": "lot",
    "dye lot": "lot", "batch": "lot", "note": "note", "notes": "note", "remark": "note",
    "remarks": "note", "comment": "note", "comments": "note", "washes": "washes",
    "cycles": "washes", "wash": "washes", "washed": "washes", "times washed": "washes",
}  # fmt: skip
"""What a column is called that holds something else than a length (common practice, no source)."""
_AFTER = re.compile(
    r"\b(?:after|post)\b.*?\b(\d{1,3})\b|\b(\d{1,3})\s*(?:x\s*)?wash"
    r"|\bwash(?:es|ed)?\s*(\d{1,3})\b|\bw(\d{1,2})\b"
)
_JUST_AFTER = re.compile(r"\b(after|post)\b|\bwashed\b")
EMPTY = {"", "-", "–", "—", "n/a", "na"}


@dataclass(frozen=True, slots=True)
class Column:
    """What a column holds."""

    at: int
    heading: Cell
    holds: str
    """A point of measure, one of `OTHERS`, ``skip``, or empty where it is not known."""
    washes: int = 0
    """After how many washes it was read; 0 as received."""
    unit: str = ""
    """What its heading says of the unit."""


@dataclass(slots=True)
class Found:
    """One piece of the table."""

    piece: str
    size: str
    colour: str
    lot: str = ""
    note: str = ""
    read: dict[tuple[int, str], list[str]] = field(default_factory=dict)
    """By washes and point: the readings as the file will hold them."""


@dataclass(frozen=True, slots=True)
class Rejected:
    """A cell that was not understood."""

    address: str
    why: str


@dataclass(frozen=True, slots=True)
class ReadTable:
    """What came of a table."""

    columns: tuple[Column, ...]
    pieces: tuple[Found, ...]
    rejected: tuple[Rejected, ...]


def columns_of(table: Table, given: Mapping[str, str]) -> tuple[int, tuple[Column, ...]]:
    """Return the row of headings, and what each column holds; *given* is by heading or letter.

    Raises: NoTable where no row names a point of measure.
    """
    best: tuple[int, int, tuple[Column, ...]] = (0, 0, ())
    for number, row in enumerate(table.rows[:20]):
        columns = tuple(_column(at, cell, given) for at, cell in enumerate(row))
        known = sum(one.holds in POINTS or one.holds in OTHERS for one in columns)
        if known > best[0] and any(one.holds in POINTS for one in columns):
            best = (known, number, columns)
    _each_once(best[2])
    if not best[0]:
        raise NoTable(
            "must have a row of headings that names a point of measure",
            "write --column HEADING=half_chest",
        )
    return best[1], best[2]


def _each_once(columns: Sequence[Column]) -> None:
    """Refuse two columns that hold the same: nobody can tell which of them counts.

    Raises: NoTable.
    """
    first: dict[tuple[str, int], Column] = {}
    for one in columns:
        if one.holds in {"", SKIP}:
            continue
        other = first.setdefault((one.holds, one.washes), one)
        if other is not one:
            both = f"{other.heading.address} {other.heading.text} and {one.heading.address}"
            message = f"must have one column for {one.holds}, found {both} {one.heading.text}"
            raise NoTable(message, f"write --column {one.heading.text!r}=skip")


def _column(at: int, cell: Cell, given: Mapping[str, str]) -> Column:
    letter = cell.address.rstrip("0123456789")
    said = given.get(cell.text.casefold()) or given.get(letter.casefold())
    washes = _washes(cell.text)
    if said:
        holds, _, after = said.partition("@")
        return Column(at, cell, holds, int(after or washes), unit_of(cell.text))
    plain = cell.text.casefold().strip(" :")
    if plain in _NAMES:
        return Column(at, cell, _NAMES[plain])
    if not plain:
        return Column(at, cell, SKIP)
    heading = read_heading(_without_wash(cell.text))
    point = heading.point if heading.kind == "point" else point_of(cell.text)
    if point and not heading.around:
        return Column(at, cell, point, washes, heading.unit or unit_of(cell.text))
    if heading.kind == "size":
        return Column(at, cell, "size")
    return Column(at, cell, SKIP if heading.kind in {"left_out", "tolerance"} else "")


def _washes(text: str) -> int:
    plain = text.casefold()
    if found := _AFTER.search(plain):
        return int(next(filter(None, found.groups())))
    return 1 if _JUST_AFTER.search(plain) else 0


def _without_wash(text: str) -> str:
    plain = _AFTER.sub(" ", text.casefold())
    return re.sub(
        r"\b(after|before|post|pre|wash(es|ed|ing)?|as received|received|new|x)\b", " ", plain
    )


def read_table(
    table: Table, given: Mapping[str, str], style: Style, tape: Tape, unit: str, colour: str
) -> ReadTable:
    """Return the pieces of a table; *unit* holds where neither heading nor cell names one.

    Raises: NoTable.
    """
    start, columns = columns_of(table, given)
    pieces: dict[str, Found] = {}
    rejected: list[Rejected] = []
    counts: dict[tuple[str, str], int] = {}
    for row in table.rows[start + 1 :]:
        if all(cell.text.casefold() in EMPTY for cell in row):
            continue
        words = {one.holds: row[one.at] for one in columns if one.holds in OTHERS}
        found = _piece(words, style, colour, counts, rejected)
        if found is None:
            continue
        held = pieces.setdefault(found.piece.casefold(), found)
        if (held.size, held.colour) != (found.size, found.colour):
            at = words.get("size") or words["piece"]
            why = f"{found.piece} is {held.size}, {held.colour} further up, and not "
            rejected.append(Rejected(at.address, f"{why}{found.size}, {found.colour}"))
            continue
        _read_row(held, row, columns, words, tape, unit, rejected)
    return ReadTable(columns, tuple(pieces.values()), tuple(rejected))


def _piece(
    words: Mapping[str, Cell],
    style: Style,
    colour: str,
    counts: dict[tuple[str, str], int],
    rejected: list[Rejected],
) -> Found | None:
    """Return what a row says of its piece, without readings; None where its size is unknown."""
    size = _size(words, style)
    name = words["piece"].text if "piece" in words else ""
    if not size and "size" not in words:
        size = next((part for part in re.split(r"[-_ ]", name) if part in style.sizes), "")
    shade = words["colour"].text if "colour" in words else ""
    shade = next((one for one in style.colours if one.casefold() == shade.casefold()), shade)
    shade = shade or colour or next((one for one in style.colours if one in name), "")
    at = words.get("size") or words.get("piece")
    if size and shade and style.colours and shade not in style.colours:
        at, shade = words.get("colour") or at, ""
    if not size or not shade:
        what = "size" if not size else "colour"
        known = ", ".join(style.sizes if not size else style.colours)
        text = at.text if at else ""
        why = f"no {what} of the style, found {text or 'nothing'}; there are {known}"
        rejected.append(Rejected(at.address if at else "the first row", why))
        return None
    if not name or name.isdigit():
        counts[size, shade] = counts.get((size, shade), 0) + 1
        number = name or str(counts[size, shade])
        name = f"{size}-{shade}-{number}"
    lot = words["lot"].text if "lot" in words else ""
    note = words["note"].text if "note" in words else ""
    return Found("-".join(name.replace("/", "-").split())[:60], size, shade, lot, note)


def _size(words: Mapping[str, Cell], style: Style) -> str:
    if "size" not in words:
        return ""
    text = words["size"].text
    same = [one for one in style.sizes if one.casefold() == text.casefold()]
    label = same[0] if same else size_label(text, numbers=True)
    return label if label in style.sizes else ""


def _read_row(
    found: Found,
    row: Sequence[Cell],
    columns: Sequence[Column],
    words: Mapping[str, Cell],
    tape: Tape,
    unit: str,
    rejected: list[Rejected],
) -> None:
    stage = 0
    if "washes" in words and words["washes"].text.casefold() not in EMPTY:
        text = re.sub(r"\D+", "", words["washes"].text)
        if not text or int(text) > 200:
            rejected.append(Rejected(words["washes"].address, "must be a number of washes"))
            return
        stage = int(text)
    for one in columns:
        if one.holds not in POINTS or row[one.at].text.casefold() in EMPTY:
            continue
        try:
            texts = lengths_in(row[one.at].text, one.holds, tape, one.unit or unit)
        except LengthError as error:
            more = f"; {error.instead}" if error.instead else ""
            rejected.append(Rejected(row[one.at].address, f"{error}{more}"))
            continue
        found.read.setdefault((one.washes or stage, one.holds), []).extend(texts)
