"""One cell of a size chart: a length, a range, a length with its tolerance, in any written form."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from blankbook.entry.charts.chart_headings import without_footnote
from blankbook.records.lengths import DENOMINATORS, MM_PER_UNIT, Length, LengthError, read_length

_NOTHING = {"", "-", "–", "—", "--", "n/a", "na", "n.a.", "none"}
_PLUS_MINUS = re.compile(r"±|\+\s*/?\s*[-–−]")
_UNIT = r"(?:in|inch|inches|cm|mm|\")"
_TWO_UNITS = re.compile(
    rf"(?P<first>[0-9][^()]*?{_UNIT})\s*[/|(,;=]\s*(?P<second>[0-9][^()]*?{_UNIT})\s*\)?"
)
_DASH = re.compile(r"\s*[-–—]\s*|\s+to\s+")
_SPELLINGS = (
    ("⁄", "/"), ("’’", '"'), ("''", '"'), ("″", '"'), ("”", '"'), ("“", '"'), ("´´", '"'),
    ("−", "-"), ("–", "-"), ("½", " 1/2"), ("¼", " 1/4"), ("¾", " 3/4"), ("⅛", " 1/8"),
    ("⅜", " 3/8"), ("⅝", " 5/8"), ("⅞", " 7/8"),
)  # fmt: skip
ROUNDING_DIFFERENCE = Fraction(41, 5)
"""Millimetres by which two statements of one length may differ, as a chart rounds both: half a
centimetre and an eighth of an inch."""


@dataclass(frozen=True, slots=True)
class CellValue:
    """What a cell says, in exact millimetres."""

    low: Fraction
    high: Fraction
    """The same as `low` where the cell is one length."""
    unit: str
    allowed: Fraction | None = None
    """The tolerance that stands beside the length."""

    @property
    def middle(self) -> Fraction:
        """The length, or the middle of the range."""
        return (self.low + self.high) / 2

    @property
    def half(self) -> Fraction:
        """How far the ends of the range lie from its middle."""
        return (self.high - self.low) / 2


def read_cell(text: str, unit: str) -> CellValue | None:
    """Return what a cell says, or None where it says nothing; *unit* holds where it names none.

    Raises: LengthError.
    """
    plain = without_footnote(text.strip())
    if plain.casefold() in _NOTHING:
        return None
    try:
        return _read_spelled(plain_spelling(plain), unit)
    except LengthError as error:  # quote the cell as it is written
        raise LengthError(str(error).replace(plain_spelling(plain), plain), error.instead) from None


def _read_spelled(plain: str, unit: str) -> CellValue:
    """Return what a text in plain characters says. Raises: LengthError."""
    if both := _TWO_UNITS.fullmatch(plain):
        return _same_in_two_units(both["first"], both["second"], unit)
    parts = _PLUS_MINUS.split(plain)
    if len(parts) == 2 and parts[0].strip():
        known = read_length(parts[1], unit)
        value = _one_or_range(parts[0], known.unit)
        return CellValue(value.low, value.high, value.unit, known.exact)
    return _one_or_range(plain, unit)


def read_tolerance(text: str, unit: str) -> CellValue | None:
    """Return a tolerance, with or without a sign before it. Raises: LengthError."""
    plain = re.sub(r"^\s*(?:±|\+\s*/?\s*[-–−]|[+−-])\s*(?=\d|[½¼¾⅛⅜⅝⅞])", "", text.strip())
    found = read_cell(plain, unit)
    if found and (found.half or found.allowed):
        raise LengthError(
            "must be one length for both directions", "write it with --tolerance POINT=1/2"
        )
    return found


def plain_spelling(text: str) -> str:
    """Return a length in plain characters: "22 1/2 inches", however it was typed."""
    text = text.casefold()
    for odd, plain in _SPELLINGS:
        text = text.replace(odd, plain)
    text = re.sub(r"\b(in|cm|mm)\.", r"\1", text)
    text = re.sub(r"\b(cm)s\b|\b(in)s\b", lambda found: found[1] or found[2], text)
    text = re.sub(r"(?<=\d),(?=\d{1,2}(?!\d))", ".", text)
    text = re.sub(r"\s*/\s*(?=\d)", "/", text)
    return " ".join(text.split())


def _one_or_range(text: str, unit: str) -> CellValue:
    """Return one length, or a range that can be read in one way only. Raises: LengthError."""
    try:
        read = read_length(text, unit)
    except LengthError as error:
        found = list(_ranges(text, unit))
        if len(found) == 1:
            return found[0]
        raise error from None
    return CellValue(read.exact, read.exact, read.unit)


def _ranges(text: str, unit: str) -> Iterator[CellValue]:
    """Yield each way to read a text as a range: ``17-1/2-18-1/2`` has several hyphens."""
    for dash in _DASH.finditer(text):
        try:
            high = read_length(text[dash.end() :], unit)
            low = read_length(text[: dash.start()], high.unit)
        except LengthError:
            continue
        if low.exact < high.exact:
            yield CellValue(low.exact, high.exact, high.unit)


def _same_in_two_units(first: str, second: str, unit: str) -> CellValue:
    """Return a length that is stated in two units: the one in *unit*. Raises: LengthError.

    The two must agree: otherwise nobody can tell which of them holds.
    """
    values = [_one_or_range(first, unit), _one_or_range(second, unit)]
    if abs(values[0].middle - values[1].middle) > ROUNDING_DIFFERENCE:
        raise LengthError(
            f"{first.strip()} and {second.strip()} are not the same", "keep the right one"
        )
    return next((value for value in values if value.unit == unit), values[0])


def length_in_unit(exact: Fraction, unit: str) -> str:
    """Return exact millimetres as a person writes them in *unit*, without the unit.

    >>> length_in_unit(Fraction("561.975"), "in"), length_in_unit(Fraction(562), "cm")
    ('22 1/8', '56.2')
    """
    value = exact / MM_PER_UNIT[unit]
    if unit == "in" and value.denominator in (1, *DENOMINATORS):
        whole, rest = divmod(value, 1)
        return f"{whole} {rest}" if whole and rest else str(value)
    return f"{float(value):.4f}".rstrip("0").rstrip(".")


def chart_length(exact: Fraction, unit: str, chart_unit: str) -> Length:
    """Return a length as it is written in a chart in *chart_unit*."""
    text = length_in_unit(exact, unit)
    return read_length(text if unit == chart_unit else f"{text} {unit}", chart_unit)
