"""From nodes to plain values: dictionaries, lists and the text of every scalar."""

from dataclasses import dataclass
from typing import Any

from blankbook.text.findings import Fault, Finding, Path, UnreadableText, visible
from blankbook.text.nodes import MOST_DEPTH, MOST_NODES, Node, compose

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
    root = compose(text)
    if root is None:
        raise UnreadableText("empty-file", "an empty file", "write key: value lines, or delete it")
    if _kind(root) != "mapping":
        raise UnreadableText(
            "not-a-mapping",
            "must be key: value lines, found "
            + ("a list" if _kind(root) == "sequence" else "text"),
            "begin with a line such as style: supplier/style",
            root.start_mark.line + 1,
            root.start_mark.column + 1,
        )
    return Read(path, text, _Builder().mapping(root, 1))


def _kind(node: Node) -> str:
    name = type(node).__name__
    return {"MappingNode": "mapping", "SequenceNode": "sequence"}.get(name, "scalar")


class _Builder:
    """Builds values from nodes, counting them."""

    def __init__(self) -> None:
        self.count = 0

    def value(self, node: Node, depth: int) -> Any:
        kind = type(node).__name__
        if kind == "ScalarNode":
            return self.scalar(node)
        self.count += 1
        if depth > MOST_DEPTH or self.count > MOST_NODES:
            raise _at(node, "nested-too-deep", "too deep, or too many values", "split the file")
        if kind == "MappingNode":
            return self.mapping(node, depth + 1)
        return [self.value(item, depth + 1) for item in node.value]

    def scalar(self, node: Node) -> str | None:
        self.count += 1
        text: str = node.value
        if not text and not node.style:
            return None
        if node.style == '"' and any("\ud800" <= c <= "\udfff" for c in text):
            raise _at(node, "hidden-character", "half of a character (a surrogate)", "delete it")
        return text

    def mapping(self, node: Node, depth: int) -> Tree:
        tree: Tree = {}
        for key, value in node.value:
            if type(key).__name__ != "ScalarNode":
                raise _at(key, "key-not-text", "a key must be text", "write key: value")
            if key.value in tree:
                raise _twice(node, key)
            if key.value == "<<" and not key.style:
                raise _at(
                    key, "merge-key", "a merge key (<<) has no use in a record", "write it out"
                )
            tree[key.value] = self.value(value, depth)
        if self.count > MOST_NODES:
            raise _at(node, "too-many-values", f"more than {MOST_NODES} values", "split the file")
        return tree


def _at(node: Node, rule: str, message: str, remedy: str) -> UnreadableText:
    mark = node.start_mark
    return UnreadableText(rule, message, remedy, mark.line + 1, mark.column + 1)


def _twice(node: Node, key: Node) -> UnreadableText:
    first = next(one for one, _ in node.value if one.value == key.value)
    message = f"{visible(key.value)} is there twice, first in line {first.start_mark.line + 1}"
    return _at(key, "duplicate-key", message, "delete one of the two")


def places(read: Read, faults: list[Fault]) -> list[Finding]:
    """Return faults of one file with their lines and columns; the text is composed once more."""
    if not faults:
        return []
    root = compose(read.text)
    return [_placed(read.path, root, fault) for fault in faults]


def _placed(path: str, root: Node, fault: Fault) -> Finding:
    mark = _walk(root, fault.at, fault.on_key).start_mark
    return Finding(
        path, mark.line + 1, mark.column + 1, fault.rule, fault.message, fault.help, fault.level
    )


def _walk(root: Node, at: Path, on_key: bool) -> Node:
    """Return the node that a way leads to; the nearest one above where it ends early.

    An empty value has no place of its own, so its key stands for it.
    """
    node = root
    for index, step in enumerate(at):
        last = index == len(at) - 1
        if _kind(node) == "mapping":
            pair = next(((key, value) for key, value in node.value if key.value == step), None)
            if pair is None:
                return node
            empty = _kind(pair[1]) == "scalar" and not pair[1].value and not pair[1].style
            node = pair[0] if last and (on_key or empty) else pair[1]
        elif _kind(node) == "sequence" and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
    return node
