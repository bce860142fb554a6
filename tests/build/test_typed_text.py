"""What a person typed is text on the page: never Markdown, HTML, a template or an attribute."""

import json
import re
from html.parser import HTMLParser

import pytest

from blankbook.build.build_site import build_site
from building import PAGE, ROUND, STYLE, edit_file
from support import LedgerMaker

HOSTILE = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</main></body>",
    "---\ntemplate: x.html\n---",
    "{{ config }} {% include 'x' %}",
    "[x](javascript:alert(1)) *x*{: onclick=alert(1) }",
    '"><s>',
    "' onx=",
    "&lt;&amp;",
    "$\\badcmd$ _x_ $5 to $6",
    "<!-- ]]>",
]


class Seen(HTMLParser):
    """Collects tags, attributes and text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.names: list[str] = []
        self.scripts: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.names += [name for name, _ in attrs]
        self.scripts += [dict(attrs).get("src") or "inline"] if tag == "script" else []

    def handle_data(self, data: str) -> None:
        self.text += data


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


@pytest.mark.seldom(3)
@pytest.mark.parametrize("words", HOSTILE)
def test_typed_text_is_only_text(words: str, ledger_factory: LedgerMaker) -> None:
    """In a name, a note or a signature the characters show and do nothing."""
    ledger = ledger_factory()
    quoted = json.dumps(words)
    edit_file(ledger, STYLE, "name: H6 heavy tee", f"name: {quoted}\nnote: {quoted}")
    edit_file(ledger, "suppliers/tarn-thrush.yaml", "name: Tarn & Thrush Blanks", f"name: {quoted}")
    edit_file(ledger, ROUND, "by: rv", f"by: {quoted}\nnote: {quoted}")
    edit_file(ledger, "shop.yaml", "shop: Brackenlight Print Room", f"shop: {quoted}")
    build_site(ledger, ledger / "catalogue")

    for page in ("index.html", PAGE, "suppliers/tarn-thrush.html", "suppliers.html"):
        seen = Seen()
        seen.feed((ledger / "catalogue" / page).read_text(encoding="utf-8"))
        assert not {"iframe", "base", "s", "em"} & set(seen.tags)
        own = ["assets/make.js", "assets/finder.js"] if page == "index.html" else []
        assert seen.scripts == own
        assert not [name for name in seen.names if name.startswith("on")]
        assert seen.tags.count("main") == 1
        assert flat(words) in flat(seen.text)
