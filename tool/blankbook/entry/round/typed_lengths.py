"""Lengths as they are typed at the table, in few keys.

Besides every form that a file may hold (``22 1/8``, ``22-1/8``, ``22.125``, ``56.2 cm``), for one
hand on a row of digits:

``221``      on a tape of eighths, 22 1/8: the last digit counts the marks behind the whole
``22+1``     the same, and so is ``22 1``
``22.1.8``   the same, with the fraction spelled out
``22.``      22, where 22 alone might count marks
``562``      on a tape of millimetres, 56.2 cm
``56,2``     56.2

Digits alone may mean two lengths. One that no garment can have is left out. If two are left, the
one near the expected length is taken where the other is far from it; else the person must say.
"""

import re
from dataclasses import dataclass
from fractions import Fraction

from blankbook.records.lengths import (
    MM_PER_UNIT,
    LengthError,
    read_length,
    with_decimal_point,
)
from blankbook.records.model import Tape
from blankbook.records.reading_slips import impossible_slip
from blankbook.words.points import INCH, POINTS, SEAMS, Point, SeamLength

CLEARLY_FARTHER = 3
"""How many times as far from the expected length the other meaning must be."""
MOST_DIGITS = 8
"""More digits than any length has, with its marks."""
_MARKS = re.compile(r"(\d{1,3})[ +](\d{1,2})")
_SIDE = re.compile(r"(.*?) *(left|right|l|r)?", re.IGNORECASE | re.DOTALL)
_WHOLE = re.compile(r"(\d{1,3})\.")
_SPELLED = re.compile(r"(\d{0,3})\.(\d{1,2})\.(\d{1,2})")


@dataclass(frozen=True, slots=True)
class TypedLength:
    """A length that was typed, as the file will hold it."""

    written: str
    """Such as ``22 1/8``; with its unit where that is not the tape's."""
    length: Fraction
    """Exact millimetres."""


def read_typed(text: str, tape: Tape, point: str, expected: Fraction | None = None) -> TypedLength:
    """Return the length that was typed for *point*; *expected* is in millimetres.

    Raises: LengthError, in words a person can act on.
    """
    typed = with_decimal_point(text.strip())
    if typed.isascii() and typed.isdigit() and len(typed) <= MOST_DIGITS:
        return _read_digits(typed, tape, point, expected)
    if found := _MARKS.fullmatch(typed):
        value = _with_marks(int(found[1]), int(found[2]), tape, typed)
        return _typed_length(value, tape, point, expected)
    if found := _SPELLED.fullmatch(typed):
        whole, over, under = found[1], found[2], found[3]
        typed = f"{whole} {over}/{under}".strip()
    if found := _WHOLE.fullmatch(typed):
        typed = found[1]
    length = read_length(typed, tape.unit)
    if length.unit != tape.unit:
        return TypedLength(typed, _check_possible(length.exact, point, typed, tape, expected))
    return _typed_length(length.exact / MM_PER_UNIT[tape.unit], tape, point, expected, typed)


def read_typed_seam(key: str, text: str, tape: Tape) -> TypedLength:
    """Return the length of a side seam, or how far the seam has moved.

    An l or r behind a shift says to which side the front of the hem went.
    Raises: LengthError, in words a person can act on.
    """
    shape = _SIDE.fullmatch(text.strip())
    assert shape
    if key != "seam_shift" or not shape[2]:
        return read_typed(text, tape, key)
    keyed = read_typed(shape[1], tape, key)
    side = {"l": "left", "r": "right"}[shape[2][0].lower()]
    return TypedLength(f"{keyed.written} {side}", keyed.length)


def _bounds(point: str) -> Point | SeamLength:
    return POINTS[point] if point in POINTS else SEAMS[point]


