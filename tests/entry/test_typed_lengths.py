"""What is typed in few keys is the length that was meant, or is asked about."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.round.typed_lengths import read_typed, value_text
from blankbook.records.lengths import LengthError, read_length
from blankbook.records.model import Tape
from blankbook.words.points import INCH, POINTS

EIGHTHS = Tape("in", read_length("1/8", "in"))
SIXTEENTHS = Tape("in", read_length("1/16", "in"))
MILLIMETRES = Tape("cm", read_length("0.1", "cm"))
HALVES = Tape("cm", read_length("0.5", "cm"))

READ = [
    ("22 1/8", EIGHTHS, "half_chest", "22 1/8"),
    ("22-1/8", EIGHTHS, "half_chest", "22 1/8"),
    ("22.1.8", EIGHTHS, "half_chest", "22 1/8"),
    ("22.125", EIGHTHS, "half_chest", "22 1/8"),
    ("22.", EIGHTHS, "half_chest", "22"),
    ("22+1", EIGHTHS, "half_chest", "22 1/8"),
    ("22 1", EIGHTHS, "half_chest", "22 1/8"),
    ("221", EIGHTHS, "half_chest", "22 1/8"),
    ("224", EIGHTHS, "half_chest", "22 1/2"),
    ("220", EIGHTHS, "half_chest", "22"),
    ("22", EIGHTHS, "half_chest", "22"),
    ("86", EIGHTHS, "sleeve_length", "8 3/4"),
    ("7", EIGHTHS, "rib_height", "7/8"),
    ("22½", EIGHTHS, "half_chest", "22 1/2"),
    ("2203", SIXTEENTHS, "half_chest", "22 3/16"),
    ("56.2 cm", EIGHTHS, "half_chest", "56.2 cm"),
    ("562", MILLIMETRES, "half_chest", "56.2"),
    ("56,2", MILLIMETRES, "half_chest", "56.2"),
    ("56,2 cm", EIGHTHS, "half_chest", "56.2 cm"),
    ("22,125", EIGHTHS, "half_chest", "22 1/8"),
    ("56.2", MILLIMETRES, "half_chest", "56.2"),
    ("565", HALVES, "half_chest", "56.5"),
    ("56", MILLIMETRES, "half_chest", "56"),
]


@pytest.mark.parametrize(("typed", "tape", "point", "means"), READ)
def test_a_form_means_what_it_says(typed: str, tape: Tape, point: str, means: str) -> None:
    """And the file gets the form that people read."""
    keyed = read_typed(typed, tape, point)
    assert keyed.written == means
    assert keyed.length == read_length(means, tape.unit).exact


REFUSED = [
    ("22.1", EIGHTHS, "half_chest", "must be on a tape read to 1/8 in"),
    ("22 1/16", EIGHTHS, "half_chest", "must be on a tape read to 1/8 in"),
    ("228", EIGHTHS, "half_chest", "must be between 6 and 45 in"),
    ("22+9", EIGHTHS, "half_chest", "must count fewer than 8 marks"),
    ("99", EIGHTHS, "half_chest", "must be between"),
    ("561", HALVES, "half_chest", "must be on a tape read to 0.5 cm"),
    ("0", EIGHTHS, "half_chest", "must be"),
    ("x", EIGHTHS, "half_chest", "must be a length"),
    ("2,2,5", EIGHTHS, "half_chest", "without a comma"),
    ("١٢", EIGHTHS, "half_chest", "must be written with plain"),
    ("22", EIGHTHS, "sleeve_length", "may mean 2 1/4 or 22"),
]


@pytest.mark.parametrize(("typed", "tape", "point", "words"), REFUSED)
def test_what_cannot_be_is_refused(typed: str, tape: Tape, point: str, words: str) -> None:
    """In words, and never guessed."""
    with pytest.raises(LengthError, match=words):
        read_typed(typed, tape, point)


def test_what_is_expected_settles_what_digits_leave_open() -> None:
    """10 at a sleeve of 9 in is 10, and 22 at a long one of 23 is 22: the other is far off."""
    assert read_typed("10", EIGHTHS, "sleeve_length", 9 * INCH).written == "10"
    assert read_typed("22", EIGHTHS, "sleeve_length", 23 * INCH).written == "22"
    assert read_typed("22", EIGHTHS, "sleeve_length", INCH * 5 / 2).written == "2 1/4"
    with pytest.raises(LengthError, match="may mean 2 1/4 or 22"):
        read_typed("22", EIGHTHS, "sleeve_length", INCH * 17 / 2)


TAPES = st.sampled_from((EIGHTHS, SIXTEENTHS, MILLIMETRES))


@given(TAPES, st.sampled_from(sorted(POINTS)), st.data())
def test_every_mark_of_a_tape_can_be_typed_and_read_back(
    tape: Tape, point: str, data: st.DataObject
) -> None:
    """Whatever a garment can measure: typed out, it is that mark; as a file, it is that length."""
    step = tape.reads_to.exact
    low, high = POINTS[point].least, POINTS[point].most
    count = data.draw(st.integers(-(-low // step), high // step))
    unit = Fraction(254, 10) if tape.unit == "in" else Fraction(10)
    text = value_text(count * step / unit, tape.unit)
    typed = f"{text} {tape.unit}" if data.draw(st.booleans()) else text
    keyed = read_typed(typed, tape, point, count * step)
    assert read_length(keyed.written, tape.unit).exact == count * step


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    """Nothing else ever comes out."""
    try:
        keyed = read_typed(text, EIGHTHS, "half_chest", Fraction(500))
    except LengthError:
        return
    assert POINTS["half_chest"].least <= keyed.length <= POINTS["half_chest"].most


def keys_for(value: Fraction) -> str:
    """Return the keys that a person presses for a reading in eighths, without Enter."""
    whole, marks = divmod(value * 8, 8)
    return f"{whole}{marks}" if marks else f"{whole}"


POINTS_OF_A_ROUND = {
    "half_chest": (18, 26),
    "body_length": (27, 33),
    "shoulder_width": (16, 22),
    "sleeve_length": (8, 10),
    "hem_width": (18, 26),
}
"""Inches: where readings of a usual shirt lie (common practice, no source)."""


def test_a_round_takes_hardly_more_keys_than_its_digits() -> None:
    """Twelve pieces by five points, each ended with Enter: at most 15 % more than the digits.

    Counted over every mark of a tape of eighths between the usual ends, each as likely as the next:
    the digits of `22 1/8` are four, the keys of `221` and Enter are four.
    """
    keys = digits = 0
    for point, (low, high) in POINTS_OF_A_ROUND.items():
        for count in range(low * 8, high * 8):
            value = Fraction(count, 8)
            typed, held = keys_for(value), value_text(value, "in")
            middle = Fraction(low + high, 2) * INCH
            assert read_typed(typed, EIGHTHS, point, middle).written == held
            keys += len(typed) + 1
            digits += sum(sign.isdigit() for sign in held)
    assert keys / digits <= 1.15
