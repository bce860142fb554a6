"""Readings that were changed or added: what in them looks like a slip of the pen."""

from collections.abc import Iterator
from fractions import Fraction

from blankbook.history.facts.file_differences import Change, FileChange
from blankbook.records.model import Piece, Round
from blankbook.words.points import INCH

_ENOUGH = 3


def suspicions_of(one: FileChange) -> Iterator[str]:
    """Yield what looks wrong in a changed or added round, in words."""
    lengths = [c for c in one.changes if c.by is not None and c.way[0] == "pieces"]
    yield from _shifted(lengths)
    for change in lengths:
        yield from _of_reading(change)
    if isinstance(one.new, Round):
        known = one.old.pieces if isinstance(one.old, Round) else ()
        yield from _copied(one.new.pieces, known)


def _shifted(lengths: list[Change]) -> Iterator[str]:
    shifts: set[Fraction | None] = {one.by for one in lengths}
    if len(lengths) >= _ENOUGH and len(shifts) == 1:
        yield f"all {len(lengths)} readings that changed moved by the same"


def _of_reading(one: Change) -> Iterator[str]:
    assert one.old is not None
    assert one.new is not None
    old, new = one.old.mm, one.new.mm
    if not old or not new or one.by is None:
        return
    where = f"{one.way[1]}, {one.way[-1].replace('_', ' ')}"
    if abs(float(max(old, new) / min(old, new)) / 2.54 - 1) < 0.005:
        yield f"{where}: the ratio of new to old is 2.54, inches taken for centimetres"
    elif abs(one.by) >= INCH:
        yield f"{where}: moved by an inch or more"


def _copied(pieces: tuple[Piece, ...], known: tuple[Piece, ...]) -> Iterator[str]:
    """Yield pieces of different sizes with the same readings, one of them new."""
    was = {piece.key: piece.received for piece in known}
    first: dict[tuple[tuple[str, tuple[Fraction, ...]], ...], Piece] = {}
    for piece in pieces:
        told = tuple((p, tuple(x.exact for x in r)) for p, r in sorted(piece.received.items()))
        other = first.setdefault(told, piece)
        new = any(was.get(one.key) != one.received for one in (piece, other))
        if len(told) > 1 and other.size != piece.size and new:
            yield f"{piece.key}: the readings are a copy of {other.key}, of another size"
