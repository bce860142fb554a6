"""The chest of the body that a letter size is meant for, as published lists give it."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BodySizes:
    """One published list of adult letter sizes."""

    key: str
    title: str
    unit: str
    """``in`` or ``cm``."""
    chest: Mapping[str, tuple[int, int]]
    """By letter: from and to, in the list's own unit."""


BODY_SIZE_LISTS: tuple[BodySizes, ...] = (
    BodySizes(
        "a_a_55069",
        "A-A-55069",
        "in",
        {
            "XS": (30, 32),
            "S": (34, 36),
            "M": (38, 40),
            "L": (42, 44),
            "XL": (46, 48),
            "XXL": (50, 52),
        },
    ),
    BodySizes(
        "en_13402_3",
        "EN 13402-3, men",
        "cm",
        {"S": (86, 94), "M": (94, 102), "L": (102, 110)},
    ),
)
"""A-A-55069: United States commercial item description, T-shirt, 17 June 1992, page 1, as read in a
stored copy. EN 13402-3:2004, men's chest: from memory, and seen in one third party's copy for
these three letters; the standard itself was not read, and its other letters are left out."""


def letter_size(label: str) -> str:
    """Return a size label as the lists write it.

    >>> letter_size("2XL"), letter_size("m"), letter_size("9-11")
    ('XXL', 'M', '9-11')
    """
    return {"2XL": "XXL", "2XS": "XXS"}.get(label.upper(), label.upper())
