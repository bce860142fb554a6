"""A review as a web page of its own: one file that loads nothing."""

from collections.abc import Sequence
from html import escape

from blankbook.history.report.sections import Section
from blankbook.history.report.text_report import LONGEST
from blankbook.text.findings import visible

_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title>
<style>
:root {{ color-scheme: light dark; --ink: #1a1a1a; --paper: #fff; --line: #bbb }}
@media (prefers-color-scheme: dark) {{ :root {{ --ink: #e8e8e8; --paper: #181818; --line: #555 }} }}
body {{ font: 1rem/1.5 system-ui, sans-serif; max-width: 60rem; margin: 1rem auto; padding: 0 1rem;
  color: var(--ink); background: var(--paper); overflow-wrap: anywhere }}
h1 {{ font-size: 1.4rem }} h2 {{ font-size: 1.1rem; margin-top: 2rem; break-after: avoid }}
ul {{ padding-left: 1.2rem }}
.wide {{ overflow-x: auto }} table {{ border-collapse: collapse }}
:focus-visible {{ outline: 3px solid var(--ink); outline-offset: 2px }}
th, td {{ text-align: left; vertical-align: top; padding: .2rem .8rem .2rem 0;
  border-bottom: 1px solid var(--line); overflow-wrap: normal }}
@page {{ margin: 15mm }}
@media print {{ :root {{ --ink: #000; --paper: #fff; --line: #999 }}
  body {{ font-size: 10pt; max-width: none; margin: 0; padding: 0 }}
  .wide {{ overflow: visible }} tr, li {{ break-inside: avoid }} }}
</style></head><body><main>
{body}
</main></body></html>
"""


def html_report(sections: Sequence[Section]) -> str:
    """Return a review as one page."""
    first, *others = sections
    body = "\n".join([_section_html(first, 1), *(_section_html(other, 2) for other in others)])
    return _PAGE.format(title=_text(first.title), body=body)


def _section_html(section: Section, level: int) -> str:
    lines = [f"<h{level}>{_text(section.title)}</h{level}>"]
    if section.lines:
        items = "".join(f"<li>{_text(line)}</li>" for line in section.lines)
        lines.append(f"<ul>{items}</ul>")
    if section.rows:
        names, *cells = section.table
        head = "".join(f'<th scope="col">{_text(cell)}</th>' for cell in names)
        rows = "".join(
            "<tr>" + "".join(f"<td>{_text(cell)}</td>" for cell in row) + "</tr>" for row in cells
        )
        label = _text(section.title)
        lines.append(
            f'<div class="wide" tabindex="0" role="region" aria-label="{label}">'
            f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
        )
    return "\n".join(lines)


def _text(text: str) -> str:
    return escape(visible(text, LONGEST))
