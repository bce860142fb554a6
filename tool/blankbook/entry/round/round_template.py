"""A planned round as texts and gaps: what a page without a server needs to finish the file.

Each gap is found by the same edits that a command makes, so whoever fills the gaps changes nothing
else in the file.
"""

from collections.abc import Iterator
from typing import Any

from blankbook.records.model import Tape
from blankbook.text.writing.edits import CannotEditError, remove_value, set_value, set_values
from blankbook.text.writing.yaml_spans import RecordText

HEAD_KEYS = ("date", "by", "lot")
"""What a measured round has above its pieces."""
PIECE_KEYS = ("received", "confirmed")
"""What a piece gets: its readings, and why odd ones are right."""
TemplatePart = str | dict[str, str]


def template_parts(source: bytes, tape: Tape) -> list[TemplatePart]:
    """Return the file as texts and gaps in turn; joined, with the gaps filled, they are the file.

    A gap is ``{gap, before, after, held}``. It is named for a key of the head, ``tape.unit``,
    ``tape.reads_to``, or for a piece by its index, such as ``0.received``. *before* and *after*
    surround a value, and are left out with it. *held* is the value until another is given: from the
    plan, or from *tape* where the plan has none.
    Raises: CannotEditError, UnreadableError.
    """
    tree = RecordText(source).tree
    mark = _unused_word(source)
    gaps: list[dict[str, str]] = []
    behind = "planned"
    for key in HEAD_KEYS:
        token = _token(mark, key)
        if key in tree:
            source = _with_gap_for_value(source, (key,), token, key, gaps)
        else:
            source = _with_gap(source, (key,), token, key, gaps, behind)
        behind = key
    for key, value in (("unit", tape.unit), ("reads_to", tape.reads_to.written)):
        gap = f"tape.{key}"
        if "tape" in tree:
            source = _with_gap_for_value(source, ("tape", key), _token(mark, gap), gap, gaps)
            continue
        source = set_value(source, ("tape", key), _token(mark, gap), after=behind)
        gaps.append({"gap": gap, "before": "", "after": "", "held": value})
    if "inspected" in tree:
        token = _token(mark, "inspected")
        source = _with_gap_for_value(source, ("inspected",), token, "inspected", gaps)
        source = _with_gap(source, ("faults",), _token(mark, "faults"), "faults", gaps, "pieces")
    source = _with_gaps_of_pieces(source, tree["pieces"], mark, gaps)
    return list(_split(source.decode("utf-8"), mark, gaps))


def _with_gaps_of_pieces(
    source: bytes, pieces: list[dict[str, Any]], mark: str, gaps: list[dict[str, str]]
) -> bytes:
    """Return the file with a token in every gap of every piece; add the gaps to *gaps*.

    All are set at once, as each edit reads the whole file: five hundred pieces took minutes.
    """
    wanted = []
    for place, piece in enumerate(pieces):
        for key in PIECE_KEYS:
            path = ("pieces", place, key)
            if key in piece and not piece[key]:
                source = remove_value(source, path)  # a key that holds nothing says nothing
            if not piece.get(key):
                gap = f"{place}.{key}"
                wanted.append((path, gap, _token(mark, gap)))
    try:
        new, changes = set_values(source, [(path, token) for path, _, token in wanted])
    except CannotEditError:  # two gaps of one place need what the first brings along
        for path, gap, token in wanted:
            source = _with_gap(source, path, token, gap, gaps, "")
        return source
    for (_, gap, token), (_, _, put_in) in zip(wanted, changes, strict=True):
        before, found, behind = put_in.partition(token)
        assert found, "pieces stand in the order of their list"
        gaps.append({"gap": gap, "before": before, "after": behind, "held": ""})
    return new


def _unused_word(source: bytes) -> str:
    """Return a word that the file does not hold."""
    word = "blankbookgap"
    while word.encode() in source:
        word += "x"
    return word


def _token(mark: str, gap: str) -> str:
    """Return the text that marks a gap while the others are looked for."""
    return f"{mark}{gap}e"


def _with_gap(
    source: bytes,
    path: tuple[str | int, ...],
    token: str,
    gap: str,
    gaps: list[dict[str, str]],
    after: str,
) -> bytes:
    """Return the file with a token where a value goes; add the gap to *gaps*."""
    new = set_value(source, path, token, after=after)
    old_text, text = source.decode("utf-8"), new.decode("utf-8")
    at = next((n for n, (a, b) in enumerate(zip(old_text, text, strict=False)) if a != b),
              len(old_text))  # fmt: skip
    put_in = _from_line_end(old_text, at, text[at : at + len(text) - len(old_text)])
    before, _, behind = put_in.partition(token)
    gaps.append({"gap": gap, "before": before, "after": behind, "held": ""})
    return new


def _with_gap_for_value(
    source: bytes, path: tuple[str | int, ...], token: str, gap: str, gaps: list[dict[str, str]]
) -> bytes:
    """Return the file with a token in place of a value; add the gap with that value to *gaps*."""
    new = set_value(source, path, token)
    old_text, text = source.decode("utf-8"), new.decode("utf-8")
    at = text.index(token)
    behind = len(text) - at - len(token)
    held = old_text[at : len(old_text) - behind]
    gaps.append({"gap": gap, "before": "", "after": "", "held": held})
    return new


def _from_line_end(text: str, at: int, put_in: str) -> str:
    """Return an insertion so that it begins with a line end, where it can.

    A comparison of two texts finds the last of several ways to describe the same insertion, where
    the text behind it begins as the insertion does.
    """
    first, here = put_in, at
    while put_in[0] not in "\r\n" and here and text[here - 1] == put_in[-1]:
        here -= 1
        put_in = text[here] + put_in[:-1]
    if put_in[0] == "\n" and here and text[here - 1] == "\r" == put_in[-1]:
        put_in = "\r" + put_in[:-1]
    return put_in if put_in[0] in "\r\n" else first


def _split(text: str, mark: str, gaps: list[dict[str, str]]) -> Iterator[TemplatePart]:
    """Yield texts and gaps, from the start of the file to its end."""
    placed = sorted((text.index(_token(mark, gap["gap"])), n) for n, gap in enumerate(gaps))
    past = 0
    for at, n in placed:
        gap = gaps[n]
        yield text[past : at - len(gap["before"])]
        yield gap
        past = at + len(_token(mark, gap["gap"])) + len(gap["after"])
    yield text[past:]
