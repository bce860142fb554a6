"""Where in a round's file a value of a piece at a stage belongs."""

from collections.abc import Mapping
from typing import Any

from blankbook.entry.round.stages import Stage
from blankbook.text.findings import ValuePath
from blankbook.text.writing.edits import (
    CannotEditError,
    NewValue,
    add_item,
    remove_value,
    set_value,
)
from blankbook.text.writing.yaml_scalars import yaml_list, yaml_mapping, yaml_scalar
from blankbook.text.writing.yaml_spans import RecordText

Details = Mapping[str, str | Mapping[str, str]]
"""What an entry of a print holds besides grades: its material, the settings of the press."""


def piece_index(tree: dict[str, Any], piece: str) -> int:
    """Return the index of a piece in the list.

    Raises: KeyError.
    """
    for place, entry in enumerate(tree.get("pieces", ())):
        if entry["piece"] == piece:
            return place
    raise KeyError(piece)


def stage_pieces(tree: dict[str, Any], stage: Stage) -> list[str]:
    """Return the pieces that can be looked at; for a washed print, those that carry the print."""
    if stage.print_of:
        carry = {
            test["piece"]
            for test in tree.get("decorated") or ()
            if test["method"] == stage.print_of
        }
        return [entry["piece"] for entry in tree["pieces"] if entry["piece"] in carry]
    return [entry["piece"] for entry in tree.get("pieces", ())]


def entry_path(tree: dict[str, Any], stage: Stage, piece: str) -> ValuePath | None:
    """Return the path of the mapping with a piece's values; None where it is not there yet.

    Raises: KeyError for an unknown piece.
    """
    if not stage.known_by:
        return ("pieces", piece_index(tree, piece), stage.block)
    above, entries = _stage_list(tree, stage, piece)
    known = stage.of_piece(piece)
    for place, entry in enumerate(entries):
        if all(entry.get(key) == text for key, text in known.items()):
            return (*above, place)
    return None


def _stage_list(
    tree: dict[str, Any], stage: Stage, piece: str
) -> tuple[ValuePath, list[dict[str, Any]]]:
    """Return the path of the list with a stage's entries, and the list. Raises: CannotEditError."""
    at = piece_index(tree, piece)
    if stage.block in {"decorated", "swatches"}:
        return (stage.block,), tree.get(stage.block) or []
    if not stage.print_of:
        return ("pieces", at, stage.block), tree["pieces"][at].get(stage.block) or []
    for place, test in enumerate(tree.get("decorated") or ()):
        if (test["piece"], test["method"]) == (piece, stage.print_of):
            return ("decorated", place, stage.block), test.get(stage.block) or []
    raise CannotEditError(f"{piece} has no print of {stage.print_of} yet, which is entered first")


def value_path(tree: dict[str, Any], stage: Stage, piece: str, key: str) -> ValuePath | None:
    """Return the path of a value, or None where its entry in a list is not there yet."""
    entry = entry_path(tree, stage, piece)
    inner = ("result",) if stage.block == "decorated" else ()
    return None if entry is None else (*entry, *inner, key)


def value_at(tree: dict[str, Any], stage: Stage, piece: str, key: str) -> NewValue | None:
    """Return the value of a piece at a stage, or None."""
    node: Any = tree
    path = value_path(tree, stage, piece, key)
    for step in path or ():
        if isinstance(node, dict):
            node = node.get(str(step))
        elif isinstance(node, list) and isinstance(step, int) and step < len(node):
            node = node[step]
        else:
            return None
    return node if path else None


def fill_value(
    source: bytes,
    stage: Stage,
    piece: str,
    key: str,
    value: NewValue,
    details: Details | None = None,
) -> bytes:
    """Return the file with a value of one piece at one stage.

    A new entry of a list begins with its *details*.
    Raises: CannotEditError, UnreadableError, KeyError for an unknown piece.
    """
    tree = RecordText(source).tree
    path = value_path(tree, stage, piece, key)
    if path is not None:
        return set_value(source, path, value)
    above, entries = _stage_list(tree, stage, piece)
    for name, text in stage.known_by:
        if text.isdigit() and any(int(entry.get(name) or 0) > int(text) for entry in entries):
            raise CannotEditError(f"a later {name} is there already, and the fewest come first")
    held = f"{key}: {yaml_scalar(value) if isinstance(value, str) else yaml_list(list(value))}"
    if stage.block == "decorated":
        held = f"result: {{{held}}}"
    pairs = {**stage.of_piece(piece), **(details or {})}
    before = ", ".join(f"{yaml_scalar(name)}: {_as_yaml(detail)}" for name, detail in pairs.items())
    return add_item(source, above, f"{{{before}, {held}}}")


def set_details(source: bytes, stage: Stage, piece: str, details: Details) -> bytes:
    """Return the file with new details in an entry that is there already.

    Raises: CannotEditError, UnreadableError, KeyError.
    """
    entry = entry_path(RecordText(source).tree, stage, piece)
    if entry is None:
        raise CannotEditError(f"nothing stands there yet of {piece}, {stage.name}")
    for key, value in details.items():
        inner = {(): value} if isinstance(value, str) else {(k,): v for k, v in value.items()}
        for below, text in inner.items():
            source = set_value(source, (*entry, key, *below), text)
    return source


def _as_yaml(value: str | Mapping[str, str]) -> str:
    return yaml_scalar(value) if isinstance(value, str) else yaml_mapping(dict(value))


def clear_value(source: bytes, stage: Stage, piece: str, key: str) -> bytes:
    """Return the file without a value; an entry that would be left empty is removed too.

    Raises: CannotEditError, UnreadableError, KeyError.
    """
    path = value_path(RecordText(source).tree, stage, piece, key)
    if path is None:
        raise CannotEditError("there is nothing to take back")
    try:
        return remove_value(source, path)
    except CannotEditError:
        return remove_value(source, path[:-1])
