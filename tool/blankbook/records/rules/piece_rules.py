"""Rules of pieces: known sizes and colours, each piece once, stages in order."""

import difflib
from collections.abc import Iterator
from itertools import pairwise

from blankbook.records.model import Piece, PlannedRound, Round, Style
from blankbook.text.findings import Fault, ValuePath, visible


def of_round(round_: Round, style: Style) -> Iterator[Fault]:
    """Yield what is wrong with the pieces of a round, and with what refers to them."""
    yield from of_pieces(round_, style)
    for index, piece in enumerate(round_.pieces):
        yield from _stages(piece, ("pieces", index))
    yield from _swatches(round_, {piece.key for piece in round_.pieces})
    if round_.laundering is None and any(piece.washed for piece in round_.pieces):
        message = "pieces were washed, but not how"
        remedy = "write laundering: {wash: home_warm, dry: tumble_low}"
        yield Fault(("pieces",), "no-laundering", message, remedy, on_key=True)


def of_pieces(round_: Round | PlannedRound, style: Style) -> Iterator[Fault]:
    """Yield pieces of an unknown size or colour, and pieces that are there twice."""
    seen: dict[str, int] = {}
    for index, piece in enumerate(round_.pieces):
        at: ValuePath = ("pieces", index)
        yield from _size_and_colour(piece, style, at)
        first = seen.setdefault(piece.key.casefold(), index)
        if first != index:
            message = f"piece {visible(piece.key)} is there twice"
            remedy, before = "give each piece its own name", ("pieces", first, "piece")
            yield Fault((*at, "piece"), "piece-twice", message, remedy, first=before)


def _size_and_colour(piece: Piece, style: Style, at: ValuePath) -> Iterator[Fault]:
    """Yield a size that the style does not have, and note a colour that it does not list."""
    if piece.size not in style.sizes:
        message = f"unknown size {visible(piece.size)}"
        yield Fault((*at, "size"), "unknown-size", message, _size_help(piece.size, style.sizes))
    if style.colours and piece.colour not in style.colours:
        message = f"the style has no colour {visible(piece.colour)}"
        remedy = "add it to colours in style.yaml, or correct it"
        yield Fault((*at, "colour"), "unlisted-colour", message, remedy, "note")


def _size_help(size: str, sizes: tuple[str, ...]) -> str:
    """Return help for an unknown size: the same in another spelling, a similar one, or the list."""
    same = [label for label in sizes if _same_for_xxl(label) == _same_for_xxl(size)]
    if same:
        return f"did you mean {same[0]}?"
    near = difflib.get_close_matches(size.upper(), sizes, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}? or add {visible(size)} to sizes in style.yaml"
    return "the style's sizes are " + ", ".join(sizes)


def _same_for_xxl(size: str) -> str:
    """Return a size label with XXL written as 2XL, in capitals."""
    size = size.upper()
    count = len(size) - len(size.lstrip("X"))
    return f"{count}X{size[count:]}" if count > 1 else size


def _stages(piece: Piece, at: ValuePath) -> Iterator[Fault]:
    """Yield washed stages out of order, and points that were not measured as received."""
    for index, (before, after) in enumerate(pairwise(piece.washed)):
        if after.cycles <= before.cycles:
            message = f"cycles must grow, found {after.cycles} after {before.cycles}"
            where = (*at, "washed", index + 1, "cycles")
            yield Fault(where, "cycles-backwards", message, "put the fewest cycles first")
    for index, stage in enumerate(piece.washed):
        for point in stage.readings:
            if point not in piece.received:
                message = f"{point} was measured after washing and not as received"
                where = (*at, "washed", index, point)
                remedy = f"add {point} to received, or leave it out here"
                yield Fault(where, "washed-without-received", message, remedy, "note", on_key=True)


def _swatches(round_: Round, pieces: set[str]) -> Iterator[Fault]:
    for index, swatch in enumerate(round_.swatches):
        if swatch.piece and swatch.piece not in pieces:
            message = f"no piece is called {visible(swatch.piece)}"
            near = difflib.get_close_matches(swatch.piece, sorted(pieces), n=1)
            remedy = f"did you mean {near[0]}?" if near else "write a piece of this round"
            yield Fault(("swatches", index, "piece"), "unknown-piece", message, remedy)
