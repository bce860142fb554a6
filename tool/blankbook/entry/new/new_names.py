"""Names of new suppliers and styles: what a file may be called, and what is there already."""

import difflib
import re
import unicodedata
from collections.abc import Mapping

LONGEST_KEY = 64
KEY_PATTERN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LEGAL = {"co", "company", "ltd", "limited", "inc", "llc", "gmbh", "the", "and", "of"}
SIMILAR = 0.86
"""Of the characters in order; from here on a person is asked whether it is the same."""


def key_from_name(name: str) -> str:
    """Return the name that a file gets: small letters, digits and hyphens; maybe nothing.

    >>> key_from_name("Sedge & Hollow Ltd."), key_from_name("Bläßhuhn Küste")
    ('sedge-hollow-ltd', 'blasshuhn-kuste')
    """
    plain = unicodedata.normalize("NFKD", name.casefold())
    plain = plain.replace("'", "").replace("’", "")
    bare = "".join(c for c in plain if not unicodedata.combining(c))
    return "-".join(re.findall(r"[a-z0-9]+", bare))[:LONGEST_KEY].strip("-")


def same_key(key: str, name: str, known: Mapping[str, str]) -> str:
    """Return the key of a supplier or style that is probably the same; *known* are their names.

    What differs by a hyphen or a legal form alone is the same; so is what differs by a slip.
    """
    for other, called in known.items():
        if _bare(key) == _bare(other) or (
            name and _bare(key_from_name(name)) == _bare(key_from_name(called))
        ):
            return other
    return ""


def similar_key(key: str, known: Mapping[str, str]) -> str:
    """Return the key that differs from *key* by a slip or two, or nothing."""
    bare = {_bare(other): other for other in known}
    near = difflib.get_close_matches(_bare(key), bare, n=1, cutoff=SIMILAR)
    return bare[near[0]] if near else ""


def _bare(key: str) -> str:
    return "".join(word for word in key.split("-") if word not in _LEGAL) or key
