"""What looks odd is said at once, with the slip that would explain it, and nothing else is."""

import datetime
from collections.abc import Mapping, Sequence
from fractions import Fraction

import pytest
from scipy import stats

from blankbook.entry.round.expected_lengths import (
    EarlierReadings,
    Target,
    chart_to_expect,
    expected_length,
    reading_warnings,
    size_targets,
    targets_as_data,
)
from blankbook.records.lengths import FINEST_PARTS
from blankbook.words.points import usual_span
from made_blanks import blank, shop

SIZES = ("M", "L", "XL")


def inches(value: float) -> Fraction:
    """Return exact millimetres."""
    return Fraction(value) * Fraction(254, 10)


CHARTED = Target(inches(22), inches(0.5), {"M": inches(20), "XL": inches(24)}, step=inches(2))
BARE = Target(
    None, inches(0.5), {}, usual=inches(23.5), span=usual_span("half_chest", "adult"),
    step=inches(2),
)  # fmt: skip
OTHERS = {"body_length": inches(30), "sleeve_length": inches(9)}


def said(
    value: float,
    target: Target = CHARTED,
    read: Mapping[str, Sequence[float]] = {},
    unit: str = "in",
    point: str = "half_chest",
    size: str = "L",
    wide: bool = False,
) -> list[str]:
    """Return what is said of a reading in inches of an L, after others were *read*, by label."""
    by_size = {label: [inches(v) for v in read.get(label, ())] for label in SIZES}
    earlier = EarlierReadings(size, by_size, wide)
    found = reading_warnings(inches(value), point, target, earlier, OTHERS, unit)
    return [warning.says for warning in found]


@pytest.mark.parametrize("value", [21.5, 21.75, 22, 22.5])
def test_what_is_inside_the_tolerance_passes(value: float) -> None:
    """Nobody is asked about a good piece."""
    assert said(value) == []


CASES = [
    (23.0, "is this a 3 or a 2?"),
    (21.0, "is this a 1 or a 2?"),
    (24.0, "it measures as XL: look at the label"),
    (20.25, "it measures as M: look at the label"),
    (12.125, "is it 22 and not 12?"),
    (30.0, "it fits the body length: is this the right point?"),
    (22.625, "+5/8 in against the chart (22 in)"),
]


@pytest.mark.parametrize(("value", "words"), CASES)
def test_a_slip_is_named(value: float, words: str) -> None:
    """By how much it is off, and what would explain it."""
    found = said(value)
    assert words in found
    assert found[0].endswith("against the chart (22 in)")


TWICE = "twice the expected width of 22 in: measured all the way around? half of it is"


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (44, f"{TWICE} 22 in"),
        (43.5, f"{TWICE} 21 3/4 in"),
        (40, f"{TWICE} 20 in"),
        (48, f"{TWICE} 24 in"),
        (49, f"{TWICE} 24 1/2 in"),
        (51.5, "centimetres for inches? 51.5 cm is 20 1/4 in"),
        (56, "centimetres for inches? 56 cm is 22 1/16 in"),
    ],
)
def test_a_mistaken_scale_is_asked_about_in_its_own_words(value: float, words: str) -> None:
    """Twice the width is all around, and 2.54 times it is centimetres; 48 for 22 is the former."""
    assert said(value)[1:] == [words]


def test_only_widths_go_around() -> None:
    """A length of twice what is expected is just far off."""
    found = said(44, point="body_length")
    assert found[0] == "+22 in against the chart (22 in)"
    assert not any("around" in words for words in found)


def test_inches_on_a_tape_of_centimetres_are_seen() -> None:
    """22 typed for 56 is 22 in."""
    assert said(22 / 2.54, unit="cm")[1:] == ["inches for centimetres? 22 in is 55.9 cm"]


def test_a_first_wrong_reading_does_not_make_the_second_look_right() -> None:
    """A circumference that was kept for one piece is asked about again for the next, and a right
    reading beside it is not.
    """
    assert said(44, read={"L": [44]})[1:] == [f"{TWICE} 22 in"]
    assert said(22, read={"L": [44, 44]}) == []


def test_without_a_chart_the_letter_tells_a_circumference() -> None:
    """A half chest of an L is usually 23 1/2 in: (42 + 44) / 2 by A-A-55069, and 4 in of ease.

    It is known too roughly to ask about anything else.
    """
    assert said(44, BARE)[1:] == [
        "twice the expected width of 23 1/2 in: measured all the way around? half of it is 22 in"
    ]
    assert said(44, BARE, {"L": [44]})[0] == "+20 1/2 in against the usual L (23 1/2 in)"
    assert said(20, BARE) == said(27, BARE) == []


def test_without_a_chart_earlier_pieces_tell_the_rest() -> None:
    """First those of the same label, then those of the next with a step between."""
    assert said(23, BARE, {"L": [22, 22.125]})[0] == (
        "+15/16 in against the others of its label (22 1/16 in)"
    )
    assert said(22.25, BARE, {"L": [22, 22.125]}) == []
    assert said(26, BARE, {"M": [20]})[0] == "+4 in against M and the usual step (22 in)"
    assert said(24, BARE, {"M": [20]}) == []


