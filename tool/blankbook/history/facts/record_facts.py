"""A record as single facts: what it says, apart from how it is written.

Lengths are their exact millimetres, so that 22.5 and 22 1/2 in are one fact; the order of pieces
and charts is none.
"""

import dataclasses
import datetime
import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from blankbook.records.lengths import Length

Way = tuple[str, ...]
"""How a fact is reached: ``("charts", "2024-01-08", "sizes", "M", "half_chest")``."""

_ONLY_WRITTEN = {"source", "mass_written"}
_UNIT_OF_LENGTHS = {"Chart", "Tape"}
_NAMED_BY = ("key", "since", "cycles", "file", "day")


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

    def means(self, other: "Fact") -> bool:
        """Say whether both say the same."""
        return self.lengths == other.lengths if self.lengths else self.text == other.text


def facts(record: Any, apart_from: Any = None) -> dict[Way, Fact]:
    """Return everything that a record says, by the way to it.

    With another record, parts that are equal in both, and stand at the same place, are left out:
    nothing in them can differ.
    """
    return dict(_of(record, (), apart_from))


def _of(value: Any, way: Way, other: Any) -> Iterator[tuple[Way, Fact]]:
    if value is None or value in ("", ()) or value == other:
        return
    if isinstance(value, Length):
        yield way, Fact(_written(value), (value.exact,))
    elif isinstance(value, Mapping):
        known = other if isinstance(other, Mapping) else {}
        for key, inner in value.items():
            yield from _of(inner, (*way, str(key)), known.get(key))
    elif isinstance(value, tuple):
        yield from _of_many(value, way, other)
    elif dataclasses.is_dataclass(value):
        yield from _of_parts(value, way, other)
    else:
        yield way, Fact(_plain(value))


def _of_parts(value: Any, way: Way, other: Any) -> Iterator[tuple[Way, Fact]]:
    for name in _parts(value.__class__):
        yield from _of(getattr(value, name), (*way, name), getattr(other, name, None))


@functools.cache
def _parts(kind: Any) -> tuple[str, ...]:
    """Return the parts of a record that say something, apart from how it is written."""
    names = (part.name for part in dataclasses.fields(kind))
    written = {*_ONLY_WRITTEN, *(("unit",) if kind.__name__ in _UNIT_OF_LENGTHS else ())}
    return tuple(name for name in names if name not in written)


def _of_many(many: tuple[Any, ...], way: Way, other: Any) -> Iterator[tuple[Way, Fact]]:
    if all(isinstance(one, Length) for one in many):
        text = ", ".join(_written(one) for one in many)
        yield way, Fact(text, tuple(one.exact for one in many))
    elif all(dataclasses.is_dataclass(one) for one in many):
        known = _by_key(other)
        for key, one in zip(_keys(many), many, strict=True):
            yield from _of(one, (*way, key), known.get(key))
    else:
        yield way, Fact(", ".join(_plain(one) for one in many))


def _by_key(many: Any) -> dict[str, Any]:
    """Return the members of a tuple of records by what tells them apart."""
    if not isinstance(many, tuple) or not all(dataclasses.is_dataclass(one) for one in many):
        return {}
    return dict(zip(_keys(many), many, strict=True))


def _keys(many: tuple[Any, ...]) -> list[str]:
    """Return what tells the members apart: their own name, else their place."""
    name = next((n for n in _NAMED_BY if all(hasattr(one, n) for one in many)), "")
    keys = [str(getattr(one, name)) for one in many] if name else []
    return keys if len(set(keys)) == len(many) else [str(n + 1) for n in range(len(many))]


def _written(one: Length) -> str:
    text = one.written.strip()
    return (
        text
        if text.endswith((*'"″”', "in", "inch", "inches", "cm", "mm"))
        else (f"{text} {one.unit}")
    )


def _plain(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return value.isoformat() if isinstance(value, datetime.date) else str(value)
