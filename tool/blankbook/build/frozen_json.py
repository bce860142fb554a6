"""Frozen values as JSON, and back: a list of the class's name and what its fields hold."""

import types
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

Value = TypeVar("Value")
_Read = Callable[[Any], Any]


def as_list(value: Any) -> list[Any]:
    """Return a frozen value as a list: what `json.dumps` asks for where it meets one.

    Raises: TypeError, where it is none.
    """
    kind: Any = type(value)  # mypy does not take a class for hashable
    return [kind.__name__, *[getattr(value, name) for name in _field_names(kind)]]


def from_list(kind: type[Value], data: Any) -> Value:
    """Return the frozen value of class *kind* that `as_list` made *data* of, through JSON.

    Lists inside *data* are used up. Raises: ValueError, TypeError, where `as_list` did not.
    """
    wanted: Any = kind
    value: Value = _reader(wanted)(data)
    return value


@lru_cache(maxsize=256)
def _field_names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


@lru_cache(maxsize=256)
def _reader(kind: Any) -> _Read:
    """Return what reads a value of a type; most values are read as they are."""
    if is_dataclass(kind):
        return _class_reader(kind)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is tuple:
        return _each(_reader(arguments[0]))
    if origin is Mapping:
        return _by_key(_reader(arguments[1]))
    if origin in {Union, types.UnionType}:
        present = [each for each in arguments if each is not type(None)]
        return _optional(_reader(present[0]))
    return _as_it_is


def _class_reader(kind: Any) -> _Read:
    hints = get_type_hints(kind)
    readers = [_reader(hints[field.name]) for field in fields(kind)]
    name, count = kind.__name__, len(readers) + 1
    # Only what is no plain text or number is read: lists of a thousand blanks are read every time.
    nested = [(place, read) for place, read in enumerate(readers, 1) if read is not _as_it_is]

    def read(data: Any) -> Any:
        if len(data) != count or data[0] != name:
            raise ValueError(f"not a {name}")
        for place, each in nested:
            data[place] = each(data[place])
        return kind(*data[1:])

    return read


def _each(read: _Read) -> _Read:
    return tuple if read is _as_it_is else lambda data: tuple(map(read, data))


def _by_key(read: _Read) -> _Read:
    return lambda data: {key: read(value) for key, value in data.items()}


def _optional(read: _Read) -> _Read:
    return read if read is _as_it_is else lambda data: None if data is None else read(data)


def _as_it_is(data: Any) -> Any:
    return data
