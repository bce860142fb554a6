"""What looks odd is said at once, with the slip that would explain it, and nothing else is."""

import datetime

import pytest
from scipy import stats

from blankbook.entry.round.expected_lengths import (
    Target,
    chart_to_expect,
    expected_length,
    reading_warnings,
    size_targets,
    targets_as_data,
)
from made_blanks import blank, shop

TARGET = Target(22 * 25.4, 0.5 * 25.4, {"M": 20 * 25.4, "XL": 24 * 25.4})
OTHERS = {"body_length": 30 * 25.4, "sleeve_length": 9 * 25.4}


def warnings_for(inches: float, siblings: tuple[float, ...] = (), unit: str = "in") -> list[str]:
    """Return the warnings for a reading in inches at a chest that is charted at 22."""
    found = reading_warnings(
        inches * 25.4, TARGET, [sibling * 25.4 for sibling in siblings], OTHERS, unit
    )
    return [remark.says for remark in found]


@pytest.mark.parametrize("inches", [21.5, 21.75, 22, 22.5])
def test_what_is_inside_the_tolerance_passes(inches: float) -> None:
    """Nobody is asked about a good piece."""
    assert warnings_for(inches) == []


CASES = [
    (23.0, "is this a 3 or a 2?"),
    (21.0, "is this a 1 or a 2?"),
    (24.0, "it measures as XL: look at the label"),
    (20.25, "it measures as M: look at the label"),
    (56.0, "was the other side of the tape read, inches for centimetres?"),
    (30.0, "it fits the body length: is this the right point?"),
    (22.625, "+5/8 in against the chart (22 in)"),
]


@pytest.mark.parametrize(("inches", "words"), CASES)
def test_a_slip_is_named(inches: float, words: str) -> None:
    """By how much it is off, and what would explain it."""
    found = warnings_for(inches)
    assert words in found
    assert found[0].endswith("against the chart (22 in)")


def test_a_slip_is_looked_for_on_the_tape_that_is_read() -> None:
    """Two centimetres are a slip of a tape in centimetres, and of none in inches."""
    inches = 22 + 2 / 2.54
    assert "is this a 7 or a 5?" in warnings_for(inches, unit="cm")
    assert not any("is this a" in text for text in warnings_for(inches + 0.7, unit="in"))
    assert "is this a 9 or a 8?" in [
        remark.says
        for remark in reading_warnings(29 * 25.4, Target(28.25 * 25.4, 12.7, {}), [], {}, "in")
    ], "three quarters of an inch are within a quarter of a slip, whichever way a sum is rounded"


def test_digits_the_wrong_way_round_are_seen() -> None:
    """31 read for 13 (a child's chest)."""
    target = Target(13 * 25.4, 12.7, {})
    found = [remark.says for remark in reading_warnings(31 * 25.4, target, [], {}, "in")]
    assert "is it 13 and not 31?" in found


def test_siblings_say_more_than_the_chart() -> None:
    """Where two pieces of the label already read 23, a third is compared with them."""
    assert warnings_for(23.0, (23.0, 23.125)) == []
    assert warnings_for(22.0, (23.0, 23.125))[0].endswith(
        "against the others of its label (23 1/16 in)"
    )
    assert expected_length(TARGET, [500.0, 510.0, 900.0]) == 510.0
    assert expected_length(TARGET, []) == 22 * 25.4


def test_without_chart_and_siblings_nothing_is_said() -> None:
    """The first piece of a style that has no chart."""
    assert reading_warnings(900.0, Target(None, 12.7, {}), [], {}, "in") == []


def test_chance_alone_is_not_asked_about() -> None:
    """From siblings, far is 99 % of what pieces of a label differ by, where that is more.

    The points of the normal distribution are those of scipy.stats; a median of one or two is a
    mean, whose variance is a share of one piece's.
    """
    policy = shop()
    style = blank().style
    target = size_targets(style, None, policy, ["body_length"])["M"]["body_length"]
    parts = (policy.spread["body_length"].deviation, policy.repeatability.deviation)
    deviation = (sum(part**2 for part in parts) + policy.tape.reads_to.mm**2 / 12) ** 0.5
    for count in (1, 2):
        edge = float(stats.norm.ppf(0.995)) * deviation * (1 + 1 / count) ** 0.5
        assert edge > target.tolerance
        siblings = [750.0] * count
        assert reading_warnings(750.0 + edge - 0.01, target, siblings, {}, "in") == []
        assert reading_warnings(750.0 + edge + 0.01, target, siblings, {}, "in")
    assert target.limit(0) == target.tolerance


def test_targets_are_the_charts_of_the_size_and_its_neighbours() -> None:
    """With the chart's own tolerance where it has one; the page gets the same as plain data."""
    style = blank().style
    chart = style.chart_on(datetime.date(2026, 11, 25))
    found = size_targets(style, chart, shop(), ["half_chest"])
    size = style.sizes[1]
    target = found[size]["half_chest"]
    assert chart
    assert target.charted == chart.sizes[size]["half_chest"].mm
    assert list(target.beside) == [style.sizes[0], style.sizes[2]]
    given = targets_as_data(found)[size]["half_chest"]
    assert given["charted"] == target.charted
    assert given["beside"] == [*target.beside.items()]


def test_a_chart_that_came_later_still_shows_a_slip() -> None:
    """The chart that held on the day is taken where there is one, and none where there is none."""
    style = blank().style
    (chart,) = style.charts
    assert chart_to_expect(style, datetime.date(1999, 1, 1)) == chart
    assert chart_to_expect(style, datetime.date(2026, 11, 25)) == style.chart_on(
        datetime.date(2026, 11, 25)
    )
    assert chart_to_expect(blank(charts=()).style, None) is None
