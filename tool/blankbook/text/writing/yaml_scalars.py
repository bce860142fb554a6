"""A text as a YAML scalar that reads back as that text, quoted only where it must be."""

import json
import re
from typing import Any

_PLAIN = re.compile(r"[A-Za-z0-9+./(_][^\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]*")
_MEANS_MORE = re.compile(r"[,\[\]{}]|:(?=\s|$)|\s#|\s$|^\.\.\.|\s\s")
"""What ends a plain scalar somewhere, or reads otherwise after it."""
_WORDS = {"true", "false", "yes", "no", "on", "off", "y", "n", "null", "none", "nan", "inf"}
"""What other readers of YAML take for something else than a text."""


def plain(value: str) -> str:
    """Return *value* so that it can stand anywhere in a record, on one line.

    Readings, dates and names stay as they are; what YAML would read otherwise is put in quotes.
    """
    if _PLAIN.fullmatch(value) and not _MEANS_MORE.search(value) and not _is_word(value):
        return value
    return json.dumps(value, ensure_ascii=False)


def _is_word(value: str) -> bool:
    return value.casefold() in _WORDS


def listed(values: list[str]) -> str:
    """Return texts as a list on one line."""
    return in_brackets(values)


def mapped(pairs: dict[str, str]) -> str:
    """Return keys and texts as a mapping on one line."""
    return in_brackets(dict(pairs))


def in_brackets(value: Any) -> str:
    """Return what a record holds on one line: a text, or lists and mappings of them."""
    if isinstance(value, dict):
        pairs = (f"{plain(key)}: {in_brackets(item)}" for key, item in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(in_brackets, value)) + "]"
    return plain(value) if value is not None else ""
