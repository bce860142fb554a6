"""Every link of the finished pages leads somewhere, within the site."""

import posixpath
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from html import unescape
from pathlib import Path
from urllib.parse import unquote

_ATTRIBUTE = re.compile(rb'\s(href|src|id)="([^"]*)"')
_OUTSIDE = re.compile(r"(?:[a-zA-Z][a-zA-Z0-9+.-]*:|//)")
ALLOWED = ("https://", "http://")
"""Where a person may follow a link to: a supplier's own website, and only by a click."""


def broken_links(site: Path, pages: Iterable[str]) -> list[str]:
    """Return what is wrong with the links and ids of *pages*, each as one line."""
    known = lru_cache(maxsize=None)(lambda path: _ids(site / path))
    return [line for page in sorted(pages) for line in _page(site, page, known)]


def _attributes(place: Path) -> list[tuple[str, str]]:
    found = _ATTRIBUTE.findall(place.read_bytes())
    return [(name.decode(), unescape(value.decode("utf-8"))) for name, value in found]


def _ids(place: Path) -> frozenset[str]:
    return frozenset(value for name, value in _attributes(place) if name == "id")


def _page(site: Path, page: str, known: "object") -> Iterator[str]:
    assert callable(known)
    attributes = _attributes(site / page)
    ids = [value for name, value in attributes if name == "id"]
    for twice in sorted({one for one in ids if ids.count(one) > 1}):
        yield f"{page}: the id {twice} is there twice"
    for name, value in attributes:
        if name != "id" and (wrong := _wrong(site, page, name, value, known)):
            yield f"{page}: {wrong}: {value}"


def _wrong(site: Path, page: str, name: str, value: str, known: "object") -> str:
    assert callable(known)
    if _OUTSIDE.match(value):
        return "" if name == "href" and value.startswith(ALLOWED) else "leaves the site"
    path, _, anchor = value.partition("#")
    target = page if not path else posixpath.normpath(posixpath.join(posixpath.dirname(page), path))
    target = unquote(target)
    if target.startswith(("..", "/")):
        return "leaves the site"
    if not (site / target).is_file():
        return "leads nowhere"
    if anchor and target.endswith(".html") and unquote(anchor) not in known(target):
        return "names no place on that page"
    return ""
