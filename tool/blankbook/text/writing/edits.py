"""Edit a record as a person would: change only the characters that are meant.

The text is never written anew from its values: that would lose comments, quotes and line ends. The
parser's marks tell the place, the characters there are replaced, and the result is read again and
compared with what was meant. An edit that cannot be shown to be right is refused.
"""

import copy
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from blankbook.text.findings import UnreadableError, ValuePath
from blankbook.text.writing.text_changes import (
    TextChange,
    block_insertion,
    first_item_insertion,
    flow_insertion,
    insertion_after,
    list_extension,
    removal,
    value_replacement,
)
from blankbook.text.writing.yaml_scalars import yaml_list, yaml_scalar, yaml_value
from blankbook.text.writing.yaml_spans import RecordText, is_empty, key_node
from blankbook.text.yaml_nodes import Node
from blankbook.text.yaml_tree import Tree, read_tree

NewValue = str | Sequence[str]
"""The text of a value, or the texts of a list such as repeat readings of one point."""


class CannotEditError(Exception):
    """The file is written in a form that has no safe place for the change; the message says why."""


def set_value(source: bytes, path: ValuePath, value: NewValue, *, after: str = "") -> bytes:
    """Return the record with *value* at *path*; keys that are missing on the path are added.

    A new key comes last in its mapping, or right behind the key *after* where that is there.
    Raises: CannotEditError, UnreadableError.
    """

    def meant(tree: Tree) -> None:
        _holder_of(tree, path)[path[-1]] = value if isinstance(value, str) else list(value)

    def find(text: RecordText) -> TextChange | None:
        node = text.node(path)
        # A list that only grows or loses its last text keeps its form and its comments.
        more = _list_change(text, path, node, value) if node is not None else None
        return more or _value_change(text, path, _to_yaml(value), after)

    return _apply(source, find, meant)


def set_values(
    source: bytes, values: Sequence[tuple[ValuePath, NewValue]]
) -> tuple[bytes, list[TextChange]]:
    """Return the record with many new values, and the changes in the order of the text.

    Every change is found in the record as it was, and the result is read once: `set_value` for
    each would read a large plan's file a thousand times. Changes at one place keep their order.
    Raises: CannotEditError, UnreadableError.
    """
    text = RecordText(source)
    wanted = copy.deepcopy(text.tree)
    changes: list[TextChange] = []
    for path, written in _written_once(text, values):
        change = _value_change(text, path, written)
        if change is None:
            raise CannotEditError(
                "the file is written in a way that leaves no safe place for a change"
            )
        changes.append(change)
    for path, value in values:
        _holder_of(wanted, path)[path[-1]] = value if isinstance(value, str) else list(value)
    changes.sort(key=lambda change: change[:2])
    pieces, past = [], 0
    for start, end, new in changes:
        # Changes that overlap cannot be made at once; the caller makes them one by one then.
        if start < past:
            raise CannotEditError("two changes would meet")
        pieces += [text.text[past:start], new]
        past = end
    edited = text.mark + ("".join(pieces) + text.text[past:]).encode()
    try:
        found = RecordText(edited).tree
    except UnreadableError as error:
        raise CannotEditError(f"the changes would not read back: {error.message}") from None
    if found != wanted:
        raise CannotEditError("the changes would alter more than is meant")
    return edited, changes


def _written_once(
    text: RecordText, values: Sequence[tuple[ValuePath, NewValue]]
) -> Iterator[tuple[ValuePath, str]]:
    """Yield each path with its value in YAML; a mapping that is missing comes once, with all."""
    missing: dict[ValuePath, list[str]] = {}
    for path, value in values:
        above = text.node(path[:-1])
        if above is None or is_empty(above):
            entry = f"{yaml_scalar(str(path[-1]))}: {_to_yaml(value)}"
            missing.setdefault(path[:-1], []).append(entry)
        else:
            yield path, _to_yaml(value)
    for path, entries in missing.items():
        yield path, "{" + ", ".join(entries) + "}"


def add_item(source: bytes, path: ValuePath, item: str) -> bytes:
    """Return the record with one more *item*, in YAML, at the end of the list at *path*.

    Further lines of the item come without indentation; they are indented here.
    Raises: CannotEditError, UnreadableError.
    """
    # The item is read on its own first, to know what the record must hold afterwards.
    added = read_tree("", f"item: {item}" if "\n" not in item else f"item:\n  {_indented(item, 2)}")

    def meant(tree: Tree) -> None:
        holder = _holder_of(tree, path)
        holder[path[-1]] = [*(holder.get(path[-1]) or []), added.tree["item"]]

    flat = yaml_value(added.tree["item"]) if "\n" in item else item
    return _apply(source, lambda text: _item_change(text, path, item, flat), meant)


def remove_value(source: bytes, path: ValuePath) -> bytes:
    """Return the record without the entry at *path*.

    Raises: CannotEditError where it is the only one, or not on lines of its own; UnreadableError.
    """

    def meant(tree: Tree) -> None:
        del _holder_of(tree, path)[path[-1]]

    return _apply(source, lambda text: removal(text, path), meant)


