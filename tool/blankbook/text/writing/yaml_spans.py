"""A record as characters and nodes: where in the text each value begins and ends."""

import bisect
import re
from collections.abc import Iterator
from typing import Any

from blankbook.text.decoding import BYTE_ORDER_MARK, decode
from blankbook.text.findings import ValuePath
from blankbook.text.yaml_nodes import Node, compose
from blankbook.text.yaml_tree import Tree, tree_of

_BREAK = re.compile(r"\r\n|\n|\r")
_LAST_BREAK = re.compile(r"(?:\r\n|\n|\r)?\Z")
_COLON = re.compile(r"\s*:")


class RecordText:
    """One record: its characters, nodes, values and line ends.

    Raises: UnreadableError where the bytes cannot be read as a record.
    """

    def __init__(self, source: bytes) -> None:
        self.mark = BYTE_ORDER_MARK if source.startswith(BYTE_ORDER_MARK) else b""
        self.text = decode(source)
        self.root = compose(self.text)
        self.tree: Tree = tree_of(self.root, self.text)
        self._starts = [0, *(found.end() for found in _BREAK.finditer(self.text))]

    def node(self, path: ValuePath) -> Node | None:
        """Return the node at *path*, or None where there is none."""
        node = self.root
        for step in path:
            node = _child(node, step)
            if node is None:
                return None
        return node

    def offset(self, mark: Any) -> int:
        """Return the offset of a mark of the parser."""
        # A mark can point behind the last character, where the file has no last line end.
        return int(min(self._starts[mark.line] + mark.column, len(self.text)))

    def start(self, node: Node) -> int:
        """Return where a node begins."""
        return self.offset(node.start_mark)

    def end(self, node: Node) -> int:
        """Return where the last character of a node ends, before any comment or blank line.

        The parser's own end of a block mapping or list lies behind those. A block text ends where
        the next line begins.
        """
        if node.id == "scalar" or node.flow_style:
            return self.offset(node.end_mark)
        last = node.value[-1] if node.value else None
        if last is None:
            return self.offset(node.start_mark)
        if isinstance(last, tuple):
            return self.pair_end(*last)
        return self.end(last)

    def pair_end(self, key: Node, value: Node) -> int:
        """Return where the value of a key ends; without a value, where the colon does.

        A parser may mark an empty value as far away as the next key.
        """
        return self.colon_end(key) if is_empty(value) else self.end(value)

    def colon_end(self, key: Node) -> int:
        """Return where the colon behind a key ends; where the key ends if there is none."""
        end = self.end(key)
        found = _COLON.match(self.text, end)
        return found.end() if found else end

    def has_comment(self, node: Node, start: int) -> bool:
        """Say whether a comment stands between *start* and the end of a node."""
        past = start
        for scalar in _scalars(node):
            if "#" in self.text[past : self.start(scalar)]:
                return True
            past = self.end(scalar)
        return "#" in self.text[past : self.end(node)]

    def line_start(self, offset: int) -> int:
        """Return where the line with *offset* begins."""
        return self._starts[bisect.bisect_right(self._starts, offset) - 1]

    def line_end(self, offset: int) -> int:
        """Return where the line with *offset* ends, before its line end."""
        found = _BREAK.search(self.text, offset)
        return found.start() if found else len(self.text)

    def next_line(self, offset: int) -> int:
        """Return where the line after the one with *offset* begins."""
        found = _BREAK.search(self.text, offset)
        return found.end() if found else len(self.text)

    def before_break(self, start: int) -> int:
        """Return where the line before the one that begins at *start* ends."""
        found = _LAST_BREAK.search(self.text, max(0, start - 2), start)
        return found.start() if found else start

    def newline(self, offset: int) -> str:
        """Return the line end to use at *offset*: that of its line, or of the line before it."""
        here = _BREAK.search(self.text, offset) or _BREAK.search(self.text)
        before = [found[0] for found in _BREAK.finditer(self.text, 0, offset)][-1:]
        return here[0] if here else before[0] if before else "\n"


def _child(node: Node, step: str | int) -> Node | None:
    if node.id == "mapping":
        return next((value for key, value in node.value if key.value == step), None)
    if node.id == "sequence" and isinstance(step, int) and 0 <= step < len(node.value):
        return node.value[step]
    return None


def _scalars(node: Node) -> Iterator[Node]:
    """Yield the scalars under a node that are not empty, in order."""
    if node.id == "scalar":
        if not is_empty(node):
            yield node
        return
    for item in node.value:
        for below in item if isinstance(item, tuple) else (item,):
            yield from _scalars(below)


def last_block_text(node: Node) -> Node | None:
    """Return the block text (after | or >) that a node ends with, or None."""
    while node.id != "scalar" and node.value and not node.flow_style:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    return node if is_block_text(node) else None


def key_node(node: Node, step: str) -> Node | None:
    """Return the node of a key in a mapping, or None."""
    return next((key for key, _ in node.value if key.value == step), None)


def is_empty(node: Node) -> bool:
    """Say whether nothing was written where a value could stand."""
    return node.id == "scalar" and not node.value and not node.style


def is_block_text(node: Node) -> bool:
    """Say whether a node is a block text: below its key, after | or >."""
    return node.id == "scalar" and node.style in {"|", ">"}
