"""Charts over lots, against printed constants and the example of the NIST/SEMATECH e-Handbook."""

from math import pi, sqrt

import pytest
from scipy import stats

from blankbook.results.methods.chart_constants import constants, range_divisor
from blankbook.results.methods.control_charts import Signal, moving_average
from published.tables import rows

pytestmark = pytest.mark.published

LETTERS = ("d2", "d3")


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

    @pytest.mark.parametrize("n", [-1, 0, 1, 201])
    def test_no_such_group(self, n: int) -> None:
        """A range needs two values; beyond a hundred the integral is not vouched for."""
        with pytest.raises(ValueError, match="must be 2 to 200"):
            constants(n)


class TestMovingAverage:
    """NIST/SEMATECH e-Handbook 6.3.2.4: weight 0.3, target 50, deviation 2.0539."""

    target, deviation = 50.0, 2.0539
    table = rows("variation/ewma_handbook.csv")
    steps = tuple((float(row["value"]) - 50.0) / 2.0539 for row in table)
    points = tuple(moving_average(steps, 3.0, weight=0.3))

    def test_averages(self) -> None:
        """As printed, two decimals."""
        printed = [float(row["average"]) for row in self.table]
        found = [self.target + self.deviation * point.value for point in self.points]
        assert found == pytest.approx(printed, abs=0.005)

    def test_limits(self) -> None:
        """Printed 52.5884 and 47.4115, after many lots.

        The latter is cut, not rounded: the mirror is 47.4116.
        """
        last = moving_average([0.0] * 60, 3.0, weight=0.3)[-1]
        assert self.target + self.deviation * last.high == pytest.approx(52.5884, abs=0.00005)
        assert self.target + self.deviation * last.low == pytest.approx(47.4115, abs=0.0001)

    def test_in_control(self) -> None:
        """The handbook finds no signal, though the trend at the end is in sight."""
        assert {point.signal for point in self.points} == {None}

    def test_limits_widen(self) -> None:
        """The closed form of Lucas and Saccucci 1990, Technometrics 32, 1-12, fixed weight."""
        for at, point in enumerate(self.points, 1):
            spread = sqrt(0.3 / 1.7 * (1 - 0.7 ** (2 * at)))
            assert point.high == pytest.approx(3 * spread, rel=1e-12)
            assert point.low == pytest.approx(-3 * spread, rel=1e-12)

    def test_small_lasting_shift(self) -> None:
        """What no single lot shows, the average does, and says with which lot it came out."""
        points = moving_average([0.0] * 5 + [1.5] * 10, 3.0)
        signals = [at for at, point in enumerate(points) if point.signal]
        assert 5 <= signals[0] < 15
        assert points[signals[0]].signal is Signal.ABOVE
        below = moving_average([0.0] * 5 + [-1.5] * 10, 3.0)
        assert below[signals[0]].signal is Signal.BELOW

    @pytest.mark.parametrize("weight", [0.0, -0.1, 1.1])
    def test_no_such_weight(self, weight: float) -> None:
        """A weight is a share."""
        with pytest.raises(ValueError, match="must be a weight"):
            moving_average([1.0], 3.0, weight)
