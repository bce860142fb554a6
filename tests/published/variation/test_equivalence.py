"""Two one-sided tests, against published results and statsmodels."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev
from typing import Literal

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.weightstats import ttost_ind, ttost_paired

from blankbook.results.methods.equivalence import Comparison, MoveAnswer, compare_with_margin
from published.tables import rows

pytestmark = pytest.mark.published


def group(number: str, endpoint: str) -> list[float]:
    """Return the values of one group of the trial."""
    return [float(row[endpoint]) for row in rows("variation/clinic.csv") if row["group"] == number]


RISK = 0.05


@dataclass(frozen=True)
class Sample:
    """The summary of one round."""

    mean: float
    deviation: float
    count: int


def summary(values: Sequence[float]) -> Sample:
    """Return the summary of *values*."""
    return Sample(fmean(values), stdev(values), len(values))


def two_rounds(before: Sample, after: Sample, margin: float, *, pooled: bool = False) -> Comparison:
    """Compare two rounds of different pieces, by Welch 1947 or Student with a pooled deviation."""
    squares = [own.deviation**2 for own in (before, after)]
    counts = [own.count for own in (before, after)]
    parts = [square / count for square, count in zip(squares, counts, strict=True)]
    freedom = sum(parts) ** 2 / sum(p**2 / (n - 1) for p, n in zip(parts, counts, strict=True))
    error = sum(parts) ** 0.5
    if pooled:
        freedom = sum(counts) - 2
        within = sum(s * (n - 1) for s, n in zip(squares, counts, strict=True)) / freedom
        error = (within * sum(1 / count for count in counts)) ** 0.5
    return compare_with_margin(after.mean - before.mean, error, freedom, margin, RISK)


def one_round(found: Sample, target: float, margin: float) -> Comparison:
    """Compare one round with a fixed target."""
    error = found.deviation / found.count**0.5
    return compare_with_margin(found.mean - target, error, found.count - 1, margin, RISK)


def paired(before: Sequence[float], after: Sequence[float], margin: float) -> Comparison:
    """Compare two occasions of the same pieces, by the differences of each."""
    changes = [later - earlier for earlier, later in zip(before, after, strict=True)]
    return one_round(summary(changes), 0.0, margin)


class TestSummaries:
    """Published results from means, deviations and counts alone."""

    def test_two_samples(self) -> None:
        """5.25 (0.95, n 95) against 5.22 (0.83, n 89), bounds 0.384, Welch.

        Source: the known results that the R package TOSTER holds itself to.
        """
        before, after = Sample(5.22, 0.83, 89), Sample(5.25, 0.95, 95)
        found = two_rounds(before, after, margin=0.384)

        assert found.above_low == pytest.approx(3.153015, abs=5e-7)
        assert found.below_high == pytest.approx(-2.696056, abs=5e-7)
        assert found.freedom == pytest.approx(181.1344, abs=5e-5)
        assert found.chances == pytest.approx((0.00094587, 0.00383899), abs=5e-9)
        assert (found.low, found.high) == pytest.approx((-0.1870843, 0.2470843), abs=5e-8)
        assert found.answer is MoveAnswer.UNCHANGED

    def test_one_sample(self) -> None:
        """0.54 (1.2, n 100) against 0.5, bounds 0.36; same source."""
        found = one_round(Sample(0.54, 1.2, 100), 0.5, margin=0.36)

        assert found.above_low == pytest.approx(3.33333, abs=5e-6)
        assert found.below_high == pytest.approx(-2.66667, abs=5e-6)
        assert found.chances[0] == pytest.approx(0.000604, abs=5e-7)
        assert found.chances[1] == pytest.approx(0.0044746, abs=5e-8)
        assert found.answer is MoveAnswer.UNCHANGED


class TestTrial:
    """The trial data in statsmodels' own tests, with results from the R package equivalence."""

    @pytest.mark.parametrize(
        ("endpoint", "pooled", "difference", "error", "freedom", "chance", "low", "high"),
        [
            ("first", False, 0.1646666666666667, 0.2531625991083627, 26.7484787582315,
             0.04853083976236974, -0.2666862980722534, 0.596019631405587),
            ("first", True, 0.1646666666666667, 0.2531625991083628, 28,
             0.04827315100761467, -0.2659960620757337, 0.595329395409067),
            ("second", False, 0.562666666666666, 0.2149871904637392, 24.11000151062728,
             0.4317936812594803, 0.194916250699966, 0.930417082633366),
            ("second", True, 0.562666666666666, 0.2149871904637392, 28,
             0.43169347692374, 0.1969453064978777, 0.928388026835454),
        ],
    )  # fmt: skip
    def test_two_groups(
        self, endpoint: str, pooled: bool, difference: float, error: float, freedom: float,
        chance: float, low: float, high: float,
    ) -> None:  # fmt: skip
        """Equivalence at 0.6, Welch and pooled; thirteen decimals, as statsmodels holds itself."""
        earlier, later = (summary(group(g, endpoint)) for g in "21")
        found = two_rounds(earlier, later, margin=0.6, pooled=pooled)
        ours = (found.difference, found.error, found.unchanged, found.low, found.high)

        assert ours == pytest.approx((difference, error, chance, low, high), abs=1.5e-13)
        assert found.freedom == pytest.approx(freedom, abs=1e-11)
        shown = {"first": MoveAnswer.UNCHANGED, "second": MoveAnswer.NOT_SHOWN}
        assert found.answer is shown[endpoint]

    @pytest.mark.parametrize(
        ("endpoint", "chance", "low", "high"),
        [
            ("first", 0.003166881489265175, -0.0744336620516462, 0.4037669953849797),
            ("second", 0.4412034046017588, 0.1261653305099018, 0.999168002823431),
        ],
    )
    def test_pairs(self, endpoint: str, chance: float, low: float, high: float) -> None:
        """The same data taken as pairs."""
        found = paired(group("2", endpoint), group("1", endpoint), margin=0.6)

        ours = (found.unchanged, found.low, found.high)
        assert ours == pytest.approx((chance, low, high), abs=1.5e-13)

    @pytest.mark.parametrize("margin", [0.05, 0.3, 0.6, 2.0])
    @pytest.mark.parametrize("endpoint", ["first", "second"])
    def test_statsmodels(self, endpoint: str, margin: float) -> None:
        """ttost_ind and ttost_paired at other margins."""
        later, earlier = group("1", endpoint), group("2", endpoint)
        first, second = summary(earlier), summary(later)
        welch = ttost_ind(later, earlier, -margin, margin, usevar="unequal")
        pooled = ttost_ind(later, earlier, -margin, margin, usevar="pooled")
        pairs = ttost_paired(np.array(later), np.array(earlier), -margin, margin)

        assert two_rounds(first, second, margin).unchanged == pytest.approx(welch[0])
        assert two_rounds(first, second, margin, pooled=True).unchanged == pytest.approx(pooled[0])
        assert paired(earlier, later, margin).unchanged == pytest.approx(pairs[0])


