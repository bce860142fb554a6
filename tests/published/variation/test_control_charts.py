"""Charts over lots, against printed constants and the examples of the NIST/SEMATECH e-Handbook."""

from math import pi, sqrt
from statistics import fmean

import numpy as np
import pytest
from scipy import stats

from blankbook.results.methods import control_charts as charts
from blankbook.results.methods.chart_constants import constants, range_divisor
from published.tables import rows

pytestmark = pytest.mark.published

LETTERS = ("d2", "d3")
HANDBOOK = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


class TestConstants:
    """Computed constants of control charts."""

    @pytest.mark.parametrize("letter", LETTERS)
    @pytest.mark.parametrize("row", rows("variation/chart_constants.csv"), ids=lambda row: row["n"])
    def test_printed(self, letter: str, row: dict[str, str]) -> None:
        """As printed for n = 2 to 10; tables disagree by one in the last digit, so 0.0015."""
        found = getattr(constants(int(row["n"])), letter)
        assert found == pytest.approx(float(row[letter]), abs=0.0015)

    def test_closed_forms(self) -> None:
        """The range of two and of three normal values has moments that can be written down."""
        two, three = constants(2), constants(3)

        assert (two.d2, two.d3) == pytest.approx((2 / sqrt(pi), sqrt(2 - 4 / pi)), rel=1e-12)
        assert three.d2 == pytest.approx(3 / sqrt(pi), rel=1e-12)
        assert three.d3 == pytest.approx(sqrt(2 + 3 * sqrt(3) / pi - 9 / pi), rel=1e-12)

    def test_largest_groups(self) -> None:
        """Printed for n = 25 (from memory): d2 3.931, d3 0.708."""
        found = constants(25)
        assert (found.d2, found.d3) == pytest.approx((3.931, 0.708), abs=0.0005)

    def test_order_statistics(self) -> None:
        """d2 of 100 is twice the mean of the largest, integrated from its own density."""
        largest = stats.norm.expect(lambda x: 100 * x * stats.norm.cdf(x) ** 99)
        assert constants(100).d2 == pytest.approx(2 * largest, rel=1e-8)

    @pytest.mark.parametrize(
        ("n", "printed"), [(2, 0.7071), (3, 0.5231), (4, 0.4467), (5, 0.4030), (10, 0.3146)]
    )
    def test_one_range(self, n: int, printed: float) -> None:
        """K2 and K3 of the AIAG form, one range of n (n = 3 and 10 seen, others from memory)."""
        assert 1 / range_divisor(n, 1) == pytest.approx(printed, abs=0.00005)

    @pytest.mark.parametrize(("n", "printed"), [(2, 0.8862), (3, 0.5908)])
    def test_many_ranges(self, n: int, printed: float) -> None:
        """K1 of the AIAG form, 1/d2 (n = 3 seen, n = 2 from memory)."""
        assert 1 / constants(n).d2 == pytest.approx(printed, abs=0.00005)

    @pytest.mark.parametrize("n", [-1, 0, 1, 101])
    def test_no_such_group(self, n: int) -> None:
        """A range needs two values; beyond a hundred the integral is not vouched for."""
        with pytest.raises(ValueError, match="must be 2 to 100"):
            constants(n)


