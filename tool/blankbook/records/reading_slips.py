"""The slips that explain a reading which is not what it should be, the same through every door.

At the table, in a list, from a spreadsheet, on the phone and in the check: a width that was
measured all the way around, centimetres for inches, a whole inch too many, two digits exchanged,
another point's length. The page for the phone has the same rule in its own language, and a test
compares the two.
"""

from collections.abc import Mapping
from fractions import Fraction

from blankbook.records.flat_or_around import MAYBE_AROUND
from blankbook.records.lengths import CM_IN_INCH, MM_PER_UNIT, say_length
from blankbook.words.points import POINTS

AROUND, CENTIMETRES, INCHES = "around", "cm", "in"
OTHER_SCALE = Fraction(7, 5)
"""Times what is expected, near the root of 2: above, a reading is nearer to twice of it."""
AROUND_FROM = Fraction(8, 5)
"""Times the expected width: below, half of the reading would be off by more than two sizes."""
AROUND_UP_TO = Fraction(9, 4)
"""Times the expected width, between 2 and 2.54: above, centimetres are likelier."""
NEAR_OTHER_UNIT = Fraction(3, 20)
"""Share by which a ratio may differ from 2.54 and still be a mistaken unit: a size or two."""
NEAR_WHOLE = Fraction(1, 4)
"""Of an inch or a centimetre: how near to a whole number of them counts as a slip."""
MOST_WHOLES = 3
"""A whole inch or two too many is read off a tape; more is another slip."""


def is_other_scale(length: Fraction, expected: Fraction) -> bool:
    """Say whether a reading is too large or too small for any shirt of its size."""
    return length > expected * OTHER_SCALE or expected > length * OTHER_SCALE


def outside_span(length: Fraction, span: tuple[Fraction, Fraction]) -> bool:
    """Say whether a reading lies outside what T-shirts measure."""
    return not span[0] <= length <= span[1]


def say_outside_span(span: tuple[Fraction, Fraction], unit: str) -> str:
    """Return the words in which a reading outside of it is asked about."""
    between = " and ".join(say_length(float(end), unit) for end in span)
    return f"T-shirts measure between {between} there: is it right?"


def mistaken_scale(length: Fraction, expected: Fraction, point: str, unit: str) -> str:
    """Return `AROUND`, `CENTIMETRES` or `INCHES` where a reading looks like that, or nothing.

    Lengths are exact millimetres; *unit* is the tape's.
    """
    ratio = length / expected
    if point in MAYBE_AROUND and AROUND_FROM < ratio <= AROUND_UP_TO:
        return AROUND
    if unit == "in":
        return CENTIMETRES if abs(ratio / CM_IN_INCH - 1) <= NEAR_OTHER_UNIT else ""
    return INCHES if abs(ratio * CM_IN_INCH - 1) <= NEAR_OTHER_UNIT else ""


def say_mistaken_scale(slip: str, length: Fraction, expected: Fraction, unit: str) -> str:
    """Return the words in which a mistaken scale is asked about."""
    number = f"{float(length / MM_PER_UNIT[unit]):.8g}"
    shown = "in" if unit == "in" else "cm"
    if slip == AROUND:
        half = say_length(float(length / 2), shown)
        width = f"twice the expected width of {say_length(float(expected), shown)}"
        return f"{width}: measured all the way around? half of it is {half}"
    if slip == CENTIMETRES:
        meant = say_length(float(length / CM_IN_INCH), "in")
        return f"centimetres for inches? {number} cm is {meant}"
    meant = say_length(float(length * CM_IN_INCH), "cm")
    return f"inches for centimetres? {float(length / 10):.8g} in is {meant}"


def impossible_slip(length: Fraction, expected: Fraction | None, point: str, unit: str) -> str:
    """Return the slip that would explain a length that no garment has, as a question, or nothing.

    Where nothing is expected, the same number in the other unit explains it if a garment has that.
    """
    slip = mistaken_scale(length, expected, point, unit) if expected else ""
    meant = length / CM_IN_INCH if unit == "in" else length * CM_IN_INCH
    if not slip and POINTS[point].least <= meant <= POINTS[point].most:
        slip = CENTIMETRES if unit == "in" else INCHES
    return say_mistaken_scale(slip, length, expected or length, unit) if slip else ""


def reading_slip(
    length: Fraction,
    expected: Fraction,
    tolerance: Fraction,
    point: str,
    unit: str,
    others: Mapping[str, Fraction],
) -> str:
    """Return the slip that would explain a reading, as a question, or nothing.

    *others* are the expected lengths of other points of the same piece.
    """
    whole = MM_PER_UNIT["in" if unit == "in" else "cm"]
    read = int(length / whole)
    turned = int(str(read)[::-1])

    def fits(other: int) -> bool:
        return other != read and abs(length + (other - read) * whole - expected) <= tolerance

    if fits(turned):
        return f"is it {turned} and not {read}?"
    if slip := mistaken_scale(length, expected, point, unit):
        return say_mistaken_scale(slip, length, expected, unit)
    for count in range(1, MOST_WHOLES + 1):
        if abs(abs(length - expected) - count * whole) <= NEAR_WHOLE * whole:
            meant = read - count if length > expected else read + count
            return f"is this a {read % 10} or a {meant % 10}?"
    for other in (read + 10, read - 10, read + 20, read - 20):
        if other > 0 and fits(other):
            return f"is it {other} and not {read}?"
    for name, charted in others.items():
        if abs(length - charted) <= tolerance:
            return f"it fits the {POINTS[name].name}: is this the right point?"
    return ""
