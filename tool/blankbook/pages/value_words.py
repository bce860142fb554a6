"""Values as a page writes them: lengths, shares, limits and answers, as short as they can be."""

import re

from blankbook.pages.page_types import AnswerSign
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.results.number_words import say_chance, say_counted, say_percent
from blankbook.results.result_types import Number, Result
from blankbook.words.answers import SIGNS
from blankbook.words.decoration_methods import METHODS
from blankbook.words.grade_scales import (
    AFTER_WASHING,
    FRESH_PRINT,
    WASHED_PRINT,
    WEAR,
    WORKMANSHIP,
    nearest_grade,
)
from blankbook.words.points import POINTS

DASH = "–"
"""What stands where nothing was measured; words beside it say so."""


_APART = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|cm|mm|g/m2|oz/yd2|%|°)(?![a-z]))")


def unbroken(words: str) -> str:
    """Return a sentence in which no line breaks inside a number, or between it and its unit.

    >>> unbroken("1 15/16 in under, 5.0 %").count(" ")
    2
    """
    return _APART.sub("\N{NO-BREAK SPACE}", words)


def length_text(mm: float, unit: str) -> str:
    """Return a length without its unit, which the column's head names."""
    return in_inches(mm) if unit == "in" else in_centimetres(mm)


def change_text(mm: float, unit: str) -> str:
    """Return a signed difference without its unit."""
    text = length_text(mm, unit)
    return text if text.startswith("-") or text in {"0", "0.0"} else f"+{text}"


def unit_name(unit: str) -> str:
    """Return what a column of lengths says over it."""
    return "in" if unit == "in" else "cm"


def unit_words(unit: str) -> str:
    """Return the unit of lengths as a sentence names it."""
    return "inches" if unit == "in" else "centimetres"


def point_name(key: str) -> str:
    """Return the name of a point of measure."""
    return POINTS[key].name if key in POINTS else key


def part_name(result: Result) -> str:
    """Return what was graded."""
    parts = {**AFTER_WASHING, **FRESH_PRINT, **WASHED_PRINT, **WORKMANSHIP, **WEAR}
    return parts[result.part].title if result.part in parts else result.part


def decoration_name(result: Result) -> str:
    """Return how a piece was decorated, and with what."""
    method = METHODS[result.method].title if result.method in METHODS else result.method
    return f"{method}: {result.material}" if result.material else method


def sign_of(word: str) -> AnswerSign:
    """Return an answer or an advice with its shape and a class for its colour."""
    sign = SIGNS.get(word)
    return AnswerSign(str(word), sign.shape if sign else "", str(word).replace(" ", "-"))


def number_text(value: Number | None, unit: str, *, signed_length: bool = False) -> str:
    """Return a result's number in the shop's unit, or a dash."""
    if value is None:
        return DASH
    return _number_in_unit(value.value, value.unit, unit, signed_length)


def whole_percent(value: float) -> str:
    """Return a share in percent.

    >>> whole_percent(0.05)
    '5 %'
    """
    return f"{100 * value:.0f} %"


def share_text(value: Number | None) -> str:
    """Return a share of pieces in percent; it is a prediction, so never rounded to none or all."""
    if value is None:
        return DASH
    if not 0.01 <= value.value <= 0.99:
        return "under 1 %" if value.value < 0.5 else "over 99 %"
    return whole_percent(value.value)


def limits_text(value: Number | None, unit: str, *, signed_length: bool = False) -> str:
    """Return the limits of a number, low to high."""
    if value is None or value.low is None or value.high is None:
        return DASH
    low = _number_in_unit(value.low, value.unit, unit, signed_length)
    high = _number_in_unit(value.high, value.unit, unit, signed_length)
    return f"{low} to {high}"


def _number_in_unit(value: float, kind: str, unit: str, signed_length: bool) -> str:
    if kind == "mm":
        return change_text(value, unit) if signed_length else length_text(value, unit)
    if kind == "%":
        return say_percent(value, signed=signed_length).removesuffix(" %")
    if kind == "chance":
        return say_chance(value)
    if kind == "share":
        return whole_percent(value)
    if kind == "grade":
        return (
            nearest_grade(value)
            if value * 2 == int(value * 2) and not signed_length
            else f"{value:.2f}"
        )
    return f"{value:.0f}" if kind in {"pieces", "count", "g/m2"} else f"{value:.1f}"


def delivery_name(key: str) -> str:
    """Return the name of a delivery's file as words.

    >>> delivery_name("2026-05-19-spring-delivery"), delivery_name("2026-05-19-delivery")
    ('2026-05-19, spring', '2026-05-19')
    """
    day, word = key[:10], key[10:].removesuffix("delivery").strip("-")
    return ", ".join(part for part in (day, word.replace("-", " ")) if part)


def row_head(result: Result) -> str:
    """Return where a result applies, as the head of its row."""
    parts = [f"{result.size} to {result.next_size}" if result.next_size else result.size]
    parts.append(delivery_name(result.delivery))
    parts.append(result.piece)
    parts.append(point_name(result.point) if result.point else "")
    parts += [decoration_name(result), part_name(result)]
    if result.cycles:
        parts.append(say_counted(result.cycles, "wash"))
    return ", ".join(part for part in parts if part) or "the whole blank"