class TestMoved:
    """Shown to lie beyond the margin, which is not the same as differing from zero."""

    @pytest.mark.parametrize("sign", [1, -1])
    def test_chance(self, sign: int) -> None:
        """scipy.stats.ttest_1samp against the margin, on the side of the difference."""
        changes = [sign * value for value in (0.9, 0.4, 0.7, 1.1, 0.2)]
        found = paired([0.0] * 5, changes, margin=0.1)
        side: Literal["greater", "less"] = "greater" if sign > 0 else "less"
        theirs = stats.ttest_1samp(changes, sign * 0.1, alternative=side)

        assert found.moved == pytest.approx(float(theirs.pvalue))
        assert found.answer is MoveAnswer.MOVED

    def test_significant_but_within_the_margin(self) -> None:
        """A difference that is surely not zero can still be surely small."""
        found = compare_with_margin(1.0, 0.2, 30, margin=6.0, risk=RISK)

        assert found.low > 0
        assert found.answer is MoveAnswer.UNCHANGED

    def test_significant_but_not_beyond_the_margin(self) -> None:
        """A difference that is surely not zero, and may be larger than the margin or smaller."""
        found = compare_with_margin(6.0, 1.0, 30, margin=6.0, risk=RISK)

        assert found.low > 0
        assert found.answer is MoveAnswer.NOT_SHOWN

    @pytest.mark.parametrize("difference", [-20.0, -7.0, -3.0, 0.0, 2.5, 5.0, 9.0])
    @pytest.mark.parametrize("error", [0.3, 1.5, 5.0])
    @pytest.mark.parametrize("freedom", [2.5, 12.0])
    def test_answer_follows_the_limits(
        self, difference: float, error: float, freedom: float
    ) -> None:
        """Inside the margin unchanged, outside moved, across it not shown: Schuirmann 1987."""
        found = compare_with_margin(difference, error, freedom, margin=6.0, risk=RISK)
        inside = found.low > -6 and found.high < 6
        outside = found.low > 6 or found.high < -6
        want = (
            MoveAnswer.UNCHANGED
            if inside
            else MoveAnswer.MOVED
            if outside
            else MoveAnswer.NOT_SHOWN
        )

        assert found.answer is want

    def test_order_only_turns_the_sign(self) -> None:
        """Later against earlier, or the other way round: the same answer."""
        first, second = Sample(500.0, 3.0, 4), Sample(512.0, 5.0, 3)
        there, back = (two_rounds(*p, margin=6.0) for p in ((first, second), (second, first)))

        assert there.difference == -back.difference
        assert there.answer is back.answer
        assert there.moved == pytest.approx(back.moved)


def test_what_is_refused() -> None:
    """No spread, no margin."""
    with pytest.raises(ValueError, match="error and a margin above zero"):
        compare_with_margin(1.0, 0.0, 3, margin=1.0, risk=RISK)
    with pytest.raises(ValueError, match="error and a margin above zero"):
        compare_with_margin(1.0, 1.0, 3, margin=0.0, risk=RISK)
