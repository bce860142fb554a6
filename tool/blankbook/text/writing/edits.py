"""Changing a record as a person would: only the characters that are meant.

The text is never written out anew from its values, because that loses what a person put into its
form. The place is found from the parser's marks, the characters there are replaced, and the result
is read again and held against what was meant: an edit that cannot be shown to be right is refused.
"""

import copy
from collections.abc import Callable, Sequence
from typing import Any

from blankbook.text.findings import Path, UnreadableText
from blankbook.text.writing.insertion import (
    Change,
    behind,
    in_place,
    into_block,
    into_flow,
    item_behind,
    taken_out,
    with_more,
)
from blankbook.text.writing.yaml_scalars import in_brackets, listed, plain
from blankbook.text.writing.yaml_spans import Text, is_empty, key_of
from blankbook.text.yaml_nodes import Node
from blankbook.text.yaml_tree import Tree, read_tree

Value = str | Sequence[str]
"""A text, or the texts of a list such as repeat readings of one point."""


class CannotEdit(Exception):  # noqa: N818 - what happened
    """The file is written in a way that this change has no safe place in: why, in words."""


def set_value(source: bytes, way: Path, value: Value, *, after: str = "") -> bytes:
    """Return the record with *value* at the end of *way*; what is missing on the way is made.

    A new key comes last in its mapping, or right behind the key *after*, where that is there.
    Raises: CannotEdit, UnreadableText.
    """

    def meant(tree: Tree) -> None:
        _holder(tree, way)[way[-1]] = value if isinstance(value, str) else list(value)

    def find(text: Text) -> Change | None:
        node = text.node(way)
        more = _moved_on(text, way, node, value) if node is not None else None
        return more or _setting(text, way, _written(value), after)

    return _edited(source, find, meant)


def set_each(source: bytes, values: Sequence[tuple[Path, str]]) -> tuple[bytes, list[Change]]:
    """Return the record with many new values, and the changes, in the order of the text.

    Each change is found in the record as it was, and the result is read once, however many they
    are. Those of one place come in the order given.
    Raises: CannotEdit, UnreadableText.
    """
    text = Text(source)
    wanted = copy.deepcopy(text.tree)
    changes: list[Change] = []
    for way, value in values:
        change = _setting(text, way, plain(value))
        if change is None:
            raise CannotEdit("the file is written in a way that leaves no safe place for a change")
        changes.append(change)
        _holder(wanted, way)[way[-1]] = value
    changes.sort(key=lambda change: change[:2])
    pieces, past = [], 0
    for start, end, new in changes:
        if start < past:
            raise CannotEdit("two changes would meet")
        pieces += [text.text[past:start], new]
        past = end
    edited = text.mark + ("".join(pieces) + text.text[past:]).encode()
    try:
        found = Text(edited).tree
    except UnreadableText as error:
        raise CannotEdit(f"the changes would not read back: {error.message}") from None
    if found != wanted:
        raise CannotEdit("the changes would alter more than is meant")
    return edited, changes


def add_item(source: bytes, way: Path, item: str) -> bytes:
    """Return the record with one more *item*, in YAML, at the end of the list at *way*.

    Further lines of the item are given without indentation, and get it here.
    Raises: CannotEdit, UnreadableText.
    """
    added = read_tree("", f"item: {item}" if "\n" not in item else f"item:\n  {_inside(item, 2)}")

    def meant(tree: Tree) -> None:
        holder = _holder(tree, way)
        holder[way[-1]] = [*(holder.get(way[-1]) or []), added.tree["item"]]

    flat = in_brackets(added.tree["item"]) if "\n" in item else item
    return _edited(source, lambda text: _adding(text, way, item, flat), meant)


def remove(source: bytes, way: Path) -> bytes:
    """Return the record without the entry at the end of *way*.

    Raises: CannotEdit where it is the only one, or not on lines of its own; UnreadableText.
    """

    def meant(tree: Tree) -> None:
        del _holder(tree, way)[way[-1]]

    return _edited(source, lambda text: taken_out(text, way), meant)


