"""A review as Markdown for a code host: the worst first, within the host's limits."""

import re
from collections.abc import Sequence

from blankbook.history.report.review_document import Section
from blankbook.history.report.text_report import LONGEST
from blankbook.text.findings import visible

MOST_BYTES = 60_000
"""Hosts cut a comment at 64 kB; a job's summary may have 1 MiB, which nobody reads."""
MOST_OF_PART = 20_000
"""What one part may take, so that a large one leaves room for the others."""
_FOR_COUNTS = 200
"""Kept free for the lines that count what is left out."""
_SPECIAL = re.compile(r"[\\`*_\[\]~$]|[<>&@#|]|:(?=//)|(?<=www)\.|^[-+=]")
_NUMBERED = re.compile(r"^(\d{1,9})([.)])")
_JOINED = re.compile(r"[@#](?=\w)|\bGH-(?=\d)", re.IGNORECASE)
_APART = "&#8203;"
"""A space of no width. Hosts look for mentions and references after entities were read."""


def as_markdown(parts: Sequence[Section]) -> str:
    """Return a review for a code host: what fits into 60 kB, and how much did not."""
    *parts, counts = parts
    last = _part(counts, MOST_OF_PART)
    told: list[str] = []
    room = MOST_BYTES - len(last.encode()) - _FOR_COUNTS
    for index, part in enumerate(parts):
        text = _part(part, MOST_OF_PART)
        size = len(text.encode()) + 1
        if size > room:
            left = len(parts) - index
            told.append(f"**{left} more parts are left out here; the text form has more.**\n")
            break
        room -= size
        told.append(text)
    return "\n".join([*told, last])


def _part(part: Section, room: int) -> str:
    """Return one part; lines and rows for which there is no room are counted."""
    title = f"### {escaped(part.title)}"
    lines = [f"- {escaped(line)}" for line in part.lines]
    names, *cells = part.table or ((),)
    head = [_row(names), "|" + " --- |" * len(names)] if cells else []
    rows = [_row(row) for row in cells]
    room -= sum(len(line.encode()) + 1 for line in (title, *head)) + _FOR_COUNTS
    kept_lines = _fitting(lines, room)
    room -= sum(len(line.encode()) + 1 for line in kept_lines)
    kept = _fitting(rows, room)
    told = [title, "", *kept_lines]
    if kept:
        told += ["", *head, *kept]
    if left := len(lines) - len(kept_lines) + len(rows) - len(kept):
        told += ["", f"**{left} more lines are left out here; the text form has more.**"]
    return "\n".join([*told, ""])


def _fitting(lines: Sequence[str], room: int) -> list[str]:
    """Return the first lines, as many as there is room for in bytes."""
    found = []
    for line in lines:
        room -= len(line.encode()) + 1
        if room < 0:
            break
        found.append(line)
    return found


def _row(cells: tuple[str, ...]) -> str:
    return "| " + " | ".join(escaped(cell) for cell in cells) + " |"


def escaped(text: str) -> str:
    """Return text in which nothing is markup, a mention or a reference."""
    apart = _JOINED.sub(lambda found: found[0] + "\0", visible(text, LONGEST))
    marked = _NUMBERED.sub(r"\1\\\2", _SPECIAL.sub(_entity, apart))
    return marked.replace("\0", _APART)


def _entity(found: re.Match[str]) -> str:
    return f"&#{ord(found[0])};" if found[0] in "<>&@#|:." else f"\\{found[0]}"
