"""What in readings that were changed or added looks like a slip of the pen."""

from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.facts.file_differences import FactChange, FileChange
from blankbook.records.lengths import CM_IN_INCH
from blankbook.records.model import Piece, Round
from blankbook.words.points import INCH

_ENOUGH = 3
"""That so many readings move by the same is no chance."""


def suspicious_readings(file: FileChange) -> Iterator[str]:
    """Yield what looks wrong in a changed or added round, in words."""
    lengths = [change for change in file.changes if change.lengths and change.path[0] == "pieces"]
    yield from _shifted_together(lengths)
    for change in lengths:
        yield from _suspicious_change(change)
    if isinstance(file.new, Round):
        known = file.old.pieces if isinstance(file.old, Round) else ()
        yield from _copied_pieces(file.new.pieces, known)


def is_unit_slip(old: Fraction, new: Fraction) -> bool:
    """Say whether one length is the other in the wrong unit, within half a percent."""
    ratio = max(old, new) / min(old, new) if old and new else Fraction()
    return abs(ratio / CM_IN_INCH - 1) < Fraction(1, 200)


def _shifted_together(lengths: list[FactChange]) -> Iterator[str]:
    shifts: set[Fraction | None] = {change.by for change in lengths}
    if len(lengths) >= _ENOUGH and len(shifts) == 1:
        yield f"all {len(lengths)} readings that changed moved by the same"


def _suspicious_change(change: FactChange) -> Iterator[str]:
    if not change.lengths or not all(change.lengths):
        return
    old, new = change.lengths
    where = f"{change.path[1]}, {change.path[-1].replace('_', ' ')}"
    if is_unit_slip(old, new):
        yield f"{where}: the ratio of new to old is 2.54, inches taken for centimetres"
    elif abs(new - old) >= INCH:
        yield f"{where}: moved by an inch or more"


def _copied_pieces(pieces: tuple[Piece, ...], known: tuple[Piece, ...]) -> Iterator[str]:
    """Yield pieces of different sizes with the same readings, where one of the two is new."""
    was = {piece.key: piece.received for piece in known}
    first: dict[tuple[tuple[str, tuple[Fraction, ...]], ...], Piece] = {}
    for piece in pieces:
        readings = tuple(
            (point, tuple(reading.exact for reading in repeats))
            for point, repeats in sorted(piece.received.items())
        )
        other = first.setdefault(readings, piece)
        is_new = any(was.get(twin.key) != twin.received for twin in (piece, other))
        if len(readings) > 1 and other.size != piece.size and is_new:
            yield f"{piece.key}: the readings are a copy of {other.key}, of another size"
