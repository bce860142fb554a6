"""Lengths and amounts out of a tree: each with a fault where the text is none."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from blankbook.records.lengths import Length, LengthError, read_length
from blankbook.text.findings import Fault, ValuePath, visible
from blankbook.words.points import POINTS

Faults = list[Fault]
_NO_LENGTH = read_length("1", "mm")


def length(written: Any, unit: str, at: ValuePath, faults: Faults) -> Length:
    """Return a length above zero; a fault leaves a stand-in, and the record is dropped later."""
    try:
        found = read_length(str(written), unit)
    except LengthError as error:
        faults.append(Fault(at, "not-a-length", f"{_name(at)} {error}", error.instead))
        return _NO_LENGTH
    if not found.mm:
        message = f"{_name(at)} must be more than 0, found {written}"
        faults.append(Fault(at, "not-a-length", message, "write what the tape says"))
    return found


def amount(read: Callable[[str], float], written: Any, at: ValuePath, faults: Faults) -> float:
    """Return an amount; a fault leaves a stand-in, and the record is dropped later."""
    try:
        return read(str(written))
    except LengthError as error:
        faults.append(Fault(at, "not-an-amount", f"{_name(at)} {error}", error.instead))
        return 1.0


def _name(at: ValuePath) -> str:
    """Return what a person calls the value at *at*: the last key on the way to it."""
    return next((visible(step) for step in reversed(at) if isinstance(step, str)), "the value")


def lengths(tree: Mapping[str, Any], unit: str, at: ValuePath, faults: Faults) -> dict[str, Length]:
    """Return one length for each key."""
    return {key: length(text, unit, (*at, key), faults) for key, text in tree.items()}


def repeats(written: Any, unit: str, at: ValuePath, faults: Faults) -> tuple[Length, ...]:
    """Return one reading, or the repeat readings of a list."""
    if isinstance(written, list):
        return tuple(length(text, unit, (*at, index), faults) for index, text in enumerate(written))
    return (length(written, unit, at, faults),)


def readings(
    tree: Mapping[str, Any], unit: str, at: ValuePath, faults: Faults
) -> dict[str, tuple[Length, ...]]:
    """Return the readings of one stage by point of measure."""
    return {
        key: (type(written) is str and _plain(written, unit))
        or repeats(written, unit, (*at, key), faults)
        for key, written in tree.items()
        if key in POINTS
    }


@lru_cache(maxsize=65536)
def _plain(written: str, unit: str) -> tuple[Length, ...]:
    """Return a reading that nothing is wrong with; empty for the rest, which takes longer."""
    try:
        found = read_length(written, unit)
    except LengthError:
        return ()
    return (found,) if found.mm else ()
