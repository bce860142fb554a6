"""Where something new goes in a record, and what goes away with something old."""

from blankbook.text.findings import Path
from blankbook.text.nodes import Node
from blankbook.text.writing.spans import Text, is_block_text, key_of

Change = tuple[int, int, str]
"""Where to begin, where to end, and what stands there from now on."""


def into_flow(text: Text, node: Node, entry: str) -> Change:
    """Return how an entry goes to the end of a mapping or list in brackets."""
    if not node.value:
        start = text.start(node)
        return (start + 1, start + 1, entry)
    last = node.value[-1]
    end = text.pair_end(*last) if isinstance(last, tuple) else text.end(last)
    return (end, end, f", {entry}")


def into_block(text: Text, node: Node, column: int, entry: str) -> Change:
    """Return how an entry goes on a line of its own after the last one, at *column*."""
    end = text.end(node)
    newline = text.newline(end)
    line = " " * column + entry.replace("\n", newline)
    if _ends_in_block_text(node):
        if text.line_start(end) == end:
            return (end, end, line + newline)
        return (end, end, newline + line)
    end = text.line_end(end)
    return (end, end, newline + line)


def behind(text: Text, mapping: Node, key: Node, entry: str) -> Change:
    """Return how an entry goes on a line of its own behind another key with its value."""
    value = next(value for one, value in mapping.value if one is key)
    end = text.pair_end(key, value)
    if is_block_text(value) and text.line_start(end) == end:
        return (end, end, " " * key.start_mark.column + entry + text.newline(end))
    end = text.line_end(end)
    return (end, end, f"{text.newline(end)}{' ' * key.start_mark.column}{entry}")


def item_behind(text: Text, key: Node, item: str) -> Change:
    """Return how the first item of a list goes below a key that has no value yet."""
    end = text.line_end(text.end(key))
    newline, column = text.newline(end), key.start_mark.column + 2
    inside = item.replace("\n", "\n" + " " * (column + 2)).replace("\n", newline)
    return (end, end, f"{newline}{' ' * column}- {inside}")


def _ends_in_block_text(node: Node) -> bool:
    """Say whether the last thing in a node is a text below its key, after a | or a >."""
    while node.id != "scalar" and node.value and not node.flow_style:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    return is_block_text(node)


def taken_out(text: Text, way: Path) -> Change | None:
    """Return how an entry goes away, with its lines or between its commas."""
    above = text.node(way[:-1])
    at = _place(above, way[-1]) if above is not None else None
    if above is None or at is None or len(above.value) < 2:
        return None
    spans = [_span(text, one) for one in above.value]
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
    return (start, end, "") if "#" in text.text[before:start] else (before, end, "")


def _span(text: Text, one: Node | tuple[Node, Node]) -> tuple[int, int]:
    first, last = one if isinstance(one, tuple) else (one, one)
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
    return next((n for n, (one, _) in enumerate(above.value) if one is key), None)
