"""A purchase of samples: which pieces, their names, and what they cost."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.records.model import Blank, Style


@dataclass(frozen=True, slots=True)
class PlannedPiece:
    """One piece to buy."""

    key: str
    """Its name, such as ``L-black-1``."""
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


def _tag(text: str) -> str:
    """Return a text as a part of a piece's name: without spaces and slashes."""
    return "-".join(text.replace("/", "-").split())[:24]


def purchase_cost(
    blank: Blank, currency: str, pieces: Sequence[PlannedPiece]
) -> PurchaseCost | None:
    """Return what the pieces cost, or None where no price is known.

    The newest price of the style counts; without one, what was paid for each in the last round.
    """
    if blank.style.prices:
        price = blank.style.prices[-1]
        total = sum(price.sizes.get(piece.size, price.each) for piece in pieces)
        return PurchaseCost(total, price.each, price.currency or currency)
    paid = [round_ for round_ in blank.rounds if round_.each is not None]
    if not paid or paid[-1].each is None:
        return None
    return PurchaseCost(paid[-1].each * len(pieces), paid[-1].each, paid[-1].currency or currency)
