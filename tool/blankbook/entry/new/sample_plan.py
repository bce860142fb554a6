"""A purchase of samples: which pieces, what they cost, and what they are called."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.records.model import Blank, Style


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """One piece that is to be bought."""

    key: str
    """``L-black-1``."""
    size: str
    colour: str


@dataclass(frozen=True, slots=True)
class PurchaseCost:
    """What a purchase costs by the newest prices that are known."""

    total: float
    each: float
    """Of a size that has no price of its own."""
    currency: str


def size_and_neighbours(style: Style, size: str) -> tuple[str, ...]:
    """Return a size with the one below it and the one above it, as far as there are such."""
    at = style.sizes.index(size)
    return style.sizes[max(0, at - 1) : at + 2]


def middle_size(style: Style) -> str:
    """Return the size in the middle: where nobody says, it is the one that most wear."""
    return style.sizes[(len(style.sizes) - 1) // 2]


def planned_pieces(sizes: Sequence[str], colours: Sequence[str], each: int) -> list[PlannedPiece]:
    """Return the pieces, by size and then by colour, as they would lie on the table."""
    return [
        PlannedPiece(f"{_tag(size)}-{_tag(colour)}-{number}", size, colour)
        for size in sizes
        for colour in colours
        for number in range(1, each + 1)
    ]


def _tag(text: str) -> str:
    """Return a word for the name of a piece: no space and no slash in it."""
    return "-".join(text.replace("/", "-").split())[:24]


def purchase_cost(
    blank: Blank, currency: str, pieces: Sequence[PlannedPiece]
) -> PurchaseCost | None:
    """Return what the pieces cost, or None where no price is known.

    The newest price of the style holds; without one, what the last round paid for each.
    """
    if blank.style.prices:
        price = blank.style.prices[-1]
        total = sum(price.sizes.get(piece.size, price.each) for piece in pieces)
        return PurchaseCost(total, price.each, price.currency or currency)
    paid = [round_ for round_ in blank.rounds if round_.each is not None]
    if not paid or paid[-1].each is None:
        return None
    return PurchaseCost(paid[-1].each * len(pieces), paid[-1].each, paid[-1].currency or currency)
