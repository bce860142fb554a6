"""A purchase of samples: which pieces, and their names."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.records.model import Style


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """One piece to buy."""

    key: str
    """Its name, such as ``L-black-1``."""
    size: str
    colour: str


def size_and_neighbours(style: Style, size: str) -> tuple[str, ...]:
    """Return a size with the next smaller and the next larger one, where there are such."""
    at = style.sizes.index(size)
    return style.sizes[max(0, at - 1) : at + 2]


def middle_size(style: Style) -> str:
    """Return the size in the middle: the one that most people wear, where nobody says otherwise."""
    return style.sizes[(len(style.sizes) - 1) // 2]


def planned_pieces(sizes: Sequence[str], colours: Sequence[str], each: int) -> list[PlannedPiece]:
    """Return the pieces to buy, by size and then by colour, as they will lie on the table."""
    return [
        PlannedPiece(f"{_tag(size)}-{_tag(colour)}-{number}", size, colour)
        for size in sizes
        for colour in colours
        for number in range(1, each + 1)
    ]


def piece_of_name(style: Style, name: str) -> PlannedPiece | None:
    """Return the piece of a style that a name such as ``L-black-3`` says, or None."""
    start, _, number = name.rpartition("-")
    if not (number.isascii() and number.isdigit() and len(number) <= 3 and int(number)):
        return None
    pairs = ((size, colour) for size in style.sizes for colour in style.colours)
    return next(
        (PlannedPiece(name, s, c) for s, c in pairs if f"{_tag(s)}-{_tag(c)}" == start), None
    )


def _tag(text: str) -> str:
    """Return a text as a part of a piece's name: without spaces and slashes."""
    return "-".join(text.replace("/", "-").split())[:24]
