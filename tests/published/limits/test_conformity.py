"""Decisions on uncertain readings, against JCGM 106:2012, integrals and simulation."""

from math import exp, inf

import numpy as np
import pytest
from scipy import integrate, stats

from blankbook.results.checks.piece_against_chart import answer_guarded
from blankbook.results.methods import conformity
from blankbook.results.methods.conformity import Process, SpecificationLimits
from blankbook.words.answers import Answer

pytestmark = pytest.mark.published


class TestBearings:
    """JCGM 106:2012, 9.5.4: run-out of bearings, at most 2 um, read with 0.25 um.

    What is made follows a gamma distribution of shape 4 and scale 1/4 um.
    """

    made = Process(lambda um: 4**4 / 6 * um**3 * exp(-4 * um), 0.0, 15.0)
    asked = SpecificationLimits(high=2.0)
    error = 0.25

    def test_share_that_does_not_conform(self) -> None:
        """Printed 0.0424; scipy.stats.gamma has more digits."""
        found = conformity.global_risks(self.made, self.error, self.asked)
        assert found.nonconforming == pytest.approx(0.0424, abs=0.00005)
        assert found.nonconforming == pytest.approx(stats.gamma.sf(2, 4, scale=0.25), abs=1e-9)

    def test_risks_without_a_guard_band(self) -> None:
        """Consumer's 0.0080 printed; producer's 0.0174 computed elsewhere."""
        found = conformity.global_risks(self.made, self.error, self.asked)
        assert found.consumer == pytest.approx(0.0080, abs=0.00005)
        assert found.producer == pytest.approx(0.0174, abs=0.00005)

    def test_acceptance_limit_for_a_risk(self) -> None:
        """1.672 um, so a band of 0.328, for 0.001; producer's 0.0755 then, computed elsewhere."""
        band = conformity.band_for_consumer(self.made, self.error, self.asked, 0.001)
        found = conformity.global_risks(self.made, self.error, self.asked, band)
        assert self.asked.guarded(band).high == pytest.approx(1.672, abs=0.0005)
        assert band == pytest.approx(0.328, abs=0.0005)
        assert found.consumer == pytest.approx(0.001, abs=1e-9)
        assert found.producer == pytest.approx(0.0755, abs=0.00005)


class TestAnyProcess:
    """Two-sided limits, against another integral and against simulation."""

    asked = SpecificationLimits(-12.7, 12.7)

    @pytest.mark.parametrize("band", [-2.0, 0.0, 3.0, 13.0])
    def test_double_integral(self, band: float) -> None:
        """scipy.integrate.quad over a normal process, with the normal tails of scipy.stats.

        A band wider than half of what is allowed accepts nothing.
        """
        made = stats.norm(2.0, 6.0)
        found = conformity.global_risks(Process(made.pdf, -60.0, 60.0), 2.5, self.asked, band)
        taken = 12.7 - band

        def accepted(true: float) -> float:
            if taken <= 0:
                return 0.0
            return float(stats.norm.cdf(taken, true, 2.5) - stats.norm.cdf(-taken, true, 2.5))

        def over(low: float, high: float, wanted: bool) -> float:
            share = lambda x: made.pdf(x) * (accepted(x) if wanted else 1 - accepted(x))  # noqa: E731
            return float(integrate.quad(share, low, high, epsabs=1e-12, limit=200)[0])

        consumer = over(-60, -12.7, wanted=True) + over(12.7, 60, wanted=True)
        assert found.consumer == pytest.approx(consumer, abs=1e-9)
        assert found.producer == pytest.approx(over(-12.7, 12.7, wanted=False), abs=1e-9)

    def test_simulation(self) -> None:
        """A million pieces made unevenly, measured once each."""
        rng = np.random.default_rng(5)
        true = rng.uniform(-16, 16, 1_000_000)
        read = true + rng.normal(0, 2.0, true.size)
        bad, taken = abs(true) > 12.7, abs(read) <= 11.2
        made = Process(lambda _: 1 / 32, -16.0, 16.0)
        found = conformity.global_risks(made, 2.0, self.asked, 1.5)
        assert found.nonconforming == pytest.approx(3.3 / 16)
        assert found.consumer == pytest.approx((bad & taken).mean(), abs=0.0008)
        assert found.producer == pytest.approx((~bad & ~taken).mean(), abs=0.002)

    def test_a_wider_band_trades_one_risk_for_the_other(self) -> None:
        made = Process(stats.norm(0.0, 8.0).pdf, -64.0, 64.0)
        found = [conformity.global_risks(made, 3.0, self.asked, band) for band in (-3, 0, 3, 6)]
        assert [risks.consumer for risks in found] == sorted(risks.consumer for risks in found)[
            ::-1
        ]
        assert [risks.producer for risks in found] == sorted(risks.producer for risks in found)


class TestOneReading:
    """JCGM 106:2012, clauses 7 and 8."""

    def test_pressure_vessel(self) -> None:
        """The lower limit 490, y = 509.7 and u = 8.6 give 0.99 (from memory, recomputed)."""
        chance = conformity.conformance(509.7, 8.6, SpecificationLimits(low=490))
        assert chance == pytest.approx(0.9890, abs=0.00005)

    def test_both_limits(self) -> None:
        """scipy.stats.norm."""
        chance = conformity.conformance(11.0, 2.0, SpecificationLimits(-12.7, 12.7))
        want = stats.norm.cdf(12.7, 11, 2) - stats.norm.cdf(-12.7, 11, 2)
        assert chance == pytest.approx(want)
        assert conformity.conformance(11.0, 2.0, SpecificationLimits(-inf, inf)) == 1

    @pytest.mark.parametrize(
        ("chance", "band"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
    )
    def test_bands(self, chance: float, band: float) -> None:
        """Clause 7.3, table 1: quantiles (that it has such a table was seen, values computed).

        The printed 1.64 is 1.645 cut, so a whole digit is allowed.
        """
        assert conformity.guard_band(1.0, 1 - chance) == pytest.approx(band, abs=0.01)

    @pytest.mark.parametrize(("side", "answer"), [(-1, Answer.MEETS), (1, Answer.FAILS)])
    def test_guard_band_holds_the_risk(self, side: int, answer: Answer) -> None:
        """At the guarded border, with w = 1.645 u, the wrong answer has a chance of 5 %."""
        border = 12.7 + side * 1.6448537 * 2.0
        assert answer_guarded(border + side * 1e-6, 2.0, 12.7, 0.05) == answer
        wrong = conformity.conformance(border, 2.0, SpecificationLimits(-12.7, 12.7))
        assert (wrong if side > 0 else 1 - wrong) == pytest.approx(0.05, abs=1e-6)