class TestIndividuals:
    """NIST/SEMATECH e-Handbook 6.3.2.2."""

    def test_centre_and_ranges(self) -> None:
        """Printed 50.81 and 1.8778."""
        assert charts.individuals_chart(HANDBOOK).centre == pytest.approx(50.81, abs=0.005)
        assert charts.moving_range_deviation(HANDBOOK) * constants(2).d2 == pytest.approx(
            1.8778, abs=0.00005
        )

    def test_limits(self) -> None:
        """Printed 55.8041 and 45.8159, with d2 rounded to 1.128; ours has all its digits."""
        chart = charts.individuals_chart(HANDBOOK)
        rounded = constants(2).d2 / 1.128
        half = (chart.points[0].high - chart.centre) * rounded

        assert chart.centre + half == pytest.approx(55.8041, abs=0.00005)
        assert chart.centre - half == pytest.approx(45.8159, abs=0.00005)
        assert chart.points[0].high == pytest.approx(55.80, abs=0.005)
        assert len({(point.low, point.high) for point in chart.points}) == 1

    def test_in_control(self) -> None:
        """The handbook finds no point outside; one far lot is found, with its side."""
        assert charts.individuals_chart(HANDBOOK).signals == ()
        moved = charts.individuals_chart([*HANDBOOK, 62.0, *HANDBOOK, 38.0])
        assert moved.signals == (10, 21)
        assert [moved.points[at].signal for at in moved.signals] == ["above", "below"]

    def test_given_centre(self) -> None:
        """A target moves the limits along and leaves their width."""
        own, given = (
            charts.individuals_chart(HANDBOOK),
            charts.individuals_chart(HANDBOOK, centre=0.0),
        )
        assert given.points[0].high == pytest.approx(own.points[0].high - own.centre)

    def test_one_lot(self) -> None:
        """There is no moving range of one lot."""
        with pytest.raises(ValueError, match="must be two lots"):
            charts.individuals_chart([1.0])


class TestMovingAverage:
    """NIST/SEMATECH e-Handbook 6.3.2.4: weight 0.3, target 50, deviation 2.0539."""

    table = rows("variation/ewma_handbook.csv")
    values = tuple(float(row["value"]) for row in table)
    chart = charts.moving_average_chart(
        values, 50.0, [2.0539] * len(values), charts.Basis.STATED_SPREAD, weight=0.3
    )

    def test_averages(self) -> None:
        """As printed, two decimals."""
        printed = [float(row["average"]) for row in self.table]
        assert [p.value for p in self.chart.points] == pytest.approx(printed, abs=0.005)

    def test_limits(self) -> None:
        """Printed 52.5884 and 47.4115, after many lots.

        The latter is cut, not rounded: the mirror is 47.4116.
        """
        many = charts.moving_average_chart(
            [50.0] * 60, 50.0, [2.0539] * 60, charts.Basis.STATED_SPREAD, weight=0.3
        )
        low, high = many.points[-1].low, many.points[-1].high

        assert high == pytest.approx(52.5884, abs=0.00005)
        assert low == pytest.approx(47.4115, abs=0.0001)
        assert low + high == pytest.approx(100.0)

    def test_in_control(self) -> None:
        """The handbook finds no signal, though the trend at the end is in sight."""
        assert self.chart.signals == ()

    def test_limits_widen(self) -> None:
        """The closed form of Lucas and Saccucci 1990, Technometrics 32, 1-12, fixed weight."""
        for at, point in enumerate(self.chart.points, 1):
            spread = 2.0539 * sqrt(0.3 / 1.7 * (1 - 0.7 ** (2 * at)))
            assert point.high == pytest.approx(50 + 3 * spread, rel=1e-12)
            assert point.low == pytest.approx(50 - 3 * spread, rel=1e-12)

    def test_unequal_deviations(self) -> None:
        """The variance of the weighted sum, from its weights."""
        deviations = [1.0, 3.0, 0.5]
        chart = charts.moving_average_chart(
            [0.0] * 3, 0.0, deviations, charts.Basis.STATED_SPREAD, 0.2
        )
        parts = [0.2 * 0.8 ** (2 - at) * s for at, s in enumerate(deviations)]

        assert chart.points[2].high == pytest.approx(3 * sqrt(sum(part**2 for part in parts)))

    def test_small_lasting_shift(self) -> None:
        """What no single lot shows, the average does, and says with which lot it came out."""
        values = [0.0] * 5 + [1.5] * 10
        deviations = [1.0] * len(values)
        single = charts.stated_spread_chart(
            values, charts.StatedSpread((0.0,) * len(values), 1.0), charts.CentreLine(0.0)
        )
        average = charts.moving_average_chart(values, 0.0, deviations, charts.Basis.STATED_SPREAD)

        assert single.signals == ()
        assert average.signals[0] == next(
            at for at, point in enumerate(average.points) if point.value > point.high
        )
        assert 5 <= average.signals[0] < 15
        assert average.points[average.signals[0]].signal is charts.Signal.ABOVE

    @pytest.mark.parametrize("weight", [0.0, -0.1, 1.1])
    def test_no_such_weight(self, weight: float) -> None:
        """A weight is a share."""
        with pytest.raises(ValueError, match="must be a weight"):
            charts.moving_average_chart([1.0], 0.0, [1.0], charts.Basis.STATED_SPREAD, weight)


