"""Lengths: from the text that a person wrote to exact millimetres, and back.

Lengths are exact fractions. They are rounded once, where a person reads them.
An inch is 25.4 mm and a yard 0.9144 m, exactly (international yard and pound, 1959).
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from blankbook.words.points import INCH

MM_PER_UNIT: dict[str, Fraction] = {"in": INCH, "cm": Fraction(10), "mm": Fraction(1)}
"""Millimetres in one of each unit."""

CM_IN_INCH = Fraction(254, 100)
"""The ratio of a length in inches to the same number of centimetres."""
_INCH = float(INCH)
_SURE = 9
"""Decimals that a sum of lengths is rounded to before it is shown.

Without this, the rounding error of a sum decided whether 4 9/32 was shown as 4 1/4 or 4 5/16, and
terminal and page could differ.
"""

FINEST_PARTS = 200_000
"""Parts of a millimetre: half of the fourth decimal of an inch is a whole number of them, as is a
32nd of an inch.
The page for the phone counts in the same parts, so that both compare lengths exactly."""

DENOMINATORS = (2, 4, 8, 16, 32)
"""The fractions of an inch that tapes carry."""

_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_SUFFIXES = {
    "in": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in",
    "cm": "cm", "mm": "mm",
}  # fmt: skip
_SHAPE = re.compile(
    r"""(?: (?P<whole>[0-9]{1,4}) (?:\.(?P<decimals>[0-9]{1,4}))? )?
        (?: (?(whole) (?:[ ]+|-) ) (?P<over>[0-9]{1,3}) / (?P<under>[0-9]{1,3}) )?
        [ ]* (?P<unit>in|inch|inches|cm|mm|"|″|”)?""",
    re.VERBOSE,
)


_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")


class LengthError(ValueError):
    """The text is not a length; the message says what is wrong, ``instead`` what to write.

    Amounts and temperatures raise it too.
    """

    def __init__(self, wrong: str, instead: str) -> None:
        super().__init__(wrong)
        self.instead = instead


@dataclass(frozen=True, slots=True)
class Length:
    """A length, as it was written and in millimetres."""

    exact: Fraction
    """Millimetres, exact."""
    mm: float
    """Millimetres, for the numbers."""
    written: str
    """The text as it was written."""
    unit: str
    """The unit it was written in: ``in``, ``cm`` or ``mm``."""

    def as_unit(self, unit: str) -> Fraction:
        """Return the exact value in *unit*."""
        return self.exact / MM_PER_UNIT[unit]


@lru_cache(maxsize=65536)
def read_length(written: str, unit: str) -> Length:
    """Return the length that a text says; *unit* holds where the text names none.

    Units: *unit* is ``in``, ``cm`` or ``mm``; the result is in millimetres.
    Raises: LengthError, in words a person can act on.

    >>> read_length("22 1/8", "in").mm
    561.975
    >>> read_length("56.2 cm", "in").exact
    Fraction(562, 1)
    """
    text = _plain(written)
    shape = _SHAPE.fullmatch(text)
    if shape is None or (shape["whole"] is None and shape["over"] is None):
        raise _explain(written, text)
    stated = _SUFFIXES[shape["unit"]] if shape["unit"] else unit
    value = _value(shape, written, stated)
    exact = value * MM_PER_UNIT[stated]
    return Length(exact, float(exact), written, stated)


def with_decimal_point(typed: str) -> str:
    """Return what a person typed with a point for a decimal comma.

    A comma between digits means that and nothing else, where it is the only sign of its kind.

    >>> with_decimal_point("48,5 cm"), with_decimal_point("1,234.5")
    ('48.5 cm', '1,234.5')
    """
    found = _DECIMAL_COMMA.search(typed)
    alone = typed.count(",") == 1 and "." not in typed
    return typed.replace(",", ".") if found and alone else typed


def exact_length(mm: float) -> Fraction:
    """Return the exact length, in millimetres, of which *mm* is the float.

    It holds for every length that can be written, and for the middle of two: each is a whole
    number of `FINEST_PARTS` of a millimetre, and no float is further off than half of one.

    >>> exact_length(561.9750000001)
    Fraction(22479, 40)
    """
    return Fraction(round(mm * FINEST_PARTS), FINEST_PARTS)


def _plain(written: str) -> str:
    """Return a text trimmed, with one-character fractions spelled out."""
    text = written.strip()
    for vulgar, spelled in _VULGAR.items():
        text = text.replace(vulgar, " " + spelled)
    return text.strip()


