"""What is simulated: the style and its chart, what is bought, and what is true of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from blankbook.records.model import shop_defaults
from blankbook.results.causes.likelihood import SIZE_SHARE
from blankbook.results.piece_spread import reading_uncertainty
from blankbook.words.points import INCH

SIZES = ("S", "M", "L", "XL", "2XL")
POINTS = ("half_chest", "body_length", "sleeve_length")
BASE = {"half_chest": 18.0, "body_length": 28.0, "sleeve_length": 8.0}
STEP = {"half_chest": 2.0, "body_length": 1.0, "sleeve_length": 0.5}
"""Inches: a chart of an adult tee in the usual grade (common practice, no source)."""
COLOURS = ("black", "white")
WASHED = ("half_chest", "body_length")
EIGHTH = Fraction(INCH, 8)
READING = reading_uncertainty(float(EIGHTH), shop_defaults.REPEATABILITY.deviation)
"""Millimetres: what tape and hand bring to one reading."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What is bought, and how its truth is drawn."""

    sizes: tuple[str, ...] = ("M", "L", "XL")
    each: int = 1
    """Pieces per size and colour."""
    colours: int = 1
    cause: str = ""
    """One of the causes; drawn by its weight where empty."""
    point: str = ""
    """With ``not_graded``: the point, drawn where empty."""
    whole_step: bool = False
    """With ``not_graded``: whether one of the two labels has exactly the other's measure."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What nobody but the simulator knows. Millimetres and percent."""

    cause: str
    detail: str
    """The piece, the pair, or the direction."""
    means: Mapping[tuple[str, str], float]
    """By size label and point: the mean of pieces with that label in this lot."""
    changes: Mapping[str, float]
    """By point: the mean change after washing, percent."""
    really: Mapping[str, str]
    """By piece: its true size, "" for none."""
    deviations: Mapping[str, float]
    """By point: the true spread of single readings of single pieces."""


def charted(size: str, point: str) -> float:
    """Return the charted length in millimetres."""
    return (BASE[point] + STEP[point] * SIZES.index(size)) * float(INCH)


def cut_spread(point: str) -> float:
    """Return the standard deviation of a size's own cut about its chart."""
    return SIZE_SHARE * shop_defaults.TOLERANCE[point]


def lot_spread(point: str) -> float:
    """Return the standard deviation of what all sizes of a lot share."""
    return shop_defaults.LOT_SPREAD * shop_defaults.SPREAD[point].deviation
