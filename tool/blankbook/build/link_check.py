"""Every link of the finished pages leads somewhere, within the site.

Pages are searched, not parsed: a parser would take as long as everything else that is done to a
page. That is enough since all markup is ours: templates put every attribute into double quotes and
escape what a person typed. An attribute that is written otherwise is a fault of its own.
"""

import posixpath
import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from functools import cache
from html import unescape
from pathlib import Path
from urllib.parse import unquote

_TAG = re.compile(rb"<[a-zA-Z][^<>]*>")
_ATTRIBUTE = re.compile(rb'\s(href|src|id)="([^"]*)"', re.IGNORECASE)
_VALUE = re.compile(rb'"[^"]*"')
_REFRESH = re.compile(rb'\shttp-equiv="\W*refresh\W*"[^>]*', re.IGNORECASE)
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
_Attribute = tuple[str, str]
"""Its name, small, and its value."""


def broken_links(
    site: Path, pages: Iterable[str], files: Collection[str] | None = None
) -> list[str]:
    """Return what is wrong with the links and ids of *pages*, each as one line.

    *files* are all that the site has; they are looked up where they are not given.
    """
    looked_at: dict[str, list[_Attribute]] = {}

    @cache
    def known(path: str) -> frozenset[str]:
        return _ids(looked_at[path]) if path in looked_at else ids(site / path)

    def is_there(path: str) -> bool:
        return (site / path).is_file() if files is None else path in files

    found = []
    for page in sorted(pages):
        tags = _tags(site / page)
        looked_at[page] = _attributes(tags)
        found += [(page, line) for line in _ill_written(tags)]
    for page, attributes in looked_at.items():
        found += [(page, line) for line in _ill_led(page, attributes, is_there, known)]
    return [f"{page}: {line}" for page, line in sorted(found, key=lambda one: one[0])]


def ids(place: Path) -> frozenset[str]:
    """Return the names of all places on a page."""
    return _ids(_attributes(_tags(place)))


def _ids(attributes: Iterable[_Attribute]) -> frozenset[str]:
    return frozenset(value for name, value in attributes if name == "id")


def _tags(place: Path) -> list[bytes]:
    """Return all tags of a page, without the text between them."""
    return _TAG.findall(place.read_bytes())


def _attributes(tags: Iterable[bytes]) -> list[_Attribute]:
    found = _ATTRIBUTE.findall(b"".join(tags))
    return [(name.decode().lower(), unescape(value.decode())) for name, value in found]


def _ill_written(every: Iterable[bytes]) -> Iterator[str]:
    """Yield what of the tags cannot be looked at, or leads away by itself."""
    tags = b"".join(dict.fromkeys(every))  # most of a page's tags are alike
    bare = _VALUE.sub(b'""', tags)  # a quoted value may look like anything
    if odd := _UNCHECKED.search(bare) or _REFRESH.search(tags):
        yield f"cannot be checked: {odd[0].decode().strip()}"
    if fetched := _FETCHED.search(tags):
        yield f"leaves the site: {fetched[0].decode()}"


def _ill_led(
    page: str,
    attributes: Sequence[_Attribute],
    is_there: Callable[[str], bool],
    known: Callable[[str], frozenset[str]],
) -> Iterator[str]:
    yield from (f"the id {one} is there twice" for one in _twice(attributes))
    for name, value in attributes:
        if name != "id" and (wrong := _wrong(page, name, value, is_there, known)):
            yield f"{wrong}: {value}"


def _twice(attributes: Iterable[_Attribute]) -> list[str]:
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
