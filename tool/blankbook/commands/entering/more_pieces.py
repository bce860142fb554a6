"""Pieces that come into a round after it was planned: one more size, or another of the same."""

import difflib
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import typer

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.write_changes import can_ask, edited

if TYPE_CHECKING:
    from blankbook.commands.entering.find_round import Found
    from blankbook.entry.new.sample_plan import PlannedPiece
    from blankbook.records.model import Style


def with_more_pieces(found: "Found", names: list[str], listed: Iterable[str]) -> bytes:
    """Return the round's file with the pieces of these *names* added.

    A piece that is *listed* with a reading and is not in the round is offered at a terminal, and
    then joins the names, so that nobody is asked twice.
    Raises: WrongUse, BlankbookError.
    """
    from blankbook.text.writing.edits import CannotEditError
    from blankbook.text.writing.yaml_spans import RecordText

    tree, style = RecordText(found.source).tree, found.blank.style
    held = [piece["piece"] for piece in tree.get("pieces", ())]
    for name in dict.fromkeys(listed):
        if name not in held and name not in names and _is_wanted(style, name, held):
            names.append(name)
    source = found.source
    try:
        for name in names:
            source = with_piece(source, named_piece(style, name, held))
            held.append(name)
    except CannotEditError as error:
        raise edited(error, found.path) from None
    return source


def named_piece(style: "Style", name: str, held: Sequence[str]) -> "PlannedPiece":
    """Return the piece that a name says, which is not in the round yet. Raises: WrongUse."""
    from blankbook.entry.new.sample_plan import piece_of_name

    if name in held:
        raise WrongUse(f"{shown(name)} is in the round already", "name another one")
    found = piece_of_name(style, name)
    if found is None:
        message = f"a piece must be called SIZE-COLOUR-NUMBER, found {shown(name)}"
        sizes, colours = ", ".join(style.sizes), ", ".join(style.colours)
        raise WrongUse(message, f"sizes are {shown(sizes)}; colours are {shown(colours)}")
    return found


def with_piece(source: bytes, piece: "PlannedPiece") -> bytes:
    """Return a round's file with one more piece at the end. Raises: CannotEditError."""
    from blankbook.text.writing.edits import add_item
    from blankbook.text.writing.yaml_scalars import yaml_mapping

    fields: dict[str, Any] = {"piece": piece.key, "size": piece.size, "colour": piece.colour}
    return add_item(source, ("pieces",), yaml_mapping(fields))


def _is_wanted(style: "Style", name: str, held: Sequence[str]) -> bool:
    """Say whether a piece is to be added that has a reading and is not in the round.

    Raises: WrongUse where nobody can be asked.
    """
    from blankbook.entry.new.sample_plan import piece_of_name

    if piece_of_name(style, name) is None:
        return False  # a slip of the pen: the nearest name is offered
    if can_ask():
        return typer.confirm(f"{shown(name)} is not in the round: add it?", default=False, err=True)
    near = difflib.get_close_matches(name, held, n=1)
    remedy = f"did you mean {shown(near[0])}? or " if near else ""
    raise WrongUse(f"no piece called {shown(name)}", f"{remedy}--add {shown(name)} adds it")
