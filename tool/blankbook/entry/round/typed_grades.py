"""Grades and masses, as they are typed at the table."""

from blankbook.entry.round.stages import is_grade, reading_title
from blankbook.records.amounts import read_mass
from blankbook.records.lengths import LengthError, with_decimal_point


def read_typed_grade(key: str, text: str) -> str:
    """Return a grade; ``45``, ``4.5`` and ``4,5`` mean 4-5, as a row of digits has no hyphen.

    Raises: LengthError, in words a person can act on.
    """
    typed = text.strip()
    digits = typed.replace(".", "-").replace(",", "-").replace("/", "-")
    if len(digits) == 2 and digits.isdigit():
        digits = f"{digits[0]}-{digits[1]}"
    digits = {"1-5": "1-2", "2-5": "2-3", "3-5": "3-4"}.get(digits, digits)
    if not is_grade(digits):
        message = f"{reading_title(key)} must be a grade from 1 to 5, found {typed or 'nothing'}"
        raise LengthError(message, "write 4, or 45 for 4-5")
    return digits


def read_typed_mass(text: str) -> str:
    """Return a mass; a bare number is in grams, as scales for swatches show them.

    Raises: LengthError, in words a person can act on.
    """
    written = with_decimal_point(text.strip())
    if written[-1:].isdigit():
        written += " g"
    read_mass(written)
    return written
