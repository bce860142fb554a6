"""A record as single facts: what it says, apart from how it is written.

A length is its exact millimetres, so 22.5 in and 22 1/2 in are the same fact. The order of pieces
and charts is no fact.
"""

import dataclasses
import datetime
import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from blankbook.records.lengths import Length

FactPath = tuple[str, ...]
"""How a fact is reached: ``("charts", "2024-01-08", "sizes", "M", "half_chest")``."""

_ONLY_WRITTEN = {"source", "mass_written"}
"""Fields that say how or where something is written: the place in the file, the text of a mass."""
_UNIT_OF_LENGTHS = {"Chart", "Tape"}
"""Records whose ``unit`` only says how their lengths are written."""
_NAMED_BY = ("key", "since", "cycles", "file", "day")
"""Fields that tell the members of a list apart: the first that all of them have."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that a record says."""

    text: str
    """As it was written."""
    lengths: tuple[Fraction, ...] = ()
    """Exact millimetres, where it is a length or repeat readings."""

    @property
    def mm(self) -> Fraction | None:
        """The length, or the mean of the readings, in millimetres."""
        return sum(self.lengths, Fraction()) / len(self.lengths) if self.lengths else None

    def is_same_as(self, other: "Fact") -> bool:
        """Say whether both say the same."""
        return self.lengths == other.lengths if self.lengths else self.text == other.text


def record_facts(record: Any, apart_from: Any = None) -> dict[FactPath, Fact]:
    """Return everything that a record says, by its path.

    Parts that *apart_from* has as well, at the same path, are left out: nothing in them can differ.
    """
    return dict(_facts(record, (), apart_from))


def _facts(value: Any, path: FactPath, other: Any) -> Iterator[tuple[FactPath, Fact]]:
    if value is None or value in ("", ()) or value == other:
        return
    if isinstance(value, Length):
        yield path, Fact(_written(value), (value.exact,))
    elif isinstance(value, Mapping):
        known = other if isinstance(other, Mapping) else {}
        for key, inner in value.items():
            yield from _facts(inner, (*path, str(key)), known.get(key))
    elif isinstance(value, tuple):
        yield from _tuple_facts(value, path, other)
    elif dataclasses.is_dataclass(value):
        yield from _field_facts(value, path, other)
    else:
        yield path, Fact(_plain(value))


def _field_facts(value: Any, path: FactPath, other: Any) -> Iterator[tuple[FactPath, Fact]]:
    for name in _field_names(value.__class__):
        yield from _facts(getattr(value, name), (*path, name), getattr(other, name, None))


@functools.cache
def _field_names(kind: Any) -> tuple[str, ...]:
    """Return the fields of a kind of record that say something, apart from how it is written."""
    names = (field.name for field in dataclasses.fields(kind))
    written = {*_ONLY_WRITTEN, *(("unit",) if kind.__name__ in _UNIT_OF_LENGTHS else ())}
    return tuple(name for name in names if name not in written)


def _tuple_facts(
    members: tuple[Any, ...], path: FactPath, other: Any
) -> Iterator[tuple[FactPath, Fact]]:
    if all(isinstance(member, Length) for member in members):
        text = ", ".join(_written(reading) for reading in members)
        yield path, Fact(text, tuple(reading.exact for reading in members))
    elif all(dataclasses.is_dataclass(member) for member in members):
        known = _by_key(other)
        for key, member in zip(_keys(members), members, strict=True):
            yield from _facts(member, (*path, key), known.get(key))
    else:
        yield path, Fact(", ".join(_plain(member) for member in members))


def _by_key(members: Any) -> dict[str, Any]:
    """Return the members of a tuple of records by their keys; nothing of anything else."""
    if not isinstance(members, tuple) or not all(map(dataclasses.is_dataclass, members)):
        return {}
    return dict(zip(_keys(members), members, strict=True))


def _keys(members: tuple[Any, ...]) -> list[str]:
    """Return what tells the members apart: a field of theirs, or else their place."""
    name = next((n for n in _NAMED_BY if all(hasattr(member, n) for member in members)), "")
    keys = [str(getattr(member, name)) for member in members] if name else []
    return keys if len(set(keys)) == len(members) else [str(n + 1) for n in range(len(members))]


def _written(length: Length) -> str:
    """Return a length as it was written, with its unit."""
    text = length.written.strip()
    has_unit = text.endswith((*'"″”', "in", "inch", "inches", "cm", "mm"))
    return text if has_unit else f"{text} {length.unit}"


def _plain(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return value.isoformat() if isinstance(value, datetime.date) else str(value)
