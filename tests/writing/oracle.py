"""What an edit may change, judged by ruamel.yaml and by the bytes, without our own reader."""

import functools
import re
from typing import Any

from ruamel.yaml import YAML

TreePath = tuple[str | int, ...]


@functools.lru_cache(maxsize=8)
def _root(body: bytes) -> Any:
    return YAML(typ="safe", pure=True).compose(body.decode("utf-8-sig"))


def read_by_ruamel(body: bytes) -> Any:
    """Return the values of a file, every scalar as its text; mappings keep their order."""
    return _plain(_root(body))


def _plain(node: Any) -> Any:
    if node.id == "scalar":
        return node.value if node.value or node.style else None
    if node.id == "sequence":
        return [_plain(item) for item in node.value]
    return {key.value: _plain(value) for key, value in node.value}


def value_at(tree: Any, path: TreePath) -> Any:
    """Return the value of a tree at a path, or None."""
    for step in path:
        tree = tree.get(step) if isinstance(tree, dict) else tree[step]
        if tree is None:
            return None
    return tree


def are_equal(value: Any, other: Any) -> bool:
    """Say whether two trees are equal, with their keys in the same order."""
    if isinstance(value, dict) and isinstance(other, dict):
        return list(value) == list(other) and all(
            are_equal(value[key], other[key]) for key in value
        )
    if isinstance(value, list) and isinstance(other, list):
        return len(value) == len(other) and all(map(are_equal, value, other))
    return bool(value == other)


def keeps_order(before: Any, after: Any) -> bool:
    """Say whether the entries that both files have stand in the same order."""
    if isinstance(before, dict) and isinstance(after, dict):
        both = [key for key in after if key in before]
        return both == list(before) and all(keeps_order(before[key], after[key]) for key in both)
    if isinstance(before, list) and isinstance(after, list):
        return all(map(keeps_order, before, after))
    return True


def span(body: bytes, path: TreePath) -> tuple[int, int]:
    """Return where a value is written, in characters: from behind its colon to its last sign."""
    text, node, behind = body.decode("utf-8-sig"), _root(body), 0
    for step in path:
        if node.id == "mapping":
            key, node = next(pair for pair in node.value if pair[0].value == step)
            behind = text.index(":", key.end_mark.index) + 1
        else:
            node = node.value[step]
            behind = node.start_mark.index
    end = node.end_mark.index
    while node.id == "sequence" and not node.flow_style:
        node = node.value[-1]
        end = node.end_mark.index
    return behind, behind + len(text[behind:end].rstrip())


def comments(body: bytes) -> list[str]:
    """Return every comment of the file, in order."""
    text = body.decode("utf-8-sig")
    rest, past = [], 0
    for start, end, style in sorted(_scalars(_root(body))):
        rest.append(text[past:start])
        past = end
        if style in {"|", ">"}:
            rest.append(re.split(r"[\r\n]", text[start:end])[0] + "\n")
        else:
            rest.append("x")
    rest.append(text[past:])
    return [found.rstrip() for found in re.findall(r"(?:^|(?<=\s))#[^\r\n]*", "".join(rest))]


def _scalars(node: Any) -> list[tuple[int, int, str]]:
    if node.id == "scalar":
        start, end = node.start_mark.index, node.end_mark.index
        return [(start, end, node.style or "")] if end > start else []
    below = [item for pair in node.value for item in pair] if node.id == "mapping" else node.value
    return [found for item in below for found in _scalars(item)]


def inserted_bytes(old: bytes, new: bytes) -> bytes | None:
    """Return the bytes that were inserted into a file, or None where it lost something.

    They stand in one place, or are a comma before a comment and the rest behind the comment.
    """
    found = _single_insertion(old, new)
    start = _common_start(old, new)
    if found is None and new[start : start + 1] == b"," and old[start:].lstrip()[:1] == b"#":
        rest = _single_insertion(old[start:], new[start + 1 :])
        return None if rest is None else b"," + rest
    return found


def _single_insertion(old: bytes, new: bytes) -> bytes | None:
    start = _common_start(old, new)
    end = min(_common_start(old[::-1], new[::-1]), len(old) - start)
    return new[start : len(new) - end] if start + end == len(old) else None


def _common_start(old: bytes, other: bytes) -> int:
    pairs = zip(old, other, strict=False)
    return next((n for n, (a, b) in enumerate(pairs) if a != b), min(len(old), len(other)))


def line_ends(body: bytes) -> list[bytes]:
    """Return how each line ends, in order."""
    return re.findall(rb"\r\n|\n|\r", body)