class TestStatedSpread:
    """Few lots, judged by what is known of the spread."""

    stated = charts.StatedSpread((1.0, 2.0, 0.5), between=1.5)

    def test_own_mean(self) -> None:
        """The variance about the weighted mean, from the covariance matrix of the residuals."""
        values = [4.0, -1.0, 2.5]
        variances = np.square(self.stated.errors) + 1.5**2
        share = (1 / variances) / (1 / variances).sum()
        about = np.eye(3) - share
        spread = np.sqrt(np.diag(about @ np.diag(variances) @ about.T))
        chart = charts.stated_spread_chart(values, self.stated)

        assert chart.centre == pytest.approx(float(share @ values))
        assert [p.high - chart.centre for p in chart.points] == pytest.approx(list(3 * spread))

    def test_given_centre(self) -> None:
        """The error of an approved round joins that of the lot."""
        chart = charts.stated_spread_chart(
            [1.0, 2.0, 3.0], self.stated, charts.CentreLine(1.0, 0.75)
        )

        assert chart.points[1].low == pytest.approx(1 - 3 * sqrt(2.0**2 + 1.5**2 + 0.75**2))

    @pytest.mark.parametrize("freedom", [2.0, 6.0, 30.0])
    def test_few_degrees_of_freedom(self, freedom: float) -> None:
        """The limits of scipy.stats.t that have the false-alarm chance of three sigma."""
        stated = charts.StatedSpread((0.0,), 1.0, freedom)
        chart = charts.stated_spread_chart([0.0], stated, charts.CentreLine(0.0))

        assert chart.points[0].high == pytest.approx(stats.t.isf(stats.norm.sf(3), freedom))

    def test_which_basis(self) -> None:
        """Fewer than five lots are judged by the stated spread, five by their moving ranges."""
        four = charts.chart_of_lots([0.0, 1.0, 0.5, 0.2], charts.StatedSpread((1.0,) * 4, 1.0))
        five = charts.chart_of_lots([0.0, 1.0, 0.5, 0.2, 9.0], charts.StatedSpread((1.0,) * 5, 1.0))

        assert four.basis is charts.Basis.STATED_SPREAD
        assert five.basis is charts.Basis.MOVING_RANGES
        assert five.centre == pytest.approx(fmean([0.0, 1.0, 0.5, 0.2, 9.0]))

    def test_far_lot(self) -> None:
        """One of three lots stands out against the approved round."""
        stated = charts.StatedSpread((0.5,) * 3, 0.5)
        chart = charts.chart_of_lots([0.2, -0.4, -4.0], stated, charts.CentreLine(0.0, 0.3))

        assert chart.signals == (2,)
        assert chart.points[2].signal is charts.Signal.BELOW

    def test_what_is_refused(self) -> None:
        """One lot without a centre, too few errors, and no spread at all."""
        with pytest.raises(ValueError, match="two lots or more where no centre"):
            charts.stated_spread_chart([1.0], charts.StatedSpread((1.0,), 1.0))
        with pytest.raises(ValueError, match="must be 2 standard errors, found 1"):
            charts.stated_spread_chart([1.0, 2.0], charts.StatedSpread((1.0,), 1.0))
        with pytest.raises(ValueError, match="spread above zero"):
            charts.stated_spread_chart([1.0, 2.0], charts.StatedSpread((1.0, 0.0), 0.0))
