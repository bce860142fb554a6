"""Every link of the finished pages leads somewhere, within the site.

Pages are searched, not parsed: a parser would take as long as everything else that is done to a
page. That is enough since all markup is ours: templates put every attribute into double quotes and
escape what a person typed. An attribute that is written otherwise is a fault of its own.
"""

import posixpath
import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from functools import lru_cache
from html import unescape
from pathlib import Path
from urllib.parse import unquote

_TAG = re.compile(rb"<[a-zA-Z][^<>]*>")
_ATTRIBUTE = re.compile(rb'\s(href|src|id)="([^"]*)"', re.IGNORECASE)
_VALUE = re.compile(rb'"[^"]*"')
_REFRESH = re.compile(rb'"\W*refresh\W*"', re.IGNORECASE)
_UNCHECKED = re.compile(
    rb'\s(?:(?:href|src|id)\s*=(?!")'
    rb"|(?:srcset|action|formaction|data|poster|cite|ping|background|xlink:href|style)\s*=)[^>]*"
    rb"|\shttp-equiv=\"?\W*refresh[^>]*",
    re.IGNORECASE,
)
"""A link in a form, or in an attribute, that is not looked at."""
_FETCHED = re.compile(
    rb'<(?!a\s)[^<>]*\shref="(?:[a-zA-Z][a-zA-Z0-9+.-]*:|//)[^>]*|<base\s[^>]*', re.IGNORECASE
)
"""A link that nobody has to click on, or that bends all others."""
_OUTSIDE = re.compile(r"(?:[a-zA-Z][a-zA-Z0-9+.-]*:|//)")
ALLOWED = ("https://", "http://")
"""Where a person may follow a link to: a supplier's own website, and only by a click."""


def broken_links(
    site: Path, pages: Iterable[str], files: Collection[str] | None = None
) -> list[str]:
    """Return what is wrong with the links and ids of *pages*, each as one line.

    *files* are all that the site has; they are looked up where they are not given.
    """
    known = lru_cache(maxsize=None)(lambda path: ids(site / path))

    def is_there(path: str) -> bool:
        return (site / path).is_file() if files is None else path in files

    return [line for page in sorted(pages) for line in _page(site, page, is_there, known)]


def ids(place: Path) -> frozenset[str]:
    """Return the names of all places on a page."""
    return frozenset(value for name, value in _attributes(_tags(place)) if name == "id")


def _tags(place: Path) -> bytes:
    """Return all tags of a page, without the text between them."""
    return b"".join(_TAG.findall(place.read_bytes()))


def _attributes(tags: bytes) -> list[tuple[str, str]]:
    found = _ATTRIBUTE.findall(tags)
    return [(name.decode().lower(), unescape(value.decode())) for name, value in found]


def _page(
    site: Path,
    page: str,
    is_there: Callable[[str], bool],
    known: Callable[[str], frozenset[str]],
) -> Iterator[str]:
    tags = _tags(site / page)
    if odd := _UNCHECKED.search(_VALUE.sub(_emptied, tags)):
        yield f"{page}: cannot be checked: {odd[0].decode().strip()}"
    if fetched := _FETCHED.search(tags):
        yield f"{page}: leaves the site: {fetched[0].decode()}"
    attributes = _attributes(tags)
    yield from (f"{page}: the id {one} is there twice" for one in _twice(attributes))
    for name, value in attributes:
        if name != "id" and (wrong := _wrong(page, name, value, is_there, known)):
            yield f"{page}: {wrong}: {value}"


def _emptied(value: re.Match[bytes]) -> bytes:
    """Return a quoted value without its text, which may look like anything."""
    return value[0] if _REFRESH.fullmatch(value[0]) else b'""'


def _twice(attributes: Iterable[tuple[str, str]]) -> list[str]:
    counted = Counter(value for name, value in attributes if name == "id")
    return sorted(one for one, count in counted.items() if count > 1)


def _wrong(
    page: str,
    name: str,
    value: str,
    is_there: Callable[[str], bool],
    known: Callable[[str], frozenset[str]],
) -> str:
    if _OUTSIDE.match(value):
        return "" if name == "href" and value.startswith(ALLOWED) else "leaves the site"
    path, _, anchor = value.partition("#")
    target = posixpath.normpath(posixpath.join(posixpath.dirname(page), path)) if path else page
    target = unquote(target)
    if target.startswith(("..", "/")):
        return "leaves the site"
    if not is_there(target):
        return "leads nowhere"
    asks = "=" in anchor  # what a script shall show, and not a place: no id holds the sign
    if anchor and not asks and target.endswith(".html") and unquote(anchor) not in known(target):
        return "names no place on that page"
    return ""
