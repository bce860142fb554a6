"""The page of a planned round as one file, for a phone that has only what was sent to it.

A browser that opens a file out of a mail or its downloads may not read what lies beside it. So
styles, scripts and the round are in the file, each allowed by its own hash and nothing else.
"""

import base64
import hashlib
from collections.abc import Mapping
from importlib.resources import files as package_files
from typing import Any

from markupsafe import Markup

from blankbook.pages.render import render_text

STYLES = ("site.css", "table.css")
SCRIPTS = ("make.js", "odd.js", "keep.js", "hand.js", "table.js")
"""In the order in which they run, behind the round's own."""


def standalone_page(context: Mapping[str, Any], round_script: str) -> str:
    """Return the file; *context* is that of the page, *round_script* hands over its round."""
    data = round_script.replace("<", "\\u003c")  # in strings alone, and so no tag ends there
    scripts = [data, *(_asset(name) for name in SCRIPTS)]
    parts = {
        "styles": [_allowed(_asset(name)) for name in STYLES],
        "scripts": [_allowed(text) for text in scripts],
    }
    return render_text("table/table_alone.html.j2", {**context, **parts})


def _asset(name: str) -> str:
    return (package_files("blankbook.theme") / "assets" / name).read_text(encoding="utf-8")


def _allowed(text: str) -> dict[str, Markup]:
    """Return a text that is put into the page as it is, and what allows it there.

    Source of the form: Content Security Policy Level 3, hash-source, from memory.
    """
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return {"text": Markup(text), "hash": Markup(f"'sha256-{digest}'")}  # noqa: S704 - our own
