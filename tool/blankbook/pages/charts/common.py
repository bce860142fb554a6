"""What every chart's data is made with."""

from typing import Any

from blankbook.pages.charts.labels import rounded, short
from blankbook.results.frame import Judged, Number, Result
from blankbook.words.answers import Answer

WIDTH = 360
"""Pixels: a phone's whole width."""
TITLE, PLOT, FOOT = 20, 66, 40
"""Pixels of a panel: its name, its marks, and the two lines of words below them."""
PANEL = TITLE + PLOT + FOOT

Data = dict[str, Any]


def path_of(judged: Judged, name: str) -> str:
    """Return where a blank's chart goes, relative to the site."""
    return f"charts/{judged.blank.style.key}/{name}.svg"


def unit_of(judged: Judged) -> str:
    """Return the shop's unit of length."""
    return judged.case.shop.unit


def with_limits(number: Number, digits: int = 2) -> Data:
    """Return a mean with its limits; the mean stands in for a limit that there is none of."""
    return {
        "mean": rounded(number.value, digits=digits),
        "low": rounded(number.low, number.value, digits),
        "high": rounded(number.high, number.value, digits),
    }


def is_outside(result: Result) -> bool:
    """Say whether the evidence shows it to be outside."""
    return result.answer == Answer.FAILS


def pieces_of(result: Result) -> int:
    """Return how many pieces a result rests on."""
    number = result.number("pieces")
    return round(number.value) if number else 0


def say_pieces(count: int) -> str:
    """Return a number of pieces in words."""
    return "1 piece" if count == 1 else f"{count} pieces"


def joined(labels: list[str]) -> str:
    """Return size labels side by side, as short as they must be."""
    return ", ".join(short(label) for label in labels)
