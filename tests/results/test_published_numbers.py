"""The numbers of the core against tables, definitions and a reference library."""

import math
import random
from fractions import Fraction

import pytest
from scipy import stats

from blankbook.records.lengths import read_length
from blankbook.records.model import Prior, Swatch
from blankbook.results import limits, piece_spread
from blankbook.results.checks import fabric, mix_up, washing
from blankbook.results.result_types import Spread
from blankbook.words.points import INCH

pytestmark = pytest.mark.published


class TestConversions:
    """1 in = 25.4 mm, 1 yd = 0.9144 m and 1 lb = 453.59237 g, exactly (international, 1959)."""

    def test_inch_is_exact(self) -> None:
        assert Fraction("25.4") == INCH
        assert read_length("22 1/8", "in").exact == Fraction("561.975")

    def test_ounce_per_square_yard_follows_from_both_definitions(self) -> None:
        ounce = Fraction("453.59237") / 16
        square_yard = (36 * Fraction("25.4") / 1000) ** 2
        assert Fraction(5669904625, 167225472) == ounce / square_yard
        assert float(ounce / square_yard) == pytest.approx(fabric.OUNCE)

    @pytest.mark.parametrize(
        ("ounces", "grams"),
        [
            (4.2, 142.4041), (4.5, 152.5759), (5.0, 169.5287), (5.3, 179.7005), (6.0, 203.4345),
            (6.1, 206.8251),
        ],
    )  # fmt: skip
    def test_fabric_weights(self, ounces: float, grams: float) -> None:
        """Computed from the exact definitions and printed to four decimals."""
        assert ounces * fabric.OUNCE == pytest.approx(grams, abs=0.00005)

    @pytest.mark.parametrize(("grams", "ounces"), [(150, 4.4240), (180, 5.3088), (200, 5.8987)])
    def test_the_other_way(self, grams: float, ounces: float) -> None:
        """Computed likewise."""
        assert grams / fabric.OUNCE == pytest.approx(ounces, abs=0.00005)


class TestDimensionalChange:
    """ISO 5077:2007: 100 (after - before) / before, negative for shrinkage; worked values."""

    @pytest.mark.parametrize(
        ("before", "after", "change"),
        [(500, 482, -3.600), (720, 691, -4.028), (715, 689, -3.636), (724, 694, -4.144)],
    )
    def test_worked_values(self, before: float, after: float, change: float) -> None:
        assert washing.dimensional_change(before, after) == pytest.approx(change, abs=0.0005)

    def test_mean_is_of_the_percentages(self) -> None:
        """The standards average the percentages; percent of summed lengths would be -3.9370."""
        pairs = [(720, 691), (715, 689), (724, 694)]
        mean = sum(washing.dimensional_change(*pair) for pair in pairs) / 3
        assert mean == pytest.approx(-3.9359, abs=0.00005)


class TestMassPerArea:
    """The cut-swatch formula, g/m2 = g * 10 000 / cm2 (ASTM D3776 option C; ISO 3801)."""

    def test_die_of_100_square_centimetres(self) -> None:
        swatch = Swatch(area=100 * 100.0, mass=1.53)
        assert fabric.mass_per_area(swatch) == pytest.approx(153.0)
        ounces = fabric.mass_per_area(swatch) / fabric.OUNCE
        assert ounces == pytest.approx(4.5125, abs=0.00005)


class TestReading:
    """GUM, JCGM 100:2008, F.2.2.1: a step d carries d / sqrt(12); values printed to 4 digits."""

    @pytest.mark.parametrize(
        ("step", "uncertainty"),
        [(1.0, 0.2887), (25.4 / 16, 0.4583), (25.4 / 8, 0.9165), (25.4 / 4, 1.8331)],
    )
    def test_resolution(self, step: float, uncertainty: float) -> None:
        assert piece_spread.resolution_uncertainty(step) == pytest.approx(uncertainty, abs=0.00005)

    def test_repeats_average_the_hand_and_not_the_step(self) -> None:
        single = piece_spread.reading_uncertainty(3.0, 2.0)
        many = piece_spread.reading_uncertainty(3.0, 2.0, repeats=10**9)
        assert single == pytest.approx(math.sqrt(9 / 12 + 4))
        assert many == pytest.approx(piece_spread.resolution_uncertainty(3.0))


class TestModeratedSpread:
    """Smyth 2004: (nu0 s0^2 + sum df_i s_i^2) / (nu0 + sum df_i), against a posterior by grid."""

    def test_formula(self) -> None:
        deviation, freedom = piece_spread.moderate(Prior(2.0, 4.0), piece_spread.Pool(18.0, 2))
        assert deviation**2 == pytest.approx((4 * 4 + 18) / 6)
        assert freedom == 6

    def test_posterior_of_a_scaled_inverse_chi_square(self) -> None:
        """The moderated variance is 1 / E(1/sigma^2), worked out by numerical integration."""
        prior, squares, df = Prior(3.0, 6.0), 40.0, 3

        def density(precision: float) -> float:
            own = stats.gamma.pdf(precision, prior.worth / 2, scale=2 / prior.worth / 9.0)
            return float(own * precision ** (df / 2) * math.exp(-precision * squares / 2))

        grid = [i / 4000 for i in range(1, 8000)]
        mean = sum(p * density(p) for p in grid) / sum(density(p) for p in grid)
        deviation, _ = piece_spread.moderate(prior, piece_spread.Pool(squares, df))
        assert deviation**2 == pytest.approx(1 / mean, rel=1e-3)


class TestLimitsAgainstScipy:
    """scipy.stats, which the program itself does not load, as the reference."""

    @pytest.mark.parametrize("seed", range(20))
    def test_mean_limits(self, seed: int) -> None:
        rng = random.Random(seed)
        mean, error, freedom = rng.uniform(-30, 30), rng.uniform(0.1, 9), rng.uniform(2, 40)
        ours = limits.limits(mean, error, freedom, 0.05)
        low, high = stats.t.interval(0.90, freedom, loc=mean, scale=error)
        assert (ours.low, ours.high) == pytest.approx((low, high))

    @pytest.mark.parametrize("seed", range(20))
    def test_two_one_sided_tests(self, seed: int) -> None:
        """Limits inside the tolerance exactly when both one-sided t tests reject at 5 %."""
        rng = random.Random(seed)
        values = [rng.gauss(rng.uniform(-15, 15), 5) for _ in range(rng.randint(3, 9))]
        tests = (
            stats.ttest_1samp(values, -12.7, alternative="greater").pvalue,
            stats.ttest_1samp(values, 12.7, alternative="less").pvalue,
        )
        count = len(values)
        error = stats.sem(values)
        ours = limits.limits(sum(values) / count, error, count - 1, 0.05)
        assert (ours.low > -12.7 and ours.high < 12.7) == (max(tests) < 0.05)

    def test_deviation_limits(self) -> None:
        low, high = limits.deviation_limits(2.0, 9, 0.05)
        assert low == pytest.approx(2 * math.sqrt(9 / stats.chi2.ppf(0.95, 9)))
        assert high == pytest.approx(2 * math.sqrt(9 / stats.chi2.ppf(0.05, 9)))

    def test_mix_up_chance_against_simulation(self) -> None:
        """A t variable of the same spread and freedom, drawn a million times by numpy."""
        known = Spread(4.0, 8.0, 0.5, "shop", 0.6, 0.8)
        drawn = stats.t.rvs(8, size=1_000_000, random_state=7) * 4.0 * math.sqrt(3)
        share = (drawn > 10).mean()
        assert mix_up.mix_up_chance(10, known, extra=1.0) == pytest.approx(share, abs=0.002)
