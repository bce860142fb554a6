"""Texts, lists and mappings as YAML on one line, quoted only where they must be."""

import json
import re
from typing import Any

_PLAIN = re.compile(r"[A-Za-z0-9+./(_][^\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]*")
_MEANS_MORE = re.compile(r"[,\[\]{}]|:(?=\s|$)|\s#|\s$|^\.\.\.|\s\s")
"""Characters in a plain scalar that would end it, or be read as something else."""
_OTHER_MEANING = {"true", "false", "yes", "no", "on", "off", "y", "n", "null", "none", "nan", "inf"}
"""Words that other readers of YAML take for truth values, nothing or numbers."""


def yaml_scalar(value: str) -> str:
    """Return a text as a scalar that can stand anywhere in a record, on one line.

    Readings, dates and names stay as they are. What YAML would read otherwise is put in quotes.
    """
    if _PLAIN.fullmatch(value) and not _MEANS_MORE.search(value) and not _means_other(value):
        return value
    return json.dumps(value, ensure_ascii=False)


def _means_other(value: str) -> bool:
    return value.casefold() in _OTHER_MEANING


def yaml_list(values: list[str]) -> str:
    """Return texts as a list on one line."""
    return yaml_value(values)


def yaml_mapping(pairs: dict[str, str]) -> str:
    """Return keys and texts as a mapping on one line."""
    return yaml_value(dict(pairs))


def yaml_value(value: Any) -> str:
    """Return any value of a record on one line: a text, or lists and mappings of texts."""
    if isinstance(value, dict):
        pairs = (f"{yaml_scalar(key)}: {yaml_value(item)}" for key, item in value.items())
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(yaml_value, value)) + "]"
    return yaml_scalar(value) if value is not None else ""
