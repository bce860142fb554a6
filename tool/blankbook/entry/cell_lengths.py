"""The lengths in a cell of somebody's table, as a round's file with its tape holds them."""

import re
from fractions import Fraction

from blankbook.entry.keyed import written
from blankbook.records.lengths import UNITS, LengthError, read_length
from blankbook.records.model import Tape
from blankbook.words.points import POINTS

_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)\w*"
_DATE = re.compile(
    rf"\d{{4}}-\d\d-\d\d(?:[ T]00:00(?::00)?)?|\d{{1,2}}[-/ ]{_MONTH}|{_MONTH}[-/ ]\d{{1,2}}",
    re.IGNORECASE,
)


def lengths_in(text: str, point: str, tape: Tape, unit: str) -> list[str]:
    """Return the readings in a cell as a file with that tape holds them.

    Raises: LengthError.
    """
    if _DATE.fullmatch(text.strip()):
        message = f"is a day, found {text}"
        raise LengthError(message, "a spreadsheet makes days of fractions: type 22 1/8 as text")
    if text.startswith("="):
        raise LengthError(f"is a formula without a value, found {text}", "save the sheet once more")
    return [_length(part.strip(), point, tape, unit) for part in text.split(";") if part.strip()]


def _length(text: str, key: str, tape: Tape, unit: str) -> str:
    comma = re.fullmatch(r"(\d+),(\d{1,3})(\s*[a-z\"]*)", text)
    plain = f"{comma[1]}.{comma[2]}{comma[3]}" if comma else text
    length = read_length(plain, unit or tape.unit)
    point = POINTS[key]
    if not float(point.least) <= length.mm <= float(point.most):
        message = f"{point.name} must be between {float(point.least) / 25.4:g} and "
        raise LengthError(f"{message}{float(point.most) / 25.4:g} in, found {text}", "")
    if length.unit != tape.unit:
        return plain if plain[-1:].isalpha() else f"{plain} {length.unit}"
    return _on_tape(plain, length.exact / UNITS[tape.unit], tape)


def _on_tape(text: str, value: Fraction, tape: Tape) -> str:
    """Return a reading as written; one that a spreadsheet has rounded gets its mark back.

    22.13 is 22 1/8, rounded to two decimals; 22.1 is on no tape of eighths.
    """
    step = tape.reads_to.exact / UNITS[tape.unit]
    if (value / step).denominator == 1:
        return written(value, tape.unit)
    decimals = re.fullmatch(r"\d+\.(\d+)\D*", text)
    mark = round(value / step) * step
    last = len(decimals[1]) if decimals else 0
    if last >= 2 and abs(mark - value) * 2 <= Fraction(1, 10**last):
        return written(mark, tape.unit)
    near = written(mark, tape.unit)
    message = f"must be on a tape read to {tape.reads_to.written} {tape.unit}, found {text}"
    raise LengthError(message, f"the nearest mark is {near}; --tape says what was read with")
