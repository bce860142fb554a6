"""The check of the finished pages: it finds what is broken, and looks at everything there is."""

from html.parser import HTMLParser
from pathlib import Path

import pytest

from blankbook.build import link_check
from blankbook.build.build_site import build_site
from blankbook.build.link_check import broken_links
from building import PAGE, site_files

LINKING = {"href", "src", "srcset", "action", "formaction", "data", "poster", "cite"}


@pytest.mark.parametrize(
    ("html", "wrong"),
    [
        ('<a href="no.html">x</a>', "leads nowhere"),
        ('<img src="no.png" alt="">', "leads nowhere"),
        ('<a href="">x</a>', ""),
        ('<a href="#no">x</a>', "names no place"),
        ('<a href="b.html#no">x</a>', "names no place"),
        ('<a href="../up.html">x</a>', "leaves the site"),
        ('<a href="/b.html">x</a>', "leaves the site"),
        ('<img src="https://example.invalid/x.png" alt="">', "leaves the site"),
        ('<a href="javascript:x">x</a>', "leaves the site"),
        ('<a href="//example.invalid/">x</a>', "leaves the site"),
        ('<a href="mailto:x@example.invalid">x</a>', "leaves the site"),
        ('<p id="a"></p><p id="a"></p>', "twice"),
        ("<a href='b.html'>x</a>", "cannot be checked"),
        ("<a HREF=b.html>x</a>", "cannot be checked"),
        ('<img srcset="b.png 2x" src="b.html">', "cannot be checked"),
        ('<a\nhref="no.html">x</a>', "leads nowhere"),
        ('<A HREF="no.html">x</A>', "leads nowhere"),
        ('<link rel="stylesheet" href="https://example.invalid/x.css">', "leaves the site"),
        ('<base href="https://example.invalid/">', "leaves the site"),
        ('<base target="_top">', "leaves the site"),
        ('<use xlink:href="https://example.invalid/x.svg#a">', "cannot be checked"),
        ('<p style="background: url(https://example.invalid/x.png)">', "cannot be checked"),
        ('<meta http-equiv="refresh" content="0;url=b.html">', "cannot be checked"),
        ('<meta http-equiv="x-y" content="z">', ""),
        ('<link rel="stylesheet" href="b.html">', ""),
        ('<a href="b.html#here">x</a> <a href="https://example.invalid/">y</a>', ""),
        ('<a href="b.html?x=1">x</a>', "leads nowhere"),
        ('<p>write href="no.html" or <q> src=x</q></p>', ""),
        ('<a href="b%2Ehtml#he%72e">x</a>', ""),
    ],
)
def test_links_of_a_page(html: str, wrong: str, tmp_path: Path) -> None:
    """Each of these is found to be wrong in one way, or is sound."""
    (tmp_path / "a.html").write_text(f"<html> {html}")
    (tmp_path / "b.html").write_text('<html> <p id="here">')
    found = broken_links(tmp_path, ["a.html"])

    assert len(found) == bool(wrong)
    assert wrong in "".join(found)


class _Parsed(HTMLParser):
    """Collects every attribute of a page by the standard library's own parser."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []

    def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [(n, v or "") for n, v in attrs if n in LINKING | {"id"}]


@pytest.mark.seldom(3)
def test_search_sees_what_a_parser_sees(demo_copy: Path) -> None:
    """On every page of the demo shop the quick search finds the attributes that are there."""
    site = demo_copy / "catalogue"
    build_site(demo_copy, site)
    pages = [site / path for path in site_files(site) if path.endswith(".html")]
    assert len(pages) > 20
    for page in pages:
        parsed = _Parsed()
        parsed.feed(page.read_text(encoding="utf-8"))
        assert link_check._attributes(link_check._tags(page)) == parsed.found, page


def test_every_link_of_the_site_holds(demo_copy: Path) -> None:
    """Told nothing of what was built, the check finds the whole site sound; and can find fault."""
    site = demo_copy / "catalogue"
    build_site(demo_copy, site)
    pages = [path for path in site_files(site) if path.endswith(".html")]

    assert broken_links(site, pages) == []
    (site / "glossary.html").unlink()
    assert (
        len(broken_links(site, [page for page in pages if page != "glossary.html"]))
        >= len(pages) - 1
    )
    assert PAGE not in pages or (site / PAGE).is_file()
