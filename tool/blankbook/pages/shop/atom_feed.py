"""The last changes as a feed: RFC 4287, the Atom syndication format.

Ids must never change. An entry's follows from its commit, the feed's from the first commit of the
ledger, or from the shop's name where that commit was not fetched. Times are those of commits.
"""

import datetime
import re
import uuid
from collections.abc import Iterator, Sequence
from xml.sax.saxutils import escape, quoteattr

from blankbook.pages.shop.commit_entries import CommitEntry
from blankbook.pages.site_paths import CHANGES, FEED

_SPACE = uuid.UUID("6c3f1d52-8d0a-5c1e-9d3b-2f6b1b7a40e1")
"""The name space of our ids (RFC 9562, 5.5: names are hashed within one)."""
_LAST_SECOND = 253402300799
"""The end of the year 9999: RFC 3339 writes four digits."""
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 does not allow, not even escaped (2.2 Characters)."""


def feed_text(entries: Sequence[CommitEntry], shop: str, site: str, origin: str) -> str:
    """Return the feed of *entries*, at least one of them, the newest first.

    *site* is the address of the site: without it links are relative to the feed itself.
    """
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        '<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en">',
        f"<id>{_id('feed', origin or shop)}</id>",
        f"<title>{_text(shop)}: what changed lately</title>",
        f"<updated>{_time(max(entry.at for entry in entries))}</updated>",
        f"<author><name>{_text(shop)}</name></author>",
        f'<link rel="self" type="application/atom+xml" href={_address(site, FEED)}/>',
        f'<link rel="alternate" type="text/html" href={_address(site, CHANGES)}/>',
        "<generator>blankbook</generator>",
    ]
    for entry in entries:
        lines += _entry(entry, site)
    return "\n".join([*lines, "</feed>", ""])


def _entry(entry: CommitEntry, site: str) -> Iterator[str]:
    yield "<entry>"
    yield f"<id>{_id('entry', entry.key)}</id>"
    yield f"<title>{_text(entry.title)}</title>"
    yield f"<updated>{_time(entry.at)}</updated>"
    place = _address(site, f"{CHANGES}#{entry.place}")
    yield f'<link rel="alternate" type="text/html" href={place}/>'
    yield '<content type="xhtml"><div xmlns="http://www.w3.org/1999/xhtml">'
    for part in entry.parts:
        name = _text(part.name)
        if part.path:
            name = f"<a href={_address(site, part.path)}>{name}</a>"
        items = "".join(f"<li>{_text(line)}</li>" for line in part.lines)
        yield f"<p>{name}</p><ul>{items}</ul>"
    if entry.rest:
        yield f"<p>{_text(entry.rest)}</p>"
    yield "</div></content>"
    yield "</entry>"


def _id(kind: str, key: str) -> str:
    return uuid.uuid5(_SPACE, f"{kind}\n{key}").urn


def _time(seconds: int) -> str:
    """Return a time as RFC 3339 writes it, in UTC.

    >>> _time(0)
    '1970-01-01T00:00:00Z'
    """
    kept = min(max(seconds, 0), _LAST_SECOND)
    return datetime.datetime.fromtimestamp(kept, datetime.UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _address(site: str, path: str) -> str:
    """Return a link as a quoted attribute: whole where the site has an address, else relative."""
    base = site if not site or site.endswith("/") else f"{site}/"
    return quoteattr(_NOT_XML.sub("\N{REPLACEMENT CHARACTER}", base + path))


def _text(text: str) -> str:
    return escape(_NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text))
