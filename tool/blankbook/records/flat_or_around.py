"""Whether widths are given flat or all the way around, as far as their size tells."""

from collections.abc import Mapping
from fractions import Fraction
from statistics import median

from blankbook.records.lengths import MM_PER_UNIT
from blankbook.words.body_sizes import BODY_SIZE_LISTS, letter_size

MAYBE_AROUND = ("half_chest", "hem_width", "sleeve_opening")
"""The points that are measured flat, and that some tables give all the way around.

The chest comes first, as the other two are compared with it.
"""
AROUND_FROM = Fraction(3, 4)
"""Times the wearer's chest, where half ends and whole begins: a half chest is 0.5 to 0.65 of it."""
WIDE = Fraction(23, 20)
"""Times the body length: a half chest is usually narrower than the garment is long; all the way
around, it is half as much again. A garment that is cut short and wide can be misjudged."""
NARROW = Fraction(7, 20)
"""Times the wearer's chest: no half chest is below it, so the unit must be wrong."""
OF_CHEST = {"hem_width": Fraction(3, 2), "sleeve_opening": Fraction(11, 20)}
"""Times the half chest: no flat width of a T-shirt is above it (common practice, no source)."""

LengthBySize = Mapping[str, Fraction]


def is_around(
    point: str, sizes: LengthBySize, half: LengthBySize, body: LengthBySize
) -> bool | None:
    """Say whether lengths by size are all the way around; None where their size does not tell.

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
    """Return the chest of the body that a letter size is meant for, in millimetres, or None."""
    for bodies in BODY_SIZE_LISTS:
        if span := bodies.chest.get(letter_size(size)):
            return Fraction(sum(span), 2) * MM_PER_UNIT[bodies.unit]
    return None


def usual_half_chest(size: str, wearer: str, ease: Fraction) -> Fraction | None:
    """Return the half chest that a letter size usually has, in millimetres, or None.

    Half of the chest that the letter is meant for and of *ease*, by which a shirt is wider around
    than its wearer. It is for adults: children's sizes are no letters of these lists.
    """
    chest = wearers_chest(size) if wearer == "adult" else None
    return (chest + ease) / 2 if chest else None
