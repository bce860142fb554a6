"""A planned round as a text with gaps: what a page without a server needs to finish the file.

Where each gap is was found by the same edits that a command makes, so that whatever fills the gaps
has changed nothing else.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from blankbook.records.model import Tape
from blankbook.text.writing.edits import set_value
from blankbook.text.writing.spans import Text

HEAD = ("date", "by", "lot")
"""What a measured round says above its pieces."""
Part = str | dict[str, str]


def parts_of(source: bytes, tape: Tape) -> list[Part]:
    """Return the file as texts and gaps in turn; put together, with the gaps filled, it is whole.

    A gap is ``{gap, before, after}``: for a key of the head, or for the readings of a piece by its
    place in the list, whose surroundings go with it where it stays empty.
    Raises: CannotEdit, UnreadableText.
    """
    tree = Text(source).tree
    mark = _unused(source)
    gaps: list[tuple[str, str]] = []
    behind = "planned"
    for key in HEAD:
        if key not in tree:
            source = _with(source, (key,), mark, key, gaps, behind)
        behind = key
    if "tape" not in tree:
        source = set_value(source, ("tape", "unit"), tape.unit, after=behind)
        source = set_value(source, ("tape", "reads_to"), tape.reads_to.written)
    for place in range(len(tree["pieces"])):
        source = _with(source, ("pieces", place, "received"), mark, str(place), gaps, "")
    return list(_split(source.decode("utf-8"), mark, dict(gaps)))


def _unused(source: bytes) -> str:
    """Return a word that the file does not hold."""
    word = "blankbookgap"
    while word.encode() in source:
        word += "x"
    return word


def _with(
    source: bytes,
    way: tuple[str | int, ...],
    mark: str,
    gap: str,
    gaps: list[tuple[str, str]],
    after: str,
) -> bytes:
    """Return the file with a mark where a value goes, and note what came with it."""
    token = f"{mark}{gap}e"
    new = set_value(source, way, token, after=after)
    old_text, text = source.decode("utf-8"), new.decode("utf-8")
    at = next((n for n, (a, b) in enumerate(zip(old_text, text, strict=False)) if a != b),
              len(old_text))  # fmt: skip
    gaps.append((gap, _from_line_end(old_text, at, text[at : at + len(text) - len(old_text)])))
    return new


def _from_line_end(text: str, at: int, put_in: str) -> str:
    """Return what was put in so that it begins with the end of a line, where it can.

    What stands before it may begin as what stands behind it does, and then the same change can be
    told in several ways.
    """
    first, here = put_in, at
    while put_in[0] not in "\r\n" and here and text[here - 1] == put_in[-1]:
        here -= 1
        put_in = text[here] + put_in[:-1]
    if put_in[0] == "\n" and here and text[here - 1] == "\r" == put_in[-1]:
        put_in = "\r" + put_in[:-1]
    return put_in if put_in[0] in "\r\n" else first


def _split(text: str, mark: str, gaps: dict[str, str]) -> Iterator[Part]:
    """Yield texts and gaps, from the start of the file to its end."""
    found = []
    for gap, put_in in gaps.items():
        before, _, after = put_in.partition(f"{mark}{gap}e")
        at = text.index(f"{mark}{gap}e")
        found.append((at - len(before), gap, before, after, len(before) + len(after)))
    past = 0
    for start, gap, before, after, extra in sorted(found):
        yield text[past:start]
        yield {"gap": gap, "before": before, "after": after}
        past = start + extra + len(f"{mark}{gap}e")
    yield text[past:]


def ready(parts: Sequence[Part], filled: dict[str, str]) -> bytes:
    """Return the finished file: what a page does with the parts, for tests and for commands."""
    texts: list[Any] = []
    for part in parts:
        if isinstance(part, str):
            texts.append(part)
        elif value := filled.get(part["gap"], ""):
            texts.append(part["before"] + value + part["after"])
    return "".join(texts).encode()
