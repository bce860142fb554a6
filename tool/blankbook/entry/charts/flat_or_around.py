"""Whether a chart gives widths flat or all the way around, as far as its numbers tell."""

from collections.abc import Mapping
from fractions import Fraction
from statistics import median

from blankbook.records.lengths import UNITS
from blankbook.words.body_sizes import BODY_SIZE_LISTS, letter_size

MAYBE_AROUND = ("half_chest", "hem_width", "sleeve_opening")
"""The points that are laid flat, and that some charts give all the way around."""
AROUND_FROM = Fraction(3, 4)
"""Between half and the whole of the wearer's chest; a garment's half chest is 0.5 to 0.65 of it."""
WIDE = Fraction(23, 20)
"""Of the body length: a half chest is narrower than the garment is long, as long as it is none
that is cut short and wide; all the way around it is half as much again."""
NARROW = Fraction(7, 20)
"""Of the wearer's chest: a half chest below it is no garment's, whatever its unit is said to be."""
OF_CHEST = {"hem_width": Fraction(3, 2), "sleeve_opening": Fraction(11, 20)}
"""Of the half chest: above it, a flat width would be no T-shirt's (common practice, no source)."""

LengthBySize = Mapping[str, Fraction]


def is_around(
    point: str, sizes: LengthBySize, half: LengthBySize, body: LengthBySize
) -> bool | None:
    """Say whether lengths by size are all the way around; None where the numbers do not tell.

    *half* is the half chest and *body* the body length, by size. Units: millimetres.
    Source: A-A-55069 for the chest that letters are meant for; the borders are common practice.
    """
    if point != "half_chest":
        found = [sizes[size] / half[size] for size in sizes if half.get(size)]
        return median(found) > OF_CHEST[point] if found else None
    found = [sizes[size] / chest for size in sizes if (chest := wearers_chest(size))]
    if found:
        return median(found) > AROUND_FROM
    found = [sizes[size] / body[size] for size in sizes if body.get(size)]
    return median(found) > WIDE if found else None


def wearers_chest(size: str) -> Fraction | None:
    """Return the chest that a letter is meant for, millimetres."""
    for bodies in BODY_SIZE_LISTS:
        if span := bodies.chest.get(letter_size(size)):
            return Fraction(sum(span), 2) * UNITS[bodies.unit]
    return None
