"""Mass per unit area, areas, masses and temperatures, from the text that a person wrote."""

import re
from fractions import Fraction

from blankbook.records.lengths import LengthError
from blankbook.words.points import INCH

GRAMS_PER_OUNCE = Fraction(45359237, 1600000)
"""Exact: a pound is 453.59237 g."""
OUNCE_PER_SQUARE_YARD = Fraction(5669904625, 167225472)
"""Grams per square metre, exact: an ounce over a square yard of 0.9144 m by 0.9144 m."""

_AMOUNT = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,4})?) *([A-Za-z/²0-9]+)")
_PER_AREA = {
    "g/m2": Fraction(1), "g/m²": Fraction(1), "gsm": Fraction(1),
    "oz/yd2": OUNCE_PER_SQUARE_YARD, "oz/yd²": OUNCE_PER_SQUARE_YARD,
}  # fmt: skip
_AREAS = {
    "cm2": Fraction(100), "cm²": Fraction(100), "mm2": Fraction(1), "mm²": Fraction(1),
    "in2": INCH * INCH, "in²": INCH * INCH,
}  # fmt: skip
_MASSES = {"g": Fraction(1), "oz": GRAMS_PER_OUNCE}


def read_mass_per_area(written: str) -> float:
    """Return g/m2 from text such as "6.1 oz/yd2" or "207 g/m2".

    Raises: LengthError.

    >>> round(read_mass_per_area("6.1 oz/yd2"), 4)
    206.8251
    """
    return _read_amount(written, _PER_AREA, "a mass per unit area", "write 6.1 oz/yd2 or 207 g/m2")


def read_area(written: str) -> float:
    """Return square millimetres from text such as "100 cm2".

    Raises: LengthError.
    """
    return _read_amount(written, _AREAS, "an area", "write 100 cm2 or 15.5 in2")


def read_mass(written: str) -> float:
    """Return grams from text such as "2.05 g".

    Raises: LengthError.
    """
    return _read_amount(written, _MASSES, "a mass", "write 2.05 g or 0.072 oz")


_TEMPERATURE = re.compile(r"(-?[0-9]{1,4}(?:\.[0-9]{1,2})?) *(°? *([CF]))?")


def read_temperature(written: str) -> float:
    """Return degrees Celsius from text such as "160 C" or "320 F".

    Source: 0 °C is 32 °F, and a degree Celsius is 1.8 degrees Fahrenheit, exactly.
    Raises: LengthError; a bare number is refused, as it may be either.

    >>> read_temperature("320 F"), read_temperature("165.5 °C")
    (160.0, 165.5)
    """
    text = written.strip().replace("℃", "C").replace("℉", "F")
    shape = _TEMPERATURE.fullmatch(text)
    if shape is None:
        message = f"must be a temperature, found {written[:40] or 'nothing'}"
        raise LengthError(message, "write 160 C or 320 F")
    if shape[3] is None:
        instead = f"write {shape[1]} C or {shape[1]} F"
        raise LengthError(f"must say C or F, found {written[:40]}", instead)
    value = Fraction(shape[1])
    return float(value if shape[3] == "C" else (value - 32) * Fraction(5, 9))


def _read_amount(written: str, units: dict[str, Fraction], what: str, instead: str) -> float:
    """Return an amount in the unit that *units* converts to. Raises: LengthError."""
    shape = _AMOUNT.fullmatch(written.strip())
    if shape is None or shape[2] not in units:
        raise LengthError(f"must be {what}, found {written[:40] or 'nothing'}", instead)
    value = Fraction(shape[1]) * units[shape[2]]
    if not value:
        raise LengthError(f"must be more than 0, found {written[:40]}", instead)
    return float(value)
