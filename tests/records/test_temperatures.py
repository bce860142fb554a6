"""Temperatures, as people write them on a press."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.records.amounts import read_temperature
from blankbook.records.lengths import LengthError


@pytest.mark.published
@pytest.mark.parametrize(
    ("written", "celsius"),
    [
        ("32 F", 0.0),
        ("212 F", 100.0),
        ("-40 F", -40.0),
        ("320 F", 160.0),
        ("160 C", 160.0),
        ("160C", 160.0),
        ("165.5 °C", 165.5),
        ("320°F", 160.0),
        ("160 ℃", 160.0),
    ],
)
def test_scales_are_tied_by_their_fixed_points(written: str, celsius: float) -> None:
    """0 °C is 32 °F and 100 °C is 212 °F: NIST SP 811 (2008), appendix B.8, exact."""
    assert read_temperature(written) == celsius


@pytest.mark.parametrize("written", ["160", "160 degrees", "C", "", "1e2 C", "160 CF", "16O C"])
def test_unit_must_be_written(written: str) -> None:
    """A bare number is neither the one nor the other."""
    with pytest.raises(LengthError) as error:
        read_temperature(written)
    assert error.value.instead


@given(st.integers(-99, 999))
def test_both_scales_agree(degrees: int) -> None:
    """What is written in whole degrees Celsius is the same when written in Fahrenheit."""
    fahrenheit = degrees * 9 / 5 + 32
    assert read_temperature(f"{fahrenheit:.1f} F") == pytest.approx(degrees, abs=1e-9)
