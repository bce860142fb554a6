"""Variation between lots and within them, against certified and published values."""

import re
from collections.abc import Iterator
from fractions import Fraction
from importlib.resources import files
from statistics import fmean, stdev

import pytest
from scipy import stats

from blankbook.results.methods import variance_components
from published.variation.tables import half_last_digit, rows

pytestmark = pytest.mark.published

CERTIFIED = rows("strd_certified.csv")


def readings(name: str) -> list[list[str]]:
    """Return the groups of one NIST StRD set, as written, from the installed scipy."""
    path = files("scipy.stats") / "tests" / "data" / "nist_anova" / f"{name}.dat"
    if not path.is_file():
        pytest.skip(f"this scipy carries no {name}.dat")
    lines = path.read_text(encoding="utf-8").splitlines()
    span = re.search(r"Data\s+\(lines\s+(\d+)\s+to\s+(\d+)", "\n".join(lines))
    assert span
    groups: dict[str, list[str]] = {}
    for line in lines[int(span[1]) - 1 : int(span[2])]:
        group, value = line.split()
        groups.setdefault(group, []).append(value)
    return list(groups.values())


def dyestuff() -> list[list[float]]:
    """Return the six batches of Davies and Goldsmith 1972."""
    groups: dict[str, list[float]] = {}
    for row in rows("dyestuff.csv"):
        groups.setdefault(row["batch"], []).append(float(row["yield"]))
    return list(groups.values())


def numbers(found: variance_components.Analysis) -> Iterator[tuple[str, float]]:
    """Yield what an analysis found, by the column of the certified value."""
    yield "ss_between", found.between.squares
    yield "ms_between", found.between.mean_square
    yield "f", found.ratio
    yield "ss_within", found.within.squares
    yield "ms_within", found.within.mean_square
    yield "r_squared", found.explained
    yield "residual_sd", found.within.mean_square**0.5


class TestCertified:
    """NIST Statistical Reference Datasets, analysis of variance."""

    @pytest.mark.parametrize("row", CERTIFIED, ids=lambda row: row["dataset"])
    def test_fractions_reach_every_digit(self, row: dict[str, str]) -> None:
        """All eleven sets, every certified value to half its last digit.

        Digits as written become fractions, so even thirteen leading digits cost nothing.
        """
        groups = [[Fraction(value) for value in group] for group in readings(row["dataset"])]
        found = variance_components.analyse(groups)

        assert len(groups) == int(row["treatments"])
        assert {len(group) for group in groups} == {int(row["replicates"])}
        assert found.between.freedom == int(row["df_between"])
        assert found.within.freedom == int(row["df_within"])
        for column, ours in numbers(found):
            half = half_last_digit(row[column])
            assert ours == pytest.approx(float(row[column]), abs=half), column

    @pytest.mark.parametrize("row", CERTIFIED, ids=lambda row: row["dataset"])
    def test_floats_lose_no_more_than_the_readings_did(self, row: dict[str, str]) -> None:
        """F is off by no more than rounding the readings to floats can make it.

        A reading moves by at most e = 2^-53 of itself, so a sum of squares of N deviations with
        root mean square r moves by at most 2 e / r of itself (Cauchy and Schwarz); the arithmetic
        on N small numbers adds N 2^-52.
        """
        groups = [[float(value) for value in group] for group in readings(row["dataset"])]
        found = variance_components.analyse(groups)
        count = sum(len(group) for group in groups)
        step = 2**-53 * max(abs(value) for group in groups for value in group)
        roots = [(float(row[key]) / count) ** 0.5 for key in ("ss_between", "ss_within")]
        bound = sum(2 * step / root for root in roots) + count * 2**-52

        assert found.ratio == pytest.approx(float(row["f"]), rel=bound)

    def test_floats_cannot_reach_thirteen_leading_digits(self) -> None:
        """SmLs07: why fractions are offered at all."""
        written = readings("SmLs07")
        floats = variance_components.analyse(
            [[float(value) for value in group] for group in written]
        )
        exact = variance_components.analyse(
            [[Fraction(value) for value in group] for group in written]
        )

        assert exact.ratio == 21.0
        assert abs(floats.ratio - 21.0) > 1e-4


class TestDyestuff:
    """Davies and Goldsmith 1972, Statistical Methods in Research and Production."""

    def test_components(self) -> None:
        """The R package lme4 prints 1764.05 and, as a deviation, 49.51; it fits by REML."""
        found = variance_components.components(variance_components.analyse(dyestuff()))

        assert found.between == pytest.approx(1764.05, abs=0.005)
        assert found.deviations[1] == pytest.approx(49.51, abs=0.005)
        assert found.within == pytest.approx(2451.25, abs=0.005)
        assert found.share == pytest.approx(1764.05 / (1764.05 + 2451.25), abs=1e-9)
        assert not found.raised

    def test_mean_and_squares(self) -> None:
        """The mean is lme4's fixed effect; the squares were worked out from the table."""
        found = variance_components.analyse(dyestuff())

        assert (found.mean, found.size) == (1527.5, 5)
        assert found.between.squares == pytest.approx(56357.5, abs=0.05)
        assert found.within.squares == pytest.approx(58830, abs=0.5)

    def test_ratio_and_chance(self) -> None:
        """scipy.stats.f_oneway."""
        found = variance_components.analyse(dyestuff())
        theirs = stats.f_oneway(*dyestuff())

        assert found.ratio == pytest.approx(float(theirs.statistic), rel=1e-12)
        assert found.chance == pytest.approx(float(theirs.pvalue), rel=1e-9)

    def test_unequal_lots(self) -> None:
        """scipy.stats.f_oneway again, with readings left out."""
        fewer = [batch[: 1 + at % 5] for at, batch in enumerate(dyestuff())]
        found = variance_components.analyse(fewer)
        theirs = stats.f_oneway(*fewer)

        assert found.ratio == pytest.approx(float(theirs.statistic), rel=1e-12)
        assert found.chance == pytest.approx(float(theirs.pvalue), rel=1e-9)
        assert found.mean == pytest.approx(fmean(value for batch in fewer for value in batch))


