"""Grades by eye and hand, decoration tests, and how far a body has twisted."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.records.lengths import Length


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade, as a number and as it was written."""

    value: float
    """5 is best, 1 is worst, in steps of a half."""
    written: str
    """Such as ``4-5``."""


Grades = Mapping[str, Grade]
"""By part: seams, collar, cracking."""


@dataclass(frozen=True, slots=True)
class Seam:
    """How far the side seam, or the fold that takes its place, has moved at the hem."""

    shift: float
    """Millimetres; 0 where it has not moved."""
    written: str
    towards: str = ""
    """``left`` or ``right`` of the wearer, where the front of the hem went; "" where not said."""
    length: Length | None = None
    """Of the side seam, from the hem to 1 in below the armhole."""


@dataclass(frozen=True, slots=True)
class Workmanship:
    """One piece, looked over as received."""

    grades: Grades
    note: str = ""


@dataclass(frozen=True, slots=True)
class Worn:
    """One piece, after somebody wore it."""

    days: int
    washes: int
    grades: Grades
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature, in degrees Celsius and as it was written."""

    celsius: float
    written: str


@dataclass(frozen=True, slots=True)
class Heat:
    """How a press or a dryer was set."""

    temperature: Temperature | None = None
    seconds: float | None = None
    pressure: str = ""
    """A key of `blankbook.words.decoration_methods.PRESSURES`."""


@dataclass(frozen=True, slots=True)
class WashedPrint:
    """A decorated piece after washing."""

    cycles: int
    grades: Grades
    note: str = ""


@dataclass(frozen=True, slots=True)
class Decorated:
    """One decoration test on one piece."""

    piece: str
    method: str
    """A key of `blankbook.words.decoration_methods.METHODS`."""
    material: str = ""
    """Ink, film or thread, in the shop's words."""
    press: Heat | None = None
    dryer: Heat | None = None
    result: Grades = field(default_factory=dict)
    """Once it was cold, before any wash."""
    washed: tuple[WashedPrint, ...] = ()
    """In order of their cycles."""
    note: str = ""
