"""Names of new suppliers and styles: what a file is called, and which known names are alike."""

import difflib
import re
import unicodedata
from collections.abc import Mapping

LONGEST_KEY = 64
KEY_PATTERN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LEGAL = {"co", "company", "ltd", "limited", "inc", "llc", "gmbh", "the", "and", "of"}
SIMILAR = 0.86
"""Share of equal characters from which a person is asked whether two keys mean the same."""


def key_from_name(name: str) -> str:
    """Return a file's name for a name: small letters, digits and hyphens; it may be empty.

    >>> key_from_name("Sedge & Hollow Ltd."), key_from_name("Bläßhuhn Küste")
    ('sedge-hollow-ltd', 'blasshuhn-kuste')
    """
    plain = unicodedata.normalize("NFKD", name.casefold())
    plain = plain.replace("'", "").replace("’", "")
    bare = "".join(c for c in plain if not unicodedata.combining(c))
    return "-".join(re.findall(r"[a-z0-9]+", bare))[:LONGEST_KEY].strip("-")


def same_key(key: str, name: str, known: Mapping[str, str]) -> str:
    """Return the known key that means the same supplier or style, or nothing.

    *known* gives names by key. Keys and names are the same if only hyphens or a legal form differ.
    """
    for other, called in known.items():
        if _bare(key) == _bare(other) or (
            name and _bare(key_from_name(name)) == _bare(key_from_name(called))
        ):
            return other
    return ""


def similar_key(key: str, known: Mapping[str, str]) -> str:
    """Return the known key that differs from *key* by a slip or two, or nothing."""
    bare = {_bare(other): other for other in known}
    near = difflib.get_close_matches(_bare(key), bare, n=1, cutoff=SIMILAR)
    return bare[near[0]] if near else ""


def _bare(key: str) -> str:
    """Return a key without hyphens and legal forms such as ltd."""
    return "".join(word for word in key.split("-") if word not in _LEGAL) or key
