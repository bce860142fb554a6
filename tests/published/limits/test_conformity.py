"""Decisions on uncertain readings, against JCGM 106:2012 and scipy.stats."""

from math import inf

import pytest
from scipy import stats

from blankbook.results.checks.piece_against_chart import answer_guarded
from blankbook.results.methods import conformity
from blankbook.results.methods.conformity import SpecificationLimits
from blankbook.words.answers import Answer

pytestmark = pytest.mark.published


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