SLEEVE = Target(
    None, inches(0.375), {}, span=usual_span("sleeve_length", "adult"), step=inches(0.5)
)


def test_a_first_reading_is_held_against_what_shirts_measure() -> None:
    """A sleeve of 21 3/4 in, where nothing else tells; not where it was confirmed before."""
    asked = "T-shirts measure between 4 in and 13 in there: is it right?"
    assert said(21.75, SLEEVE, point="sleeve_length") == [asked]
    assert said(8.5, SLEEVE, point="sleeve_length") == []
    assert said(21.75, SLEEVE, point="sleeve_length", wide=True) == []
    assert said(22, SLEEVE, {"L": [21.75]}, point="sleeve_length") == []


def test_a_size_as_wide_as_the_next_is_worth_a_word() -> None:
    """Equal, and the wrong way round; not where the chart says so itself."""
    unknown = Target(None, inches(0.5), {}, step=inches(2))
    read = {"M": [20, 20.25]}
    assert said(20.125, unknown, read) == ["as wide as M (20 1/8 in)"]
    assert said(20, unknown, read) == ["narrower than M (20 1/8 in)"]
    assert said(20.25, unknown, read) == []
    assert "as wide as XL (24 in)" in said(24, unknown, {"XL": [24]})
    assert "as long as M (29 in)" in said(29, unknown, {"M": [29]}, point="body_length")
    assert "longer than XL (29 in)" in said(30, unknown, {"XL": [29]}, point="body_length")
    shared = Target(inches(22), inches(0.5), {"XL": inches(22)})
    assert said(22, shared, {"XL": [22]}) == []
    assert said(9, SLEEVE, {"M": [9]}, point="sleeve_length") == []


def test_a_slip_is_looked_for_on_the_tape_that_is_read() -> None:
    """Two centimetres are a slip of a tape in centimetres, and of none in inches."""
    value = 22 + 2 / 2.54
    assert "is this a 7 or a 5?" in said(value, unit="cm")
    assert not any("is this a" in text for text in said(value + 0.7, unit="in"))
    near = Target(inches(28.25), inches(0.5), {})
    assert "is this a 9 or a 8?" in said(29, near), "three quarters of an inch are a whole one"


def test_digits_the_wrong_way_round_are_seen() -> None:
    """31 read for 13 (a child's chest), which fits better than 31 cm does."""
    target = Target(inches(13), inches(0.5), {})
    assert "is it 13 and not 31?" in said(31, target)


def test_what_is_expected_is_the_chart_before_earlier_pieces() -> None:
    """Without a chart it is the middle of the readings of its label, else nothing."""
    assert expected_length(CHARTED, [Fraction(500), Fraction(510)]) == inches(22)
    assert expected_length(BARE, [Fraction(500), Fraction(510), Fraction(900)]) == 510
    assert expected_length(BARE, []) is None


def test_chance_alone_is_not_asked_about() -> None:
    """From siblings, far is 99 % of what pieces of a label differ by, where that is more.

    The points of the normal distribution are those of scipy.stats; a median of one or two is a
    mean, whose variance is a share of one piece's.
    """
    policy = shop()
    style = blank(charts=()).style
    target = size_targets(style, None, policy, ["body_length"])["M"]["body_length"]
    parts = (policy.spread["body_length"].deviation, policy.repeatability.deviation)
    deviation = (sum(part**2 for part in parts) + policy.tape.reads_to.mm**2 / 12) ** 0.5
    for count in (1, 2):
        edge = float(stats.norm.ppf(0.995)) * deviation * (1 + 1 / count) ** 0.5
        assert edge > float(target.tolerance)
        earlier = EarlierReadings("M", {"M": [Fraction(750)] * count})
        for off, asked in ((edge - 0.01, False), (edge + 0.01, True)):
            length = 750 + Fraction(off)
            found = reading_warnings(length, "body_length", target, earlier, {}, "in")
            assert bool(found) == asked
    assert target.limit(0) == target.tolerance


def test_targets_are_the_charts_of_the_size_and_its_neighbours() -> None:
    """With the chart's own tolerance where it has one; the page gets the same as plain data."""
    style = blank().style
    chart = style.chart_on(datetime.date(2026, 11, 25))
    found = size_targets(style, chart, shop(), ["half_chest"])
    size = style.sizes[1]
    target = found[size]["half_chest"]
    assert chart
    assert target.charted == chart.sizes[size]["half_chest"].exact
    assert list(target.beside) == [style.sizes[0], style.sizes[2]]
    given = targets_as_data(found)[size]["half_chest"]
    assert given["charted"] == target.charted * FINEST_PARTS
    assert given["beside"] == [[s, mm * FINEST_PARTS] for s, mm in target.beside.items()]


def test_a_chart_that_came_later_still_shows_a_slip() -> None:
    """The chart that held on the day is taken where there is one, and none where there is none."""
    style = blank().style
    (chart,) = style.charts
    assert chart_to_expect(style, datetime.date(1999, 1, 1)) == chart
    assert chart_to_expect(style, datetime.date(2026, 11, 25)) == style.chart_on(
        datetime.date(2026, 11, 25)
    )
    assert chart_to_expect(blank(charts=()).style, None) is None
