"""From nodes to plain values: dictionaries, lists, and the text of every scalar."""

from dataclasses import dataclass
from typing import Any

from blankbook.text.decoding import HIDDEN_CHARACTERS
from blankbook.text.findings import Fault, Finding, UnreadableError, ValuePath, visible
from blankbook.text.yaml_nodes import (
    MOST_DEPTH,
    MOST_NODES,
    Node,
    compose,
    too_deep_error,
    too_many_error,
)

Tree = dict[str, Any]
"""A record: its keys, each with a tree, a list or a text; None where nothing was written."""


@dataclass(frozen=True, slots=True)
class ParsedFile:
    """A file that could be parsed: its tree, and its text to look up the lines of findings in."""

    path: str
    text: str
    tree: Tree

    def locate(self, fault: Fault) -> Finding:
        """Return one fault as a finding, with its line and column."""
        return locate_faults(self, [fault])[0]


def read_tree(path: str, text: str) -> ParsedFile:
    """Return the record that *text* holds.

    Raises: UnreadableError with the place.
    """
    return ParsedFile(path, text, tree_of(compose(text), text))


def tree_of(root: Node | None, text: str) -> Tree:
    """Return the record under the *root* that *text* was composed to.

    Raises: UnreadableError with the place.
    """
    if root is None:
        raise UnreadableError("empty-file", "an empty file", "write key: value lines, or delete it")
    if root.id != "mapping":
        raise UnreadableError(
            "not-a-mapping",
            "must be key: value lines, found " + ("a list" if root.id == "sequence" else "text"),
            "begin with a line such as style: supplier/style",
            root.start_mark.line + 1,
            root.start_mark.column + 1,
        )
    return _build(root, text)


def _build(root: Node, text: str) -> Tree:
    """Return the values of the nodes under *root*; refuse what no record holds."""
    if "\\" in text:  # without one, decoding has seen every character already
        _refuse_hidden(root)
    count = 1

    def build(node: Node, depth: int) -> Any:
        nonlocal count
        mapping = node.id == "mapping"
        count += len(node.value) * (2 if mapping else 1)
        if depth > MOST_DEPTH or count > MOST_NODES:
            line, column = node.start_mark.line + 1, node.start_mark.column + 1
            raise (too_deep_error if depth > MOST_DEPTH else too_many_error)(line, column)
        if not mapping:
            return [
                # An empty scalar is nothing; in quotes it is an empty text.
                (item.value if item.value or item.style else None)
                if item.id == "scalar"
                else build(item, depth + 1)
                for item in node.value
            ]
        tree: Tree = {}
        for key, item in node.value:
            if key.id != "scalar":
                raise _error_at(key, "key-not-text", "a key must be text", "write key: value")
            if item.id == "scalar":
                tree[key.value] = item.value if item.value or item.style else None
            else:
                tree[key.value] = build(item, depth + 1)
        # Fewer keys than pairs: one is there twice. Which one is looked for only then.
        if len(tree) < len(node.value) or "<<" in tree:
            _refuse_keys(node)
        return tree

    result: Tree = build(root, 1)
    return result


def _error_at(node: Node, rule: str, message: str, remedy: str) -> UnreadableError:
    mark = node.start_mark
    return UnreadableError(rule, message, remedy, mark.line + 1, mark.column + 1)


def _refuse_keys(node: Node) -> None:
    """Refuse a key that is there twice, or a merge key."""
    first: dict[str, int] = {}
    for key, _ in node.value:
        if key.value == "<<" and not key.style:
            raise _error_at(key, "merge-key", "<< has no use in a record", "write the lines out")
        if key.value in first:
            message = f"{visible(key.value)} is there twice, first in line {first[key.value]}"
            raise _error_at(key, "duplicate-key", message, "delete one of the two")
        first[key.value] = key.start_mark.line + 1


def _refuse_hidden(root: Node) -> None:
    """Refuse what an escape in double quotes can hide: control characters and half characters."""
    rest = [root]
    while rest:
        node = rest.pop()
        if node.id == "scalar":
            if node.style == '"' and (hidden := HIDDEN_CHARACTERS.search(node.value)):
                what = f"a character that cannot be seen, U+{ord(hidden[0]):04X}"
                raise _error_at(node, "hidden-character", what, "delete it")
        elif node.id == "mapping":
            rest += [below for pair in node.value for below in pair]
        else:
            rest += node.value


def locate_faults(read: ParsedFile, faults: list[Fault]) -> list[Finding]:
    """Return the faults of one file as findings with their places; the text is composed anew."""
    if not faults:
        return []
    root = compose(read.text)
    return [_located(read.path, root, fault) for fault in faults]


def _located(path: str, root: Node, fault: Fault) -> Finding:
    mark = _node_at(root, fault.at, fault.on_key).start_mark
    message = fault.message
    if fault.first:
        message += f", first in line {_node_at(root, fault.first, False).start_mark.line + 1}"
    return Finding(
        path, mark.line + 1, mark.column + 1, fault.rule, message, fault.help, fault.level
    )


def _node_at(root: Node, at: ValuePath, on_key: bool) -> Node:
    """Return the node at a path; where the path ends early, the last node that is there.

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
