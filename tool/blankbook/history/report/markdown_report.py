"""A review as Markdown for a code host: the worst first, within the host's limits."""

import re
from collections.abc import Sequence

from blankbook.history.report.sections import Section
from blankbook.history.report.text_report import LONGEST
from blankbook.text.findings import visible

MOST_MARKDOWN_BYTES = 60_000
"""Hosts cut a comment at 64 kB; a job's summary may have 1 MiB, which nobody reads."""
MOST_SECTION_BYTES = 20_000
"""Bytes of one section, so that a large one leaves room for the others."""
_FOR_COUNTS = 200
"""Bytes kept free for the lines that count what is left out."""
# Markup anywhere; a web address, which hosts make a link; signs that begin a list or a heading.
_SPECIAL = re.compile(r"[\\`*_\[\]~$]|[<>&@#|]|:(?=//)|(?<=www)\.|^[-+=]")
_NUMBERED = re.compile(r"^(\d{1,9})([.)])")
# A mention of a person or a reference to an issue: a host would send a message to somebody.
_JOINED = re.compile(r"[@#](?=\w)|\bGH-(?=\d)", re.IGNORECASE)
_APART = "&#8203;"
"""A space of no width. Hosts look for mentions and references after entities were read."""


def markdown_report(sections: Sequence[Section]) -> str:
    """Return a review for a code host: what fits into 60 kB, and how much did not."""
    *sections, counts = sections
    last = _section_text(counts, MOST_SECTION_BYTES)
    texts: list[str] = []
    room = MOST_MARKDOWN_BYTES - len(last.encode()) - _FOR_COUNTS
    for index, section in enumerate(sections):
        text = _section_text(section, MOST_SECTION_BYTES)
        size = len(text.encode()) + 1
        if size > room:
            left = len(sections) - index
            texts.append(f"**{left} more parts are left out here; the text form has more.**\n")
            break
        room -= size
        texts.append(text)
    return "\n".join([*texts, last])


def _section_text(section: Section, room: int) -> str:
    """Return one section; lines and rows for which there is no room are counted."""
    title = f"### {escape_markdown(section.title)}"
    lines = [f"- {escape_markdown(line)}" for line in section.lines]
    names, *cells = section.table or ((),)
    head = [_table_row(names), "|" + " --- |" * len(names)] if cells else []
    rows = [_table_row(row) for row in cells]
    room -= sum(len(line.encode()) + 1 for line in (title, *head)) + _FOR_COUNTS
    shown_lines = _fitting_lines(lines, room)
    room -= sum(len(line.encode()) + 1 for line in shown_lines)
    shown_rows = _fitting_lines(rows, room)
    text = [title, "", *shown_lines]
    if shown_rows:
        text += ["", *head, *shown_rows]
    if left := len(lines) - len(shown_lines) + len(rows) - len(shown_rows):
        text += ["", f"**{left} more lines are left out here; the text form has more.**"]
    return "\n".join([*text, ""])


def _fitting_lines(lines: Sequence[str], room: int) -> list[str]:
    """Return the first lines, as many as fit into *room* bytes."""
    found = []
    for line in lines:
        room -= len(line.encode()) + 1
        if room < 0:
            break
        found.append(line)
    return found


def _table_row(cells: tuple[str, ...]) -> str:
    return "| " + " | ".join(escape_markdown(cell) for cell in cells) + " |"


def escape_markdown(text: str) -> str:
    """Return text in which nothing is markup, a mention or a reference."""
    apart = _JOINED.sub(lambda found: found[0] + "\0", visible(text, LONGEST))
    marked = _NUMBERED.sub(r"\1\\\2", _SPECIAL.sub(_entity, apart))
    return marked.replace("\0", _APART)


def _entity(found: re.Match[str]) -> str:
    return f"&#{ord(found[0])};" if found[0] in "<>&@#|:." else f"\\{found[0]}"
