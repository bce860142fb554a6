"""A review shown: as text for a terminal, as Markdown for a summary, as a page of its own."""

import re
import textwrap
from collections.abc import Sequence
from html import escape

from blankbook.history.document import Section
from blankbook.text.findings import visible

MOST_BYTES = 60_000
"""Hosts cut a comment at 64 kB."""
_WIDTH = 80
_LONGEST = 400
_SPECIAL = re.compile(r"[\\`*_\[\]~$]|[<>&@#|]|:(?=//)|(?<=www)\.|^[-+=]|(?<=^\d)[.)]")


def as_text(parts: Sequence[Section]) -> str:
    """Return a review for a terminal of 80 columns."""
    return "\n\n".join(_block(part) for part in parts)


def _block(part: Section) -> str:
    lines = [_wrapped(part.title, "")]
    lines += [_wrapped(line, "  - ") for line in part.lines]
    for row in part.rows:
        lines.append(_wrapped(_sentence(part, row), "    "))
    return "\n".join(lines)


def _sentence(part: Section, row: tuple[str, ...]) -> str:
    """Return a row of a table as a line: what, old → new, and how far."""
    at = part.head.index("old")
    what = " ".join(row[:at])
    more = ", ".join(cell for cell in row[at + 3 :] if cell)
    moved = f" ({row[at + 2]})" if row[at + 2] else ""
    return f"{what}: {row[at]} → {row[at + 1]}{moved}{', ' + more if more else ''}"


def _wrapped(text: str, first: str) -> str:
    body = visible(text, _LONGEST)
    after = " " * (len(first) or 2)
    return textwrap.fill(body, _WIDTH, initial_indent=first, subsequent_indent=after)


def as_markdown(parts: Sequence[Section]) -> str:
    """Return a review for a code host: what fits into 60 kB, and how many parts did not."""
    *parts, counts = parts
    last = _markdown(counts)
    told: list[str] = []
    room = MOST_BYTES - len(last.encode()) - 200
    for index, part in enumerate(parts):
        text = _markdown(part)
        size = len(text.encode()) + 1
        if size > room:
            left = len(parts) - index
            told.append(f"**{left} more parts are left out here; the text form has them all.**\n")
            break
        room -= size
        told.append(text)
    return "\n".join([*told, last])


def _markdown(part: Section) -> str:
    lines = [f"### {_escaped(part.title)}", ""]
    lines += [f"- {_escaped(line)}" for line in part.lines]
    if part.rows:
        lines += ["", _markdown_row(part.head), "|" + " --- |" * len(part.head)]
        lines += [_markdown_row(row) for row in part.rows]
    return "\n".join([*lines, ""])


def _markdown_row(cells: tuple[str, ...]) -> str:
    return "| " + " | ".join(_escaped(cell) for cell in cells) + " |"


def _escaped(text: str) -> str:
    """Return text in which nothing is markup, a mention or a reference."""
    return _SPECIAL.sub(_entity, visible(text, _LONGEST))


def _entity(found: re.Match[str]) -> str:
    return f"&#{ord(found[0])};" if found[0] in "<>&@#|:." else f"\\{found[0]}"


_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title>
<style>
body {{ font: 1rem/1.5 system-ui, sans-serif; max-width: 60rem; margin: 1rem auto; padding: 0 1rem;
  color: #1a1a1a; background: #fff }}
h1 {{ font-size: 1.4rem }} h2 {{ font-size: 1.1rem; margin-top: 2rem }}
.wide {{ overflow-x: auto }} table {{ border-collapse: collapse }}
th, td {{ text-align: left; padding: .2rem .8rem .2rem 0; border-bottom: 1px solid #bbb }}
</style></head><body><main>
{body}
</main></body></html>
"""


def as_html(parts: Sequence[Section]) -> str:
    """Return a review as one page that needs nothing else."""
    body = "\n".join(_html(part, 1 if index == 0 else 2) for index, part in enumerate(parts))
    return _PAGE.format(title=_text(parts[0].title), body=body)


def _html(part: Section, level: int) -> str:
    lines = [f"<h{level}>{_text(part.title)}</h{level}>"]
    if part.lines:
        items = "".join(f"<li>{_text(line)}</li>" for line in part.lines)
        lines.append(f"<ul>{items}</ul>")
    if part.rows:
        head = "".join(f'<th scope="col">{_text(cell)}</th>' for cell in part.head)
        rows = "".join(
            "<tr>" + "".join(f"<td>{_text(cell)}</td>" for cell in row) + "</tr>"
            for row in part.rows
        )
        label = _text(part.title)
        lines.append(
            f'<div class="wide" tabindex="0" role="region" aria-label="{label}">'
            f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
        )
    return "\n".join(lines)


def _text(text: str) -> str:
    return escape(visible(text, _LONGEST))
