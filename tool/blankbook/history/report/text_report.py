"""A review as text for a terminal."""

import re
import textwrap
from collections.abc import Sequence

from blankbook.history.report.sections import Section
from blankbook.text.findings import visible

WIDTH = 80
"""Columns, where the terminal does not say how many it has."""
LONGEST = 400
"""Characters of one text that a person typed; the rest of it is cut."""
_ORDER = re.compile(r"^(\s*)::|##(?=\[)")


def text_report(sections: Sequence[Section], width: int = WIDTH) -> str:
    """Return a review for a terminal of so many columns.

    No line of it is an order to a code host that reads a job's log: such a line begins with two
    colons, or has two signs of number before a bracket (the host's documentation, from memory).
    """
    return "\n\n".join(_section_text(section, max(width, 20)) for section in sections)


def _section_text(section: Section, width: int) -> str:
    lines = [_wrapped(section.title, "", width)]
    lines += [_wrapped(line, "  - ", width) for line in section.lines]
    for row in section.rows:
        lines.append(_wrapped(_sentence(section, row), "    ", width))
    return "\n".join(lines)


def _sentence(section: Section, row: tuple[str, ...]) -> str:
    """Return a row of a table as a sentence: what, old → new, and how far it moved."""
    at = section.head.index("old")
    what = " ".join(row[:at])
    more = ", ".join(cell for cell in row[at + 3 :] if cell)
    moved = f" ({row[at + 2]})" if row[at + 2] else ""
    return f"{what}: {row[at]} → {row[at + 1]}{moved}{', ' + more if more else ''}"


def _wrapped(text: str, first: str, width: int) -> str:
    body = visible(text, LONGEST)
    after = " " * (len(first) or 2)
    lines = textwrap.wrap(body, width, initial_indent=first, subsequent_indent=after)
    return "\n".join(_ORDER.sub(_written_out, line) for line in lines)


def _written_out(found: re.Match[str]) -> str:
    """Return what would begin an order, its first character as its number."""
    return f"{found[1]}\\u003a:" if found[1] is not None else "\\u0023#"
