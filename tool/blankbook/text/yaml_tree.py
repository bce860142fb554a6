"""From nodes to plain values: dictionaries, lists and the text of every scalar."""

from dataclasses import dataclass
from typing import Any

from blankbook.text.decoding import HIDDEN
from blankbook.text.findings import Fault, Finding, Path, UnreadableText, visible
from blankbook.text.yaml_nodes import MOST_DEPTH, MOST_NODES, Node, compose, too_deep, too_many

Tree = dict[str, Any]
"""A record: keys to trees, lists, texts; None where nothing was written."""


@dataclass(frozen=True, slots=True)
class Read:
    """A file that could be read: its tree, and its text for the places of findings."""

    path: str
    text: str
    tree: Tree

    def finding(self, fault: Fault) -> Finding:
        """Return a fault with the line and column of what it means."""
        return places(self, [fault])[0]


def read_tree(path: str, text: str) -> Read:
    """Return the record that *text* holds.

    Raises: UnreadableText with the place.
    """
    return Read(path, text, tree_of(compose(text), text))


def tree_of(root: Node | None, text: str) -> Tree:
    """Return the record under the *root* that *text* was composed to.

    Raises: UnreadableText with the place.
    """
    if root is None:
        raise UnreadableText("empty-file", "an empty file", "write key: value lines, or delete it")
    if root.id != "mapping":
        raise UnreadableText(
            "not-a-mapping",
            "must be key: value lines, found " + ("a list" if root.id == "sequence" else "text"),
            "begin with a line such as style: supplier/style",
            root.start_mark.line + 1,
            root.start_mark.column + 1,
        )
    return _build(root, text)


def _build(root: Node, text: str) -> Tree:
    """Return the values of the nodes under *root*, and refuse what no record holds."""
    if "\\" in text:
        _refuse_hidden(root)
    count = 1

    def build(node: Node, depth: int) -> Any:
        nonlocal count
        mapping = node.id == "mapping"
        count += len(node.value) * (2 if mapping else 1)
        if depth > MOST_DEPTH or count > MOST_NODES:
            line, column = node.start_mark.line + 1, node.start_mark.column + 1
            raise (too_deep if depth > MOST_DEPTH else too_many)(line, column)
        if not mapping:
            return [
                (item.value if item.value or item.style else None)
                if item.id == "scalar"
                else build(item, depth + 1)
                for item in node.value
            ]
        tree: Tree = {}
        for key, item in node.value:
            if key.id != "scalar":
                raise _at(key, "key-not-text", "a key must be text", "write key: value")
            if item.id == "scalar":
                tree[key.value] = item.value if item.value or item.style else None
            else:
                tree[key.value] = build(item, depth + 1)
        if len(tree) < len(node.value) or "<<" in tree:
            _refuse_keys(node)
        return tree

    result: Tree = build(root, 1)
    return result


def _at(node: Node, rule: str, message: str, remedy: str) -> UnreadableText:
    mark = node.start_mark
    return UnreadableText(rule, message, remedy, mark.line + 1, mark.column + 1)


def _refuse_keys(node: Node) -> None:
    """Refuse a key that is there twice, or one that would merge."""
    first: dict[str, int] = {}
    for key, _ in node.value:
        if key.value == "<<" and not key.style:
            raise _at(key, "merge-key", "<< has no use in a record", "write the lines out")
        if key.value in first:
            message = f"{visible(key.value)} is there twice, first in line {first[key.value]}"
            raise _at(key, "duplicate-key", message, "delete one of the two")
        first[key.value] = key.start_mark.line + 1


def _refuse_hidden(root: Node) -> None:
    """Refuse what a backslash in quotes can hide: control characters and half characters."""
    rest = [root]
    while rest:
        node = rest.pop()
        if node.id == "scalar":
            if node.style == '"' and (hidden := HIDDEN.search(node.value)):
                what = f"a character that cannot be seen, U+{ord(hidden[0]):04X}"
                raise _at(node, "hidden-character", what, "delete it")
        elif node.id == "mapping":
            rest += [below for pair in node.value for below in pair]
        else:
            rest += node.value


def places(read: Read, faults: list[Fault]) -> list[Finding]:
    """Return faults of one file with their lines and columns; the text is composed once more."""
    if not faults:
        return []
    root = compose(read.text)
    return [_placed(read.path, root, fault) for fault in faults]


def _placed(path: str, root: Node, fault: Fault) -> Finding:
    mark = _walk(root, fault.at, fault.on_key).start_mark
    message = fault.message
    if fault.first:
        message += f", first in line {_walk(root, fault.first, False).start_mark.line + 1}"
    return Finding(
        path, mark.line + 1, mark.column + 1, fault.rule, message, fault.help, fault.level
    )


def _walk(root: Node, at: Path, on_key: bool) -> Node:
    """Return the node that a way leads to; the nearest one above where it ends early.

    An empty value has no place of its own, so its key stands for it.
    """
    node = root
    for index, step in enumerate(at):
        last = index == len(at) - 1
        if node.id == "mapping":
            pair = next(((key, value) for key, value in node.value if key.value == step), None)
            if pair is None:
                return node
            empty = pair[1].id == "scalar" and not pair[1].value and not pair[1].style
            node = pair[0] if last and (on_key or empty) else pair[1]
        elif node.id == "sequence" and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
    return node
