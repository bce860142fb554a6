"""Where something new goes in a record, and what goes away with something old."""

import re

from blankbook.text.findings import Path
from blankbook.text.writing.yaml_spans import Text, is_block_text, is_empty, key_of, last_text
from blankbook.text.yaml_nodes import Node

Change = tuple[int, int, str]
"""Where to begin, where to end, and what stands there from now on."""


def into_flow(text: Text, node: Node, entry: str) -> Change:
    """Return how an entry goes to the end of a mapping or list in brackets.

    A comment behind the last one stays behind it: the entry then gets a line of its own.
    """
    if not node.value:
        start = text.start(node) + 1
        return (start, start, f"{entry} " if text.text[start] == "#" else entry)
    last = node.value[-1]
    first, value = last if isinstance(last, tuple) else (last, last)
    end = text.pair_end(first, value) if first is not value else text.end(value)
    found = _NOTED.match(text.text, end)
    rest = _COMMENT.sub("", text.text[end : text.end(node)])
    if found and ("," in rest) == bool(found[1]):
        line_end, start = text.line_end(end), text.start(first)
        alone = not text.text[text.line_start(start) : start].strip()
        column = first.start_mark.column if alone else node.start_mark.column + 1
        behind = ("" if found[1] else ",") + text.text[end:line_end]
        return (end, line_end, f"{behind}{text.newline(end)}{' ' * column}{entry}")
    return (end, end, f" , {entry}" if is_empty(value) else f", {entry}")


_NOTED = re.compile(r"[ \t]*(,?)[ \t]*#")
_COMMENT = re.compile(r"#[^\r\n]*")


def into_block(text: Text, node: Node, column: int, entry: str) -> Change | None:
    """Return how an entry goes on a line of its own after the last one, at *column*."""
    end = text.end(node)
    newline = text.newline(end)
    line = " " * column + entry.replace("\n", newline)
    last = last_text(node)
    if last is None:
        end = text.line_end(end)
        return (end, end, newline + line)
    if text.line_start(end) == end:
        return (end, end, line + newline)
    if "-" in text.text[text.start(last) : text.line_end(text.start(last))]:
        return (end, end, newline + line)
    return _above_last(text, node, line)


def _above_last(text: Text, node: Node, line: str) -> Change | None:
    """Return how a key goes before the last one: a text whose end is the file's stays that."""
    if node.id != "mapping":
        return None
    key = text.start(node.value[-1][0])
    start = text.line_start(key)
    if text.text[start:key].strip(" "):
        return None
    return (start, start, line + text.newline(start))


def behind(text: Text, mapping: Node, key: Node, entry: str) -> Change | None:
    """Return how an entry goes on a line of its own behind another key with its value."""
    value = next(value for other, value in mapping.value if other is key)
    line = " " * key.start_mark.column + entry
    end = text.pair_end(key, value)
    if last_text(value) is None:
        end = text.line_end(end)
        return (end, end, text.newline(end) + line)
    return (end, end, line + text.newline(end)) if text.line_start(end) == end else None


def with_more(text: Text, node: Node, added: list[str]) -> Change | None:
    """Return how texts go to the end of a list."""
    if node.flow_style:
        return into_flow(text, node, ", ".join(added))
    column = node.start_mark.column
    return into_block(text, node, column, f"\n{' ' * column}".join(f"- {item}" for item in added))


def in_place(text: Text, key: Node | None, node: Node, written: str) -> Change | None:
    """Return how something on one line takes the place of a text, or of a list of texts.

    None where a comment inside of a list would go with it, or where it holds more than texts.
    """
    start, end = text.start(node), text.end(node)
    if is_block_text(node):
        head = text.text[start : text.line_end(start)].rstrip()
        last = text.text[start:end].rstrip("\r\n \t")
        return (start, start + len(last), written + _SIGN.sub("", head))
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


_SIGN = re.compile(r"[|>][-+0-9]*")


def item_behind(text: Text, key: Node, item: str) -> Change:
    """Return how the first item of a list goes below a key that has no value yet."""
    end = text.line_end(text.end(key))
    newline, column = text.newline(end), key.start_mark.column + 2
    inside = item.replace("\n", "\n" + " " * (column + 2)).replace("\n", newline)
    return (end, end, f"{newline}{' ' * column}- {inside}")


def taken_out(text: Text, way: Path) -> Change | None:
    """Return how an entry goes away, with its lines or between its commas."""
    above = text.node(way[:-1])
    at = _place(above, way[-1]) if above is not None else None
    if above is None or at is None or len(above.value) < 2:
        return None
    spans = [_span(text, entry) for entry in above.value]
    if above.flow_style:
        return _out_of_brackets(text, spans, at)
    start = text.line_start(spans[at][0])
    before = text.text[start : spans[at][0]].strip(" ")
    if before == ("-" if above.id == "sequence" else ""):
        end = text.line_end(spans[at][1])
        if end == len(text.text):  # the last line has no end of its own, and leaves none behind
            return (text.before_break(start), end, "")
        return (start, text.next_line(end), "")
    return None


def _out_of_brackets(text: Text, spans: list[tuple[int, int]], at: int) -> Change | None:
    """Return how an entry goes with the comma beside it; a comment there belongs to another."""
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


def _span(text: Text, entry: Node | tuple[Node, Node]) -> tuple[int, int]:
    first, last = entry if isinstance(entry, tuple) else (entry, entry)
    start, end = (
        text.start(first),
        text.pair_end(first, last) if first is not last else text.end(last),
    )
    if is_block_text(last):  # blank lines behind it are nobody's
        end = start + len(text.text[start:end].rstrip())
    return start, end


def _place(above: Node, step: str | int) -> int | None:
    if above.id == "sequence":
        return step if isinstance(step, int) and step < len(above.value) else None
    key = key_of(above, str(step))
    return next((n for n, (other, _) in enumerate(above.value) if other is key), None)
