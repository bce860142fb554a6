"""What is worth a second look in a size chart, and is true of many: said, never refused."""

from fractions import Fraction

import pytest

from blankbook.records.chart_remarks import chart_remarks
from blankbook.records.lengths import exact_length, read_length
from made_blanks import chart

SIZES = ("M", "L", "XL")


def remarks(chest: str, length: str = "28 29 30", tolerance: str = "") -> list[str]:
    """Return what is said of a chart with these lengths by size."""
    rows = zip(SIZES, chest.split(), length.split(), strict=True)
    found = chart({size: {"half_chest": a, "body_length": b} for size, a, b in rows})
    if tolerance:
        found.tolerance["half_chest"] = read_length(tolerance, "in")  # type: ignore[index]
    return list(chart_remarks(found, SIZES))


def test_a_chart_that_grows_is_passed_over() -> None:
    """Nothing is said of it."""
    assert remarks("20 22 24") == []


def test_sizes_that_share_a_width_or_a_length_are_named() -> None:
    """In the shop's words, with the length that both have."""
    assert remarks("20 22 22") == ["XL is no wider than L in the chart: both 22 in"]
    assert remarks("20 22 24", "28 28 29") == ["L is no longer than M in the chart: both 28 in"]


def test_a_size_that_shrinks_is_named() -> None:
    """By how much a larger size is smaller."""
    assert remarks("20 22 21") == ["half chest shrinks from L to XL in the chart: 22 in to 21 in"]


@pytest.mark.parametrize(("tolerance", "said"), [("1/2", False), ("1", True), ("1.5", True)])
def test_a_tolerance_as_large_as_the_step_is_explained(tolerance: str, said: bool) -> None:
    """A piece inside it can measure as the size beside it; that is what it means."""
    found = remarks("20 21 22", tolerance=tolerance)
    assert bool(found) == said
    if said:
        assert "a piece inside the tolerance can measure as the size beside it" in found[0]


def test_lengths_are_compared_as_they_are_written() -> None:
    """Whatever floats make of 21 in less 20 in, the step is 1 in."""
    low, high, allowed = (read_length(text, "in") for text in ("20", "21", "1"))
    assert high.mm - low.mm != allowed.mm
    assert high.exact - low.exact == allowed.exact


@pytest.mark.parametrize("text", ["22 1/8", "0.0001", "55.9 cm", "17/32", "999.9999 mm"])
def test_a_float_names_one_length(text: str) -> None:
    """Every length that can be written is a whole number of parts of a millimetre."""
    length = read_length(text, "in")
    assert exact_length(length.mm) == length.exact
    assert exact_length(length.mm + length.mm / 3 - length.mm / 3) == length.exact
    assert exact_length((length.mm + 1.0) / 2) == (length.exact + 1) / 2
    assert exact_length(0.5) == Fraction(1, 2)
