"""Rounds that are planned and not measured yet: more pieces of the same lot go into them.

Sizes are compared within a round. A second round of the same lot would leave them apart.
"""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.entering.more_pieces import with_piece
from blankbook.commands.shared.errors import shown
from blankbook.commands.shared.write_changes import Write, edited

if TYPE_CHECKING:
    from blankbook.entry.new.sample_plan import PlannedPiece
    from blankbook.records.model import Blank, PlannedRound


def open_round(blank: "Blank", lot: str) -> "PlannedRound | None":
    """Return the planned round of a lot that is known; None where there is none."""
    return next((planned for planned in blank.planned if lot and planned.lot == lot), None)


def added_to(root: Path, planned: "PlannedRound", pieces: "Sequence[PlannedPiece]") -> Write:
    """Return a planned round's file with more pieces, numbered behind those it has.

    Raises: BlankbookError where the file cannot be changed safely.
    """
    from blankbook.text.writing.edits import CannotEditError

    held = {piece.key for piece in planned.pieces}
    path = planned.source.path
    old = new = (root / path).read_bytes()
    try:
        for piece in pieces:
            free = _numbered(piece, held)
            held.add(free.key)
            new = with_piece(new, free)
    except CannotEditError as error:
        raise edited(error, path) from None
    return Write(path, old, new)


def _numbered(piece: "PlannedPiece", held: set[str]) -> "PlannedPiece":
    """Return a piece with the next number that none has."""
    from dataclasses import replace

    start, number = piece.key.rpartition("-")[0], 1
    while f"{start}-{number}" in held:
        number += 1
    return replace(piece, key=f"{start}-{number}")


def why_apart(blank: "Blank", lot: str) -> Iterator[str]:
    """Yield why pieces do not go into a round that is still open."""
    for planned in blank.planned:
        place = shown(planned.source.path)
        if lot and planned.lot:
            if planned.lot != lot:
                yield f"{place} is still open and of another lot, {shown(planned.lot)}"
            continue
        unknown = "its lot is not known" if lot else "the lot of these pieces is not known"
        remedy = "blankbook enter with --add" if not planned.lot else f"--lot {shown(planned.lot)}"
        yield f"{place} is still open; {unknown}. Of the same lot they belong into it: {remedy}"
