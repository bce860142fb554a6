"""Whether every link of the finished pages leads somewhere, within the site.

Pages are searched, not parsed: a parser would take as long as everything else that is done to a
page. A search is enough, since all markup is ours: templates put every attribute into double quotes
and escape what a person typed. An attribute that is written otherwise is a fault of its own.
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
"""A link in an attribute, or written in a form, that is not followed here."""
_FETCHED = re.compile(
    rb'<(?!a\s)[^<>]*\shref="(?:[a-zA-Z][a-zA-Z0-9+.-]*:|//)[^>]*|<base\s[^>]*', re.IGNORECASE
)
"""An address that a browser fetches by itself, or that changes where all others lead."""
_OUTSIDE = re.compile(r"(?:[a-zA-Z][a-zA-Z0-9+.-]*:|//)")
ALLOWED = ("https://", "http://")
"""Where a person may follow a link to: a supplier's own website, and only by a click."""
_Attribute = tuple[str, str]
"""Its name in lower case, and its value."""


def broken_links(
    site: Path, pages: Iterable[str], files: Collection[str] | None = None
) -> list[str]:
    """Return what is wrong with the links and ids of *pages*, each as one line.

    *files* are all files of the site; without them the disk is asked.
    """
    attributes_of: dict[str, list[_Attribute]] = {}

    @cache
    def ids_of(path: str) -> frozenset[str]:
        return _ids(attributes_of[path]) if path in attributes_of else page_ids(site / path)

    def is_there(path: str) -> bool:
        return (site / path).is_file() if files is None else path in files

    found = []
    for page in sorted(pages):
        tags = _tags(site / page)
        attributes_of[page] = _attributes(tags)
        found += [(page, line) for line in _uncheckable_tags(tags)]
    for page, attributes in attributes_of.items():
        found += [(page, line) for line in _page_faults(page, attributes, is_there, ids_of)]
    return [f"{page}: {line}" for page, line in sorted(found, key=lambda fault: fault[0])]


def page_ids(place: Path) -> frozenset[str]:
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


def _uncheckable_tags(every: Iterable[bytes]) -> Iterator[str]:
    """Yield what in the tags cannot be checked, or leads away without a click."""
    tags = b"".join(dict.fromkeys(every))  # most of a page's tags are alike
    bare = _VALUE.sub(b'""', tags)  # a quoted value may look like anything
    if uncommitted := _UNCHECKED.search(bare) or _REFRESH.search(tags):
        yield f"cannot be checked: {uncommitted[0].decode().strip()}"
    if fetched := _FETCHED.search(tags):
        yield f"leaves the site: {fetched[0].decode()}"


def _page_faults(
    page: str,
    attributes: Sequence[_Attribute],
    is_there: Callable[[str], bool],
    ids_of: Callable[[str], frozenset[str]],
) -> Iterator[str]:
    yield from (f"the id {anchor} is there twice" for anchor in _repeated_ids(attributes))
    for name, value in attributes:
        if name != "id" and (fault := _link_fault(page, name, value, is_there, ids_of)):
            yield f"{fault}: {value}"


def _repeated_ids(attributes: Iterable[_Attribute]) -> list[str]:
    counted = Counter(value for name, value in attributes if name == "id")
    return sorted(anchor for anchor, count in counted.items() if count > 1)


def _link_fault(
    page: str,
    name: str,
    value: str,
    is_there: Callable[[str], bool],
    ids_of: Callable[[str], frozenset[str]],
) -> str:
    """Return what is wrong with one link of a page; empty where nothing is."""
    if _OUTSIDE.match(value):
        return "" if name == "href" and value.startswith(ALLOWED) else "leaves the site"
    path, _, anchor = value.partition("#")
    target = posixpath.normpath(posixpath.join(posixpath.dirname(page), path)) if path else page
    target = unquote(target)
    if target.startswith(("..", "/")):
        return "leaves the site"
    if not is_there(target):
        return "leads nowhere"
    is_place = anchor and "=" not in anchor  # with the sign it tells a script what to show
    if is_place and target.endswith(".html") and unquote(anchor) not in ids_of(target):
        return "names no place on that page"
    return ""
