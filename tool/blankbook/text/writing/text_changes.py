"""The change of characters for an edit: where something new goes, what goes with something old."""

import re

from blankbook.text.findings import ValuePath
from blankbook.text.writing.yaml_spans import (
    RecordText,
    is_block_text,
    is_empty,
    key_node,
    last_block_text,
)
from blankbook.text.yaml_nodes import Node

TextChange = tuple[int, int, str]
"""Start and end offset of the characters to replace, and what replaces them."""


def flow_insertion(text: RecordText, node: Node, entry: str) -> TextChange:
    """Return the change that adds an entry at the end of a mapping or list in brackets.

    A comment behind the last entry stays behind it: the new one then gets a line of its own.
    """
    if not node.value:
        start = text.start(node) + 1
        return (start, start, f"{entry} " if text.text[start] == "#" else entry)
    last = node.value[-1]
    first, value = last if isinstance(last, tuple) else (last, last)
    end = text.pair_end(first, value) if first is not value else text.end(value)
    found = _COMMENT_BEHIND.match(text.text, end)
    rest = _COMMENT.sub("", text.text[end : text.end(node)])
    if found and ("," in rest) == bool(found[1]):
        line_end, start = text.line_end(end), text.start(first)
        alone = not text.text[text.line_start(start) : start].strip()
        column = first.start_mark.column if alone else node.start_mark.column + 1
        behind = ("" if found[1] else ",") + text.text[end:line_end]
        return (end, line_end, f"{behind}{text.newline(end)}{' ' * column}{entry}")
    return (end, end, f" , {entry}" if is_empty(value) else f", {entry}")


_COMMENT_BEHIND = re.compile(r"[ \t]*(,?)[ \t]*#")
_COMMENT = re.compile(r"#[^\r\n]*")


def block_insertion(text: RecordText, node: Node, column: int, entry: str) -> TextChange | None:
    """Return the change that adds an entry on a line of its own at the end, at *column*."""
    end = text.end(node)
    newline = text.newline(end)
    line = " " * column + entry.replace("\n", newline)
    last = last_block_text(node)
    if last is None:
        end = text.line_end(end)
        return (end, end, newline + line)
    if text.line_start(end) == end:
        return (end, end, line + newline)
    if "-" in text.text[text.start(last) : text.line_end(text.start(last))]:
        return (end, end, newline + line)
    return _insertion_above_last(text, node, line)


def _insertion_above_last(text: RecordText, node: Node, line: str) -> TextChange | None:
    """Return the change that adds a key above the last one.

    The last one is a block text without a line end at the end of the file: a line behind it would
    give it one, and so change the text.
    """
    if node.id != "mapping":
        return None
    key = text.start(node.value[-1][0])
    start = text.line_start(key)
    if text.text[start:key].strip(" "):
        return None
    return (start, start, line + text.newline(start))


def insertion_after(text: RecordText, mapping: Node, key: Node, entry: str) -> TextChange | None:
    """Return the change that adds an entry on a line of its own behind another key's value."""
    value = next(value for other, value in mapping.value if other is key)
    line = " " * key.start_mark.column + entry
    end = text.pair_end(key, value)
    if last_block_text(value) is None:
        end = text.line_end(end)
        return (end, end, text.newline(end) + line)
    return (end, end, line + text.newline(end)) if text.line_start(end) == end else None


def list_extension(text: RecordText, node: Node, added: list[str]) -> TextChange | None:
    """Return the change that adds texts at the end of a list."""
    if node.flow_style:
        return flow_insertion(text, node, ", ".join(added))
    column = node.start_mark.column
    return block_insertion(
        text, node, column, f"\n{' ' * column}".join(f"- {item}" for item in added)
    )


def value_replacement(
    text: RecordText, key: Node | None, node: Node, written: str
) -> TextChange | None:
    """Return the change that replaces a text, or a list of texts, by something on one line.

    None where a comment inside the list would be lost, or where it holds more than texts.
    """
    start, end = text.start(node), text.end(node)
    if is_block_text(node):
        head = text.text[start : text.line_end(start)].rstrip()
        last = text.text[start:end].rstrip("\r\n \t")
        return (start, start + len(last), written + _BLOCK_INDICATOR.sub("", head))
    if node.id == "scalar":
        return (start, end, written)
    if node.id != "sequence" or any(item.id != "scalar" for item in node.value):
        return None
    if node.flow_style:
        return None if text.has_comment(node, start) else (start, end, written)
    if key is None:
        return None
    start = text.colon_end(key)
    return None if text.has_comment(node, start) else (start, end, f" {written}")


_BLOCK_INDICATOR = re.compile(r"[|>][-+0-9]*")


def first_item_insertion(text: RecordText, key: Node, item: str) -> TextChange:
    """Return the change that adds the first item of a list below a key without a value."""
    end = text.line_end(text.end(key))
    newline, column = text.newline(end), key.start_mark.column + 2
    inside = item.replace("\n", "\n" + " " * (column + 2)).replace("\n", newline)
    return (end, end, f"{newline}{' ' * column}- {inside}")


def removal(text: RecordText, path: ValuePath) -> TextChange | None:
    """Return the change that removes an entry with its lines, or with the comma beside it.

    None for the only entry, which would leave an empty value, and where other things stand on its
    lines.
    """
    above = text.node(path[:-1])
    at = _index_of(above, path[-1]) if above is not None else None
    if above is None or at is None or len(above.value) < 2:
        return None
    spans = [_span(text, entry) for entry in above.value]
    if above.flow_style:
        return _flow_removal(text, spans, at)
    start = text.line_start(spans[at][0])
    before = text.text[start : spans[at][0]].strip(" ")
    if before == ("-" if above.id == "sequence" else ""):
        end = text.line_end(spans[at][1])
        if end == len(text.text):  # the last line has no end of its own, and leaves none behind
            return (text.before_break(start), end, "")
        return (start, text.next_line(end), "")
    return None


def _flow_removal(text: RecordText, spans: list[tuple[int, int]], at: int) -> TextChange | None:
    """Return the change that removes an entry in brackets, with the comma beside it.

    A comment between it and a neighbour belongs to the neighbour, and stays.
    """
    start, end = spans[at]
    if at + 1 < len(spans):
        following = spans[at + 1][0]
        return None if "#" in text.text[end:following] else (start, following, "")
    before = spans[at - 1][1]
    if "#" not in text.text[before:start]:
        return (before, end, "")
    if found := _COMMA.match(text.text, end):
        end = found.end()
    line_start = text.line_start(start)
    if text.text[line_start:start].strip() or text.text[end : text.line_end(end)].strip():
        return (start, end, "")
    return (text.before_break(line_start), text.line_end(end), "")


_COMMA = re.compile(r"\s*,")


def _span(text: RecordText, entry: Node | tuple[Node, Node]) -> tuple[int, int]:
    """Return where an item, or a key with its value, begins and ends."""
    first, last = entry if isinstance(entry, tuple) else (entry, entry)
    start, end = (
        text.start(first),
        text.pair_end(first, last) if first is not last else text.end(last),
    )
    if is_block_text(last):  # the blank lines behind it belong to no entry
        end = start + len(text.text[start:end].rstrip())
    return start, end


def _index_of(above: Node, step: str | int) -> int | None:
    """Return which entry of a mapping or list a step of a path names."""
    if above.id == "sequence":
        return step if isinstance(step, int) and step < len(above.value) else None
    key = key_node(above, str(step))
    return next((n for n, (other, _) in enumerate(above.value) if other is key), None)