class TestDays:
    """GUM (JCGM 100:2008) H.5: five readings a day of a voltage, on ten days."""

    days = tuple(
        variance_components.Summary(5, float(row["mean_uv_above_10v"]), float(row["deviation_uv"]))
        for row in rows("gum_h5.csv")
    )

    def test_mean_and_pooled_deviation(self) -> None:
        """Printed 10.000 097 V, 57 uV of the day means, 85 uV within days."""
        found = variance_components.analyse_summaries(self.days)

        assert found.mean == pytest.approx(97, abs=0.5)
        assert (found.between.mean_square / 5) ** 0.5 == pytest.approx(57, abs=0.5)
        assert found.within.mean_square**0.5 == pytest.approx(85, abs=0.5)
        assert (found.between.freedom, found.within.freedom) == (9, 40)

    def test_between_days(self) -> None:
        """43 uV between days and 18 uV for the mean (from memory).

        GUM's F of 2.25 (from memory) comes of the rounded 57 and 85; so it does here, and the
        unrounded one differs by what rounding to whole microvolts can do.
        """
        found = variance_components.analyse_summaries(self.days)
        rounded = 5 * 57**2 / 85**2

        assert variance_components.components(found).deviations[0] == pytest.approx(43, abs=0.5)
        assert (found.between.mean_square / 50) ** 0.5 == pytest.approx(18, abs=0.5)
        assert rounded == pytest.approx(2.25, abs=0.005)
        assert found.ratio == pytest.approx(rounded, rel=2 * (0.5 / 57 + 0.5 / 85))

    def test_critical_values(self) -> None:
        """Printed F(0.95; 9, 40) = 2.12, F(0.975; 9, 40) = 2.45 (from memory): ours is between."""
        chance = variance_components.analyse_summaries(self.days).chance

        assert stats.f.isf(0.05, 9, 40) == pytest.approx(2.12, abs=0.005)
        assert stats.f.isf(0.025, 9, 40) == pytest.approx(2.45, abs=0.005)
        assert 0.025 < chance < 0.05


@pytest.mark.parametrize("counts", [(5, 5, 5), (1, 2, 3), (1, 9), (2, 2, 7, 1, 4)])
def test_usual_size_is_what_the_squares_expect(counts: tuple[int, ...]) -> None:
    """By definition n0 makes E(SS between) = (k - 1) n0 for unit variance between lots.

    The squares of one lot moved by one, added over all lots, are that expectation.
    """
    expected = 0.0
    for moved in range(len(counts)):
        groups = [[float(at == moved)] * count for at, count in enumerate(counts)]
        expected += variance_components.analyse(groups).between.squares

    size = variance_components.analyse([[0.0] * count for count in counts]).size
    assert expected == pytest.approx((len(counts) - 1) * size)


def test_summaries_say_the_same_as_readings() -> None:
    """Count, mean and deviation of each lot hold all that the analysis needs."""
    batches = [batch[: 2 + at % 4] for at, batch in enumerate(dyestuff())]
    short = [variance_components.Summary(len(b), fmean(b), stdev(b)) for b in batches]
    whole, brief = (
        variance_components.analyse(batches),
        variance_components.analyse_summaries(short),
    )

    assert brief.ratio == pytest.approx(whole.ratio)
    assert (brief.mean, brief.size) == pytest.approx((whole.mean, whole.size))


def test_negative_estimate_is_zero_and_says_so() -> None:
    """Lots that agree better than chance would have it show no variance between them."""
    found = variance_components.components(
        variance_components.analyse([[1.0, 3.0], [3.0, 1.0], [0.0, 4.0]])
    )

    assert (found.between, found.share, found.raised) == (0.0, 0.0, True)


def test_lots_without_any_spread_inside() -> None:
    """A coarse tape can read every piece of a lot the same: F is infinite, p zero."""
    found = variance_components.analyse([[1.0, 1.0], [2.0, 2.0]])

    assert (found.ratio, found.chance) == (float("inf"), 0.0)
    assert variance_components.components(found).within == 0.0


@pytest.mark.parametrize("groups", [[], [[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], []]])
def test_nothing_to_compare(groups: list[list[float]]) -> None:
    """One lot, or one piece a lot, cannot tell lots from pieces."""
    with pytest.raises(ValueError, match="must be two lots or more"):
        variance_components.analyse(groups)
