"""Factors of tolerance intervals, against computed tables, scipy and simulation."""

import numpy as np
import pytest
from scipy import integrate, optimize, stats

from blankbook.results.methods.tolerance_intervals import tolerance_factor
from published.tables import half_last_digit, rows

pytestmark = pytest.mark.published

FACTORS = rows("limits/tolerance_factors.csv")
HALF = 1.0001
"""The table's own last digit is rounded; a hair for the float that halves it."""


def factor_of(pieces: int, share: float, confidence: float) -> float:
    """Return the two-sided factor where mean and deviation come from the same *pieces*."""
    return tolerance_factor(pieces**-0.5, pieces - 1, share, confidence)


def _id(row: dict[str, str]) -> str:
    return f"{row['pieces']} pieces, {row['share']} at {row['confidence']}"


class TestTable:
    """72 exact factors, computed elsewhere (`how_obtained.md`), four decimals."""

    @pytest.mark.parametrize("row", FACTORS, ids=_id)
    def test_two_sided(self, row: dict[str, str]) -> None:
        found = factor_of(int(row["pieces"]), float(row["share"]), float(row["confidence"]))
        half = HALF * half_last_digit(row["two_sided"])
        assert found == pytest.approx(float(row["two_sided"]), abs=half)

    def test_the_approximation_is_not_what_is_used(self) -> None:
        """NIST/SEMATECH e-Handbook 7.2.6.3, n = 43: it prints 2.217 (Howe); exact is 2.2228."""
        assert factor_of(43, 0.90, 0.99) == pytest.approx(2.22283, abs=0.000005)

    @pytest.mark.parametrize(
        ("pieces", "printed"), [(5, 5.077), (10, 3.393), (20, 2.760), (30, 2.555)]
    )
    def test_iso_tables(self, pieces: int, printed: float) -> None:
        """ISO 16269-6, 95 % of all at 95 %, spread and mean unknown (from memory, recomputed)."""
        assert factor_of(pieces, 0.95, 0.95) == pytest.approx(printed, abs=0.0005)


class TestScipy:
    """Quantiles and integrals of scipy as the reference."""

    @pytest.mark.parametrize(
        ("error", "freedom"), [(1.0, 6), (3**-0.5, 8), (0.5, 2.5), (0.01, 30), (2.0, 5)]
    )
    def test_two_sided(self, error: float, freedom: float) -> None:
        """The confidence of our factor, by adaptive quadrature with a root at every offset."""
        k = tolerance_factor(error, freedom, 0.90, 0.95)

        def sure(z: float) -> float:
            def held(reach: float) -> float:
                return float(
                    stats.norm.cdf(z * error + reach) - stats.norm.cdf(z * error - reach) - 0.90
                )

            reach = optimize.brentq(held, 1e-9, 60)
            tail = stats.chi2.sf(freedom * (reach / k) ** 2, freedom)
            return float(2 * stats.norm.pdf(z) * tail)

        confidence = integrate.quad(sure, 0, 8.5, epsabs=1e-10)[0]
        assert confidence == pytest.approx(0.95, abs=1e-6)

    def test_everything_known(self) -> None:
        """With no error and endless freedom only the share is left: 1.6449 for nine in ten."""
        assert tolerance_factor(1e-6, 1e7, 0.90, 0.95) == pytest.approx(1.6449, abs=0.001)


class TestModerated:
    """Mean and deviation from different pieces, and a spread that is partly assumed."""

    @pytest.mark.parametrize(("pieces", "seen"), [(1, 0), (1, 4), (3, 4), (4, 12)])
    def test_so_often_do_the_limits_hold_nine_in_ten(self, pieces: int, seen: int) -> None:
        """The true spread is drawn from what is assumed (6 degrees of freedom), 100 000 times.

        Four standard errors are allowed.
        """
        rng = np.random.default_rng(20261125)
        draws, worth = 100_000, 6
        true = np.sqrt(worth / rng.chisquare(worth, draws))
        squares = true**2 * rng.chisquare(seen, draws) if seen else 0.0
        moderated = np.sqrt((worth + squares) / (worth + seen))
        mean = rng.normal(0, true / pieces**0.5)
        reach = tolerance_factor(pieces**-0.5, worth + seen, 0.90, 0.95) * moderated
        inside = stats.norm.cdf((mean + reach) / true) - stats.norm.cdf((mean - reach) / true)
        held = float((inside >= 0.90).mean())
        assert held == pytest.approx(0.95, abs=4 * (0.95 * 0.05 / draws) ** 0.5)

    def test_more_of_anything_narrows_the_limits(self) -> None:
        narrower = [tolerance_factor(n**-0.5, 6 + 2 * n, 0.90, 0.95) for n in (1, 2, 3, 5, 9)]
        assert narrower == sorted(narrower)[::-1]
