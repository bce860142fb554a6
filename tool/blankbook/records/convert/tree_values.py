"""Lengths and amounts from a tree; a text that is none becomes a fault."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from blankbook.records.lengths import Length, LengthError, read_length
from blankbook.text.findings import Fault, ValuePath, visible
from blankbook.words.garment_terms import LOT_NOT_KNOWN
from blankbook.words.points import POINTS

Faults = list[Fault]
_STAND_IN = read_length("1", "mm")


def to_length(written: Any, unit: str, at: ValuePath, faults: Faults) -> Length:
    """Return a length above zero; after a fault a stand-in, as the record is then dropped."""
    try:
        found = read_length(str(written), unit)
    except LengthError as error:
        faults.append(Fault(at, "not-a-length", f"{_value_name(at)} {error}", error.instead))
        return _STAND_IN
    if not found.mm:
        message = f"{_value_name(at)} must be more than 0, found {written}"
        faults.append(Fault(at, "not-a-length", message, "write what the tape says"))
    return found


def to_amount(read: Callable[[str], float], written: Any, at: ValuePath, faults: Faults) -> float:
    """Return an amount; after a fault a stand-in, as the record is then dropped."""
    try:
        return read(str(written))
    except LengthError as error:
        faults.append(Fault(at, "not-an-amount", f"{_value_name(at)} {error}", error.instead))
        return 1.0


def _value_name(at: ValuePath) -> str:
    """Return what a person calls the value at *at*: the last key of the path."""
    return next((visible(step) for step in reversed(at) if isinstance(step, str)), "the value")


def to_lengths(
    tree: Mapping[str, Any], unit: str, at: ValuePath, faults: Faults
) -> dict[str, Length]:
    """Return one length for each key."""
    return {key: to_length(text, unit, (*at, key), faults) for key, text in tree.items()}


def to_repeats(written: Any, unit: str, at: ValuePath, faults: Faults) -> tuple[Length, ...]:
    """Return one reading, or the repeat readings of a list."""
    if isinstance(written, list):
        return tuple(
            to_length(text, unit, (*at, index), faults) for index, text in enumerate(written)
        )
    return (to_length(written, unit, at, faults),)


def to_readings(
    tree: Mapping[str, Any], unit: str, at: ValuePath, faults: Faults
) -> dict[str, tuple[Length, ...]]:
    """Return the readings of one stage by point of measure."""
    return {
        key: (type(written) is str and _faultless_reading(written, unit))
        or to_repeats(written, unit, (*at, key), faults)
        for key, written in tree.items()
        if key in POINTS
    }


@lru_cache(maxsize=65536)
def _faultless_reading(written: str, unit: str) -> tuple[Length, ...]:
    """Return a reading without a fault, else nothing: the same texts recur, so results are kept."""
    try:
        found = read_length(written, unit)
    except LengthError:
        return ()
    return (found,) if found.mm else ()


def to_lot(written: str, day: str) -> str:
    """Return a lot; one that is not known gets its day, so that no other day's is the same."""
    return f"{LOT_NOT_KNOWN} ({day})" if written.casefold() == LOT_NOT_KNOWN else written