def _value(shape: re.Match[str], written: str, unit: str) -> Fraction:
    """Return the number that the matched *shape* says, in its own unit."""
    whole = Fraction(f"{shape['whole'] or 0}.{shape['decimals'] or 0}")
    if shape["whole"] and len(shape["whole"]) > 1 and shape["whole"].startswith("0"):
        instead = f"write {written.strip().lstrip('0') or '0'}"
        raise LengthError(f"must not begin with a zero, found {_short(written)}", instead)
    if shape["over"] is None:
        return whole
    if shape["decimals"] is not None:
        message = f"must have decimals or a fraction, found both in {_short(written)}"
        raise LengthError(message, "write 22 1/8 or 22.125")
    return whole + _fraction(int(shape["over"]), int(shape["under"]), written, unit)


def _fraction(over: int, under: int, written: str, unit: str) -> Fraction:
    """Return a fraction of an inch that a tape is marked in. Raises: LengthError."""
    if unit != "in":
        message = f"must have decimals in {unit}, found the fraction {_short(written)}"
        raise LengthError(message, f"write 56.2 {unit}, or say that it is in inches: 22 1/8 in")
    if under not in DENOMINATORS:
        raise LengthError(
            f"must be in the parts that tapes are marked in, found {_short(written)}",
            "use halves, 4ths, 8ths, 16ths or 32nds",
        )
    if not 0 < over < under:
        message = f"must have a fraction between 0 and 1, found {_short(written)}"
        raise LengthError(message, "write 22 1/8")
    return Fraction(over, under)


def _explain(written: str, text: str) -> LengthError:
    """Return the error for a text that is no length, in words for the commonest slips."""
    found = _short(written)
    point = _short(text.replace(",", "."))
    if "," in text:
        instead = f"use a point: {point}" if _SHAPE.fullmatch(point) else "use a point: 22.5"
        return LengthError(f"must be written without a comma, found {found}", instead)
    if text.startswith(("-", "−")):
        return LengthError(f"must be more than 0, found {found}", "write it without the minus sign")
    if re.search(r"['′]|(?<![A-Za-z])(ft|feet)\b", text):
        message = f"must be in inches, centimetres or millimetres, found {found}"
        return LengthError(message, "write inches: 22 1/8")
    if odd := re.search(r"[^ -~″”]", text):
        message = f"must be written with plain characters, found U+{ord(odd[0]):04X} in {found}"
        return LengthError(message, "type it anew: 22 1/8")
    return LengthError(f"must be a length, found {found}", "write 22 1/8, 22.125 or 56.2 cm")


def _short(text: str) -> str:
    """Return text for a message: cut, and a word for nothing."""
    return (text if len(text) <= 40 else text[:39] + "…") if text.strip() else "nothing"


def in_inches(mm: float, parts: int = 16) -> str:
    """Return *mm* in inches with the nearest fraction in *parts* of an inch, reduced.

    A true half goes to the even count.

    >>> in_inches(561.975)
    '22 1/8'
    >>> in_inches(-12.7)
    '-1/2'
    """
    count = round(round(abs(mm) / _INCH * parts, _SURE))
    text = _fraction_text(count, parts)
    return f"-{text}" if mm < 0 and count else text


@lru_cache(maxsize=4096)
def _fraction_text(count: int, parts: int) -> str:
    """Return a count of *parts* of an inch as it is written; the same few recur, and are kept."""
    whole, rest = divmod(count, parts)
    fraction = Fraction(rest, parts)
    if not fraction:
        return f"{whole}"
    return f"{whole} {fraction}" if whole else f"{fraction}"


def in_centimetres(mm: float) -> str:
    """Return *mm* in centimetres with one decimal.

    >>> in_centimetres(561.975)
    '56.2'
    """
    text = f"{round(mm / 10, _SURE):.1f}"
    return "0.0" if text == "-0.0" else text


def say_length(mm: float, unit: str) -> str:
    """Return *mm* with its unit, as a person in a shop that works in *unit* would write it."""
    return f"{in_inches(mm)} in" if unit == "in" else f"{in_centimetres(mm)} cm"


def say_length_change(mm: float, unit: str) -> str:
    """Return *mm* as a difference, with its sign and unit."""
    text = say_length(mm, unit)
    return text if text.startswith(("-", "0 ", "0.0")) else "+" + text