def _apply(
    source: bytes, find: Callable[[RecordText], TextChange | None], meant: Callable[[Tree], None]
) -> bytes:
    """Return the record with the change that *find* returns, if it then reads as *meant* makes it.

    Raises: CannotEditError, UnreadableError.
    """
    text = RecordText(source)
    wanted = copy.deepcopy(text.tree)
    change = find(text)
    if change is None:
        raise CannotEditError(
            "the file is written in a way that leaves no safe place for the change"
        )
    try:
        meant(wanted)
    except (KeyError, IndexError, TypeError):
        raise CannotEditError("what is to be changed is not there") from None
    start, end, new = change
    try:
        edited = text.mark + (text.text[:start] + new + text.text[end:]).encode()
        found = RecordText(edited).tree  # refuses whatever the ledger's own reader refuses
    except UnicodeEncodeError:
        raise CannotEditError("the text holds half a character") from None
    except UnreadableError as error:
        raise CannotEditError(f"the change would not read back: {error.message}") from None
    if found != wanted:
        raise CannotEditError("the change would alter more than is meant")
    return edited


def _to_yaml(value: NewValue) -> str:
    return yaml_scalar(value) if isinstance(value, str) else yaml_list(list(value))


def _holder_of(tree: Tree, path: ValuePath) -> Any:
    """Return the mapping or list that holds the last step of *path*; add missing mappings."""
    holder: Any = tree
    for step in path[:-1]:
        if isinstance(holder, dict) and holder.get(str(step)) is None:
            holder[str(step)] = {}
        holder = holder[step]
    return holder


def _list_change(
    text: RecordText, path: ValuePath, node: Node, value: NewValue
) -> TextChange | None:
    """Return the change for one more text in a list, or one less at its end; None for any other.

    The texts that stay keep their form and their comments.
    """
    if isinstance(value, str) or node.id != "sequence":
        return None
    held = [item.value if item.id == "scalar" else None for item in node.value]
    new = list(value)
    if held and held == new[: len(held)] and len(new) > len(held):
        return list_extension(text, node, [yaml_scalar(added) for added in new[len(held) :]])
    if new and held[:-1] == new:
        return removal(text, (*path, len(new)))
    return None


def _value_change(
    text: RecordText, path: ValuePath, written: str, after: str = ""
) -> TextChange | None:
    """Return the change that sets a value: in place of one, behind its key, or with a new key."""
    node = text.node(path)
    above = text.node(path[:-1])
    if node is not None and above is not None:
        if is_empty(node):
            return _empty_value_change(text, above, str(path[-1]), written)
        key = key_node(above, str(path[-1])) if above.id == "mapping" else None
        return value_replacement(text, key, node, written)
    entry = f"{yaml_scalar(str(path[-1]))}: {written}"
    if above is None or is_empty(above):
        # What should hold the entry is missing too: it is written on one line around it.
        return _value_change(text, path[:-1], f"{{{entry}}}", after)
    before = key_node(above, after) if above.id == "mapping" and not above.flow_style else None
    placed = insertion_after(text, above, before, entry) if before is not None else None
    return placed or _entry_change(text, above, entry)


def _empty_value_change(
    text: RecordText, above: Node, name: str, written: str
) -> TextChange | None:
    """Return the change that puts a value behind a key without one."""
    key = key_node(above, name) if above.id == "mapping" else None
    if key is None:
        return None
    end = text.colon_end(key)
    colon = "" if text.text[end - 1] == ":" else ":"
    after = end + 1 if text.text[end : end + 1] == " " else end
    tail = " " if text.text[after : after + 1] == "#" else ""
    return (end, after, f"{colon} {written}{tail}")


def _entry_change(text: RecordText, mapping: Node, entry: str) -> TextChange | None:
    if mapping.id != "mapping":
        return None
    if mapping.flow_style:
        return flow_insertion(text, mapping, entry)
    return block_insertion(text, mapping, mapping.value[0][0].start_mark.column, entry)


def _item_change(text: RecordText, path: ValuePath, item: str, flat: str) -> TextChange | None:
    """Return the change that adds an item to a list; in brackets it is *flat*, on one line."""
    node = text.node(path)
    above = text.node(path[:-1])
    if node is not None and node.id == "sequence":
        if node.flow_style:
            return flow_insertion(text, node, flat)
        column = node.start_mark.column
        return block_insertion(text, node, column, f"- {_indented(item, column + 2)}")
    if above is None or above.id != "mapping":
        return None
    if node is not None and not is_empty(node):
        return None
    return _new_list_change(text, above, str(path[-1]), item, flat)


def _new_list_change(
    text: RecordText, above: Node, name: str, item: str, flat: str
) -> TextChange | None:
    """Return the change that adds a list with its first item."""
    key = key_node(above, name)
    if above.flow_style:
        wanted = f"[{flat}]"
        return (
            _empty_value_change(text, above, name, wanted)
            if key
            else flow_insertion(text, above, f"{name}: {wanted}")
        )
    if key is not None:
        return first_item_insertion(text, key, item)
    column = above.value[0][0].start_mark.column
    entry = f"{name}:\n{' ' * (column + 2)}- {_indented(item, column + 4)}"
    return block_insertion(text, above, column, entry)


def _indented(item: str, column: int) -> str:
    """Return an item with its further lines indented to *column*."""
    return item.replace("\n", "\n" + " " * column)
