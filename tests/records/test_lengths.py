"""Lengths: every text is a length or has words for why not; what is written comes back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.records.amounts import read_area, read_mass, read_mass_per_area
from blankbook.records.lengths import LengthError, in_centimetres, in_inches, read_length

UNITS = st.sampled_from(["in", "cm", "mm"])
NEAR_LENGTHS = st.text(alphabet='0123456789 /.-,½¼″"incm+e_', max_size=16)


def is_length_or_explained(written: str, unit: str) -> bool:
    """Read a text; it must be a length above or at zero, or have words."""
    try:
        length = read_length(written, unit)
    except LengthError as error:
        return bool(str(error) and error.instead and len(str(error)) < 200)
    return length.exact >= 0 and length.mm == float(length.exact) and length.written == written


@given(st.text(max_size=40) | NEAR_LENGTHS, UNITS)
def test_every_text_is_a_length_or_is_told_why_not(written: str, unit: str) -> None:
    """Nothing but a LengthError ever comes out."""
    assert is_length_or_explained(written, unit)


@pytest.mark.parametrize("under", [16, 32])
@pytest.mark.parametrize("spell", [
    "{w} {o}/{u}", "{w}-{o}/{u}", "{w}  {o}/{u}", "{w} {o}/{u} in", '{w} {o}/{u}"',
    "{w} {o}/{u}in", "{w} {o}/{u} inches", " {w} {o}/{u} ", "{w} {o}/{u}″",
])  # fmt: skip
def test_fractions_of_an_inch_are_exact_in_every_spelling(under: int, spell: str) -> None:
    """All n/16 and n/32 of 0 to 40 in; 1 in = 25.4 mm exactly (international yard, 1959)."""
    for whole in range(41):
        for over in range(1, under):
            written = spell.format(w=whole, o=over, u=under)
            exact = (whole + Fraction(over, under)) * Fraction(254, 10)
            assert read_length(written, "in").exact == exact


def test_inches_come_back_as_they_were_written() -> None:
    """Every sixteenth up to 60 in is written and read again without change."""
    for count in range(1, 60 * 16):
        mm = float(Fraction(count, 16) * Fraction(254, 10))
        assert read_length(in_inches(mm), "in").mm == mm


def test_centimetres_and_back_stay_within_a_32nd_of_an_inch() -> None:
    """A sixteenth said in centimetres with one decimal is the same sixteenth when read back."""
    for count in range(1, 60 * 16):
        mm = float(Fraction(count, 16) * Fraction(254, 10))
        back = read_length(f"{in_centimetres(mm)} cm", "in").mm
        assert abs(back - mm) <= 25.4 / 32
        assert in_inches(back) == in_inches(mm)


@given(st.integers(0, 9999), st.integers(0, 9999), UNITS)
def test_decimals_are_exact(whole: int, rest: int, unit: str) -> None:
    """Four decimals are kept as they stand, in every unit."""
    size = {"in": Fraction(254, 10), "cm": Fraction(10), "mm": Fraction(1)}[unit]
    written = f"{whole}.{rest:04}"
    assert read_length(written, unit).exact == Fraction(written) * size
    assert read_length(f"{written} {unit}", "mm").exact == Fraction(written) * size


@pytest.mark.parametrize(
    ("written", "unit", "said", "instead"),
    [
        ("22,5", "in", "must be written without a comma, found 22,5", "use a point: 22.5"),
        ("017", "in", "must not begin with a zero, found 017", "write 17"),
        ("22.5 1/2", "in", "must have decimals or a fraction, found both in 22.5 1/2",
         "write 22 1/8 or 22.125"),
        ("56 1/2", "cm", "must have decimals in cm, found the fraction 56 1/2",
         "write 56.2 cm, or say that it is in inches: 22 1/8 in"),
        ("22 1/3", "in", "must be in the parts that tapes are marked in, found 22 1/3",
         "use halves, 4ths, 8ths, 16ths or 32nds"),
        ("22 9/8", "in", "must have a fraction between 0 and 1, found 22 9/8", "write 22 1/8"),
        ("-22", "in", "must be more than 0, found -22", "write it without the minus sign"),
        ("2 ft", "in", "must be in inches, centimetres or millimetres, found 2 ft",
         "write inches: 22 1/8"),
        ("", "in", "must be a length, found nothing", "write 22 1/8, 22.125 or 56.2 cm"),
        ("wide", "in", "must be a length, found wide", "write 22 1/8, 22.125 or 56.2 cm"),
    ],
)  # fmt: skip
def test_the_words_say_what_to_write(written: str, unit: str, said: str, instead: str) -> None:
    """The message and the help, to the letter."""
    with pytest.raises(LengthError) as told:
        read_length(written, unit)
    assert (str(told.value), told.value.instead) == (said, instead)


@pytest.mark.published
@pytest.mark.parametrize(
    ("read", "written", "value"),
    [
        # NIST SP 811 (2008), appendix B.8: oz/yd2 to g/m2 is 33.905 75, oz to g 28.349 52,
        # in2 to mm2 645.16.
        (read_mass_per_area, "1 oz/yd2", 33.90575),
        (read_mass, "1 oz", 28.34952),
        (read_area, "1 in2", 645.16),
        (read_area, "100 cm2", 10000.0),
        (read_mass_per_area, "207 gsm", 207.0),
    ],
)
def test_amounts_are_converted_as_published(read: object, written: str, value: float) -> None:
    """Half of the last printed digit is the tolerance; factors quoted from memory."""
    assert callable(read)
    assert read(written) == pytest.approx(value, abs=5e-6, rel=2e-7)


@pytest.mark.parametrize("read", [read_area, read_mass, read_mass_per_area])
@given(st.text(max_size=30) | st.text(alphabet="0123456789. gozcmin2/", max_size=14))
def test_every_text_is_an_amount_or_is_told_why_not(read: object, written: str) -> None:
    """Nothing but a LengthError ever comes out, and no amount is zero."""
    assert callable(read)
    try:
        amount = read(written)
    except LengthError as error:
        amount = len(error.instead)
    assert amount > 0


def test_a_half_is_told_alike_however_it_came_about() -> None:
    """A difference of 4 9/32 in lies between two sixteenths: it goes to the even one, 4 1/4."""
    for whole in range(1, 40):
        other = read_length(f"{whole + 4} 9/32", "in").mm - read_length(str(whole), "in").mm
        assert in_inches(other) == "4 1/4"
        tenths = read_length(f"{whole + 4}.25", "cm").mm - read_length(str(whole), "cm").mm
        assert in_centimetres(tenths) == "4.2"