def _read_digits(typed: str, tape: Tape, point: str, expected: Fraction | None) -> TypedLength:
    """Return the length that digits alone mean. Raises: LengthError where two are left."""
    found = {value for value in _meanings(typed, tape) if _fits(value, tape, point)}
    if not found:
        # No garment has either: the smaller one is refused, with the bounds in the message.
        value = min(_meanings(typed, tape), default=Fraction(int(typed)))
        return _typed_length(value, tape, point, expected)
    if len(found) > 1:
        found = _nearest(found, tape, expected)
    if len(found) > 1:
        both = " or ".join(value_text(value, tape.unit) for value in sorted(found))
        message = f"may mean {both}, found {typed}"
        raise LengthError(message, "write a + between the whole and the marks, or a point behind")
    return _typed_length(found.pop(), tape, point, expected)


def _meanings(typed: str, tape: Tape) -> set[Fraction]:
    """Return what digits alone may mean, in the tape's unit: a whole, or a whole and marks."""
    found = set() if len(typed) > 1 and typed[0] == "0" else {Fraction(int(typed))}
    width, parts = tape_marks(tape)
    if width:
        whole, marks = int(typed[:-width] or 0), int(typed[-width:])
        if marks < parts:
            found.add(whole + Fraction(marks, parts))
    return {value for value in found if value > 0}


def tape_marks(tape: Tape) -> tuple[int, int]:
    """Return how many digits count the marks of one unit, and how many marks one unit has."""
    step = tape.reads_to.exact / MM_PER_UNIT[tape.unit]
    if step >= 1:
        return 0, 1
    if tape.unit == "in":
        parts = step.denominator
        return len(str(parts - 1)), parts
    width = next((n for n in (1, 2) if (step * 10**n).denominator == 1), 0)
    return width, 10**width


def _with_marks(whole: int, marks: int, tape: Tape, typed: str) -> Fraction:
    width, parts = tape_marks(tape)
    if not width or marks >= parts:
        message = f"must count fewer than {parts} marks behind the whole, found {typed}"
        raise LengthError(message, "write 22 1/8")
    return whole + Fraction(marks, parts)


def _nearest(found: set[Fraction], tape: Tape, expected: Fraction | None) -> set[Fraction]:
    """Return the meaning near the expected length, or both where neither is clearly nearer."""
    if expected is None:
        return found
    wanted = expected / MM_PER_UNIT[tape.unit]
    near, far = sorted(found, key=lambda value: abs(value - wanted))
    clear = CLEARLY_FARTHER * abs(near - wanted) <= abs(far - wanted)
    return {near} if clear else found


def _fits(value: Fraction, tape: Tape, point: str) -> bool:
    exact = value * MM_PER_UNIT[tape.unit]
    return _bounds(point).least <= exact <= _bounds(point).most


def _typed_length(
    value: Fraction, tape: Tape, point: str, expected: Fraction | None, typed: str = ""
) -> TypedLength:
    """Return a value in the tape's unit, if it is on a mark and a garment can have it.

    Raises: LengthError.
    """
    step = tape.reads_to.exact / MM_PER_UNIT[tape.unit]
    text = typed or value_text(value, tape.unit)
    if (value / step).denominator != 1:
        below = value // step * step
        message = f"must be on a tape read to {tape.reads_to.written} {tape.unit}, found {text}"
        near = f"{value_text(below, tape.unit)} or {value_text(below + step, tape.unit)}"
        raise LengthError(message, f"the marks beside it are {near}")
    length = _check_possible(value * MM_PER_UNIT[tape.unit], point, text, tape, expected)
    return TypedLength(value_text(value, tape.unit), length)


def _check_possible(
    length: Fraction, point: str, text: str, tape: Tape, expected: Fraction | None
) -> Fraction:
    """Return a length that a garment can have. Raises: LengthError, with what it may be instead."""
    known = _bounds(point)
    if known.least <= length <= known.most:
        return length
    low, high = (float(end / INCH) for end in (known.least, known.most))
    message = f"{known.name} must be between {low:g} and {high:g} in, found {text}"
    slip = impossible_slip(length, expected, point, tape.unit) if point in POINTS else ""
    raise LengthError(message, slip or "look at the tape once more")


def value_text(value: Fraction, unit: str) -> str:
    """Return a value in its unit as a file holds it: ``22 1/8``, ``56.2``."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if unit == "in" and rest.denominator in {2, 4, 8, 16, 32}:
        return f"{whole} {rest}" if whole else str(rest)
    return f"{float(value):.6g}"
