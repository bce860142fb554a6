"""The page of a planned round as one file, for a phone that has only what was sent to it.

A browser that opens a file out of a mail or its downloads may not read what lies beside it. So
styles, scripts and the round are in the file, each allowed by its own hash and nothing else.
"""

import base64
import hashlib
from dataclasses import dataclass
from importlib.resources import files as package_files

from markupsafe import Markup

from blankbook.pages.render import render_text

STYLES = ("site.css", "table.css")
SCRIPTS = ("make.js", "odd.js", "keep.js", "hand.js", "look.js", "table.js")
"""In the order in which they run, behind the round's own."""


@dataclass(frozen=True, slots=True)
class AllowedText:
    """A text that is put into the page as it is, and what allows it there."""

    text: Markup
    hash: Markup


@dataclass(frozen=True, slots=True)
class StandaloneContext:
    """All that the file shows without its scripts, and all that it brings along."""

    title: str
    shop: str
    about: str
    tape: str
    points: tuple[str, ...]
    pieces: tuple[str, ...]
    slips: str
    styles: tuple[AllowedText, ...]
    scripts: tuple[AllowedText, ...]


def standalone_page(context: StandaloneContext) -> str:
    """Return the file."""
    return render_text("table/table_alone.html.j2", context)


def page_styles() -> tuple[AllowedText, ...]:
    """Return the style sheets that the file brings along."""
    return tuple(_allowed(_asset(name)) for name in STYLES)


def page_scripts(round_script: str) -> tuple[AllowedText, ...]:
    """Return the scripts that the file brings along; *round_script* hands over its round."""
    return tuple(_allowed(text) for text in (round_script, *(_asset(name) for name in SCRIPTS)))


def _asset(name: str) -> str:
    return (package_files("blankbook.theme") / "assets" / name).read_text(encoding="utf-8")


def _allowed(text: str) -> AllowedText:
    """Return a text that is put into the page as it is, and what allows it there.

    Source of the form: Content Security Policy Level 3, hash-source, from memory.
    """
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return AllowedText(Markup(text), Markup(f"'sha256-{digest}'"))  # noqa: S704 - our own
