"""Variation between lots and within them, against certified and published values."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files

import numpy as np
import pytest
from scipy import stats

from blankbook.results.causes.point_readings import Group, PointReadings
from blankbook.results.learning.left_over import left_over, lots_apart
from published.tables import rows

pytestmark = pytest.mark.published

CERTIFIED = rows("variation/strd_certified.csv")


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
    for row in rows("variation/dyestuff.csv"):
        groups.setdefault(row["batch"], []).append(float(row["yield"]))
    return list(groups.values())


@dataclass(frozen=True)
class Analysis:
    """What the core takes from the readings of lots: squares, and their degrees of freedom."""

    between: float
    between_freedom: float
    within: float
    within_freedom: float
    size: float

    @property
    def ratio(self) -> float:
        """F, the mean square between over the one within."""
        return self.between / self.between_freedom / (self.within / self.within_freedom)

    @property
    def variances(self) -> tuple[float, float]:
        """The variance between lots, and within them."""
        within = self.within / self.within_freedom
        return (self.between / self.between_freedom - within) / self.size, within


def readings_of(groups: Sequence[Sequence[float]]) -> PointReadings:
    """Return groups as the readings of lots of one size, as far as they lie from the first."""
    off = np.array([value - groups[0][0] for group in groups for value in group])
    lots = tuple(Group(f"{at}", "") for at, group in enumerate(groups) for _ in group)
    pieces = tuple(f"r/{at}" for at in range(len(off)))
    return PointReadings(
        "", pieces, ("M",) * len(off), lots, off, {"M": 0.0}, frozenset("M"), 1.0, ()
    )


def one_way(groups: Sequence[Sequence[float]]) -> Analysis:
    """Return the analysis of groups as lots of one size."""
    held = readings_of(groups)
    squares, freedom, factor = lots_apart(held, ())
    within = left_over(held, ())
    return Analysis(squares, freedom, within.squares, within.freedom, factor / freedom)


class TestCertified:
    """NIST Statistical Reference Datasets, analysis of variance."""

    @pytest.mark.parametrize("row", CERTIFIED, ids=lambda row: row["dataset"])
    def test_floats_lose_no_more_than_the_readings_did(self, row: dict[str, str]) -> None:
        """F is off by no more than rounding the readings to floats can make it.

        A reading moves by at most e = 2^-53 of itself, so a sum of squares of N deviations with
        root mean square r moves by at most 2 e / r of itself (Cauchy and Schwarz); the arithmetic
        on N small numbers adds N 2^-52.
        """
        groups = [[float(value) for value in group] for group in readings(row["dataset"])]
        found = one_way(groups)
        count = sum(len(group) for group in groups)
        step = 2**-53 * max(abs(value) for group in groups for value in group)
        roots = [(float(row[key]) / count) ** 0.5 for key in ("ss_between", "ss_within")]
        bound = sum(2 * step / root for root in roots) + count * 2**-52

        assert len(groups) == int(row["treatments"])
        assert {len(group) for group in groups} == {int(row["replicates"])}
        assert found.between_freedom == int(row["df_between"])
        assert found.within_freedom == int(row["df_within"])
        assert found.ratio == pytest.approx(float(row["f"]), rel=bound)
        assert found.between == pytest.approx(float(row["ss_between"]), rel=bound)
        assert found.within == pytest.approx(float(row["ss_within"]), rel=bound)


class TestDyestuff:
    """Davies and Goldsmith 1972, Statistical Methods in Research and Production."""

    def test_components(self) -> None:
        """The R package lme4 prints 1764.05 and, as a deviation, 49.51; it fits by REML."""
        between, within = one_way(dyestuff()).variances

        assert between == pytest.approx(1764.05, abs=0.005)
        assert within**0.5 == pytest.approx(49.51, abs=0.005)

    def test_squares(self) -> None:
        """Worked out from the table."""
        found = one_way(dyestuff())

        assert found.size == pytest.approx(5)
        assert found.between == pytest.approx(56357.5, abs=0.05)
        assert found.within == pytest.approx(58830, abs=0.5)

    @pytest.mark.parametrize("unequal", [False, True])
    def test_ratio(self, unequal: bool) -> None:
        """scipy.stats.f_oneway, with all readings and with some left out."""
        batches = dyestuff()
        if unequal:
            batches = [batch[: 1 + at % 5] for at, batch in enumerate(batches)]

        assert one_way(batches).ratio == pytest.approx(
            float(stats.f_oneway(*batches).statistic), rel=1e-12
        )


class TestDays:
    """GUM (JCGM 100:2008) H.5: five readings a day of a voltage, on ten days."""

    days = tuple(
        [
            float(row["mean_uv_above_10v"]) + float(row["deviation_uv"]) * part
            for part in (-(2**0.5), 0.0, 0.0, 0.0, 2**0.5)
        ]
        for row in rows("variation/gum_h5.csv")
    )
    """Five readings with the printed mean and deviation of each day; nothing else counts."""

    def test_pooled_deviation(self) -> None:
        """Printed 57 uV of the day means, 85 uV within days."""
        found = one_way(self.days)

        assert (found.between / 9 / 5) ** 0.5 == pytest.approx(57, abs=0.5)
        assert (found.within / 40) ** 0.5 == pytest.approx(85, abs=0.5)
        assert (found.between_freedom, found.within_freedom) == (9, 40)

    def test_between_days(self) -> None:
        """43 uV between days and 18 uV for the mean (from memory).

        GUM's F of 2.25 (from memory) comes of the rounded 57 and 85; so it does here, and the
        unrounded one differs by what rounding to whole microvolts can do.
        """
        found = one_way(self.days)
        rounded = 5 * 57**2 / 85**2

        assert found.variances[0] ** 0.5 == pytest.approx(43, abs=0.5)
        assert (found.between / 9 / 50) ** 0.5 == pytest.approx(18, abs=0.5)
        assert rounded == pytest.approx(2.25, abs=0.005)
        assert found.ratio == pytest.approx(rounded, rel=2 * (0.5 / 57 + 0.5 / 85))


@pytest.mark.parametrize("counts", [(5, 5, 5), (1, 2, 3), (1, 9), (2, 2, 7, 1, 4)])
def test_factor_is_what_the_squares_expect(counts: tuple[int, ...]) -> None:
    """The factor is the expected sum of squares for unit variance between lots.

    The squares of one lot moved by one, added over all lots, are that expectation.
    """
    expected = 0.0
    for moved in range(len(counts)):
        groups = [[float(at == moved)] * count for at, count in enumerate(counts)]
        expected += one_way(groups).between

    assert expected == pytest.approx(
        one_way([[0.0] * count for count in counts]).size * (len(counts) - 1)
    )


def test_one_lot_compares_nothing() -> None:
    assert lots_apart(readings_of([[1.0, 2.0]]), ()) == []