def _edited(
    source: bytes, find: Callable[[Text], Change | None], meant: Callable[[Tree], None]
) -> bytes:
    """Make one change, and hold what comes out against what was meant."""
    text = Text(source)
    wanted = copy.deepcopy(text.tree)
    change = find(text)
    if change is None:
        raise CannotEdit("the file is written in a way that leaves no safe place for the change")
    try:
        meant(wanted)
    except (KeyError, IndexError, TypeError):
        raise CannotEdit("what is to be changed is not there") from None
    start, end, new = change
    try:
        edited = text.mark + (text.text[:start] + new + text.text[end:]).encode()
        found = Text(edited).tree  # all that the ledger's own reader refuses is refused here
    except UnicodeEncodeError:
        raise CannotEdit("the text holds half a character") from None
    except UnreadableText as error:
        raise CannotEdit(f"the change would not read back: {error.message}") from None
    if found != wanted:
        raise CannotEdit("the change would alter more than is meant")
    return edited


def _written(value: Value) -> str:
    return plain(value) if isinstance(value, str) else listed(list(value))


def _holder(tree: Tree, way: Path) -> Any:
    """Return what holds the last step of *way*; mappings that are missing are made."""
    holder: Any = tree
    for step in way[:-1]:
        if isinstance(holder, dict) and holder.get(str(step)) is None:
            holder[str(step)] = {}
        holder = holder[step]
    return holder


def _moved_on(text: Text, way: Path, node: Node, value: Value) -> Change | None:
    """Return how a list of texts gets more of them, or loses its last one: what stays is left."""
    if isinstance(value, str) or node.id != "sequence":
        return None
    held = [item.value if item.id == "scalar" else None for item in node.value]
    new = list(value)
    if held and held == new[: len(held)] and len(new) > len(held):
        return with_more(text, node, [plain(added) for added in new[len(held) :]])
    if new and held[:-1] == new:
        return taken_out(text, (*way, len(new)))
    return None


def _setting(text: Text, way: Path, written: str, after: str = "") -> Change | None:
    node = text.node(way)
    above = text.node(way[:-1])
    if node is not None and above is not None:
        if is_empty(node):
            return _filling(text, above, str(way[-1]), written)
        key = key_of(above, str(way[-1])) if above.id == "mapping" else None
        return in_place(text, key, node, written)
    entry = f"{plain(str(way[-1]))}: {written}"
    if above is None or is_empty(above):
        return _setting(text, way[:-1], f"{{{entry}}}", after)
    before = key_of(above, after) if above.id == "mapping" and not above.flow_style else None
    placed = behind(text, above, before, entry) if before is not None else None
    return placed or _entering(text, above, entry)


def _filling(text: Text, above: Node, name: str, written: str) -> Change | None:
    """Return how a value goes behind a key that has none."""
    key = key_of(above, name) if above.id == "mapping" else None
    if key is None:
        return None
    end = text.colon_end(key)
    colon = "" if text.text[end - 1] == ":" else ":"
    after = end + 1 if text.text[end : end + 1] == " " else end
    tail = " " if text.text[after : after + 1] == "#" else ""
    return (end, after, f"{colon} {written}{tail}")


def _entering(text: Text, mapping: Node, entry: str) -> Change | None:
    if mapping.id != "mapping":
        return None
    if mapping.flow_style:
        return into_flow(text, mapping, entry)
    return into_block(text, mapping, mapping.value[0][0].start_mark.column, entry)


def _adding(text: Text, way: Path, item: str, flat: str) -> Change | None:
    """Return how an item goes to the end of a list; in brackets it is *flat*, on one line."""
    node = text.node(way)
    above = text.node(way[:-1])
    if node is not None and node.id == "sequence":
        if node.flow_style:
            return into_flow(text, node, flat)
        column = node.start_mark.column
        return into_block(text, node, column, f"- {_inside(item, column + 2)}")
    if above is None or above.id != "mapping":
        return None
    if node is not None and not is_empty(node):
        return None
    return _listing(text, above, str(way[-1]), item, flat)


def _listing(text: Text, above: Node, name: str, item: str, flat: str) -> Change | None:
    """Return how a list that was not there yet comes in with its first item."""
    key = key_of(above, name)
    if above.flow_style:
        wanted = f"[{flat}]"
        return (
            _filling(text, above, name, wanted)
            if key
            else into_flow(text, above, f"{name}: {wanted}")
        )
    if key is not None:
        return item_behind(text, key, item)
    column = above.value[0][0].start_mark.column
    entry = f"{name}:\n{' ' * (column + 2)}- {_inside(item, column + 4)}"
    return into_block(text, above, column, entry)


def _inside(item: str, column: int) -> str:
    """Return an item whose further lines stand at *column*."""
    return item.replace("\n", "\n" + " " * column)
