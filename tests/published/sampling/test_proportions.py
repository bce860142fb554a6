"""What a count of bad pieces says, against printed limits, scipy.stats and statsmodels."""

import math
import time

import pytest
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from blankbook.results.methods import proportions
from blankbook.results.number_words import say_share
from published.tables import rows

pytestmark = pytest.mark.published


def share_limits(bad: int, pieces: int, confidence: float) -> tuple[float, float]:
    """Return the two-sided limits, half the risk on either side."""
    risk = (1 - confidence) / 2
    return (
        proportions.lower_share(bad, pieces, risk),
        proportions.upper_share(bad, pieces, risk),
    )


class TestExactLimits:
    """Clopper and Pearson 1934."""

    def test_handbook_example(self) -> None:
        """NIST/SEMATECH e-Handbook 7.2.4.1: 4 of 20, 90 %, printed 0.071354 and 0.401029.

        The second one is off by one in its last digit: solving the handbook's own equation gives
        0.4010281, so it is held to 2e-6 and not to half a digit.
        """
        low, high = share_limits(4, 20, 0.90)
        assert low == pytest.approx(0.071354, abs=5e-7)
        assert high == pytest.approx(0.401029, abs=2e-6)
        assert stats.binom.cdf(4, 20, high) == pytest.approx(0.05, abs=1e-9)
        assert stats.binom.sf(3, 20, low) == pytest.approx(0.05, abs=1e-9)

    @pytest.mark.parametrize(
        ("bad", "pieces", "low", "high"),
        [
            (81, 263, 0.25274, 0.36762),
            (15, 148, 0.05784, 0.16165),
            (0, 20, 0.0, 0.16843),
            (1, 29, 0.00087, 0.17764),
        ],
    )
    def test_newcombe(self, bad: int, pieces: int, low: float, high: float) -> None:
        """The cases of Newcombe 1998, Statistics in Medicine 17 (cases from memory, recomputed)."""
        ours = share_limits(bad, pieces, 0.95)
        assert ours == pytest.approx((low, high), abs=0.000005)

    @pytest.mark.parametrize("pieces", [1, 2, 3, 7, 20, 144])
    @pytest.mark.parametrize("confidence", [0.80, 0.95, 0.99])
    def test_statsmodels(self, pieces: int, confidence: float) -> None:
        """Its method "beta" for every possible count."""
        for bad in range(pieces + 1):
            want = proportion_confint(bad, pieces, 1 - confidence, method="beta")
            assert share_limits(bad, pieces, confidence) == pytest.approx(want)

    @pytest.mark.parametrize("share", [0.01, 0.1, 0.37, 0.5])
    def test_one_sided_limit_is_wrong_at_most_as_often_as_its_risk(self, share: float) -> None:
        """Every count that could be found, weighed with its chance; no simulation needed."""
        for pieces in (1, 3, 12, 40):
            missed = sum(
                float(stats.binom.pmf(bad, pieces, share))
                for bad in range(pieces + 1)
                if proportions.upper_share(bad, pieces, 0.05) < share
            )
            assert missed <= 0.05

    @pytest.mark.parametrize(("bad", "pieces"), [(-1, 3), (4, 3), (0, 0)])
    def test_impossible_counts(self, bad: int, pieces: int) -> None:
        with pytest.raises(ValueError, match="must be"):
            share_limits(bad, pieces, 0.95)


class TestZeroFailures:
    """No bad piece was found: what does that rule out?"""

    @pytest.mark.parametrize(
        "row", rows("sampling/zero_failure_upper_bounds.csv"), ids=lambda r: r["n"]
    )
    def test_bounds(self, row: dict[str, str]) -> None:
        """Computed, six decimals; the rule of three (3 / n) is never below them."""
        pieces = int(row["n"])
        at_95 = proportions.zero_failure_bound(pieces, 0.05)
        at_90 = proportions.zero_failure_bound(pieces, 0.10)
        assert at_95 == pytest.approx(float(row["upper95_one_sided_exact"]), abs=5e-7)
        assert at_90 == pytest.approx(float(row["upper90_one_sided_exact"]), abs=5e-7)
        assert at_95 <= 3 / pieces

    @pytest.mark.parametrize("pieces", [1, 2, 3, 12, 300])
    def test_bound_is_the_exact_upper_limit(self, pieces: int) -> None:
        bound = proportions.zero_failure_bound(pieces, 0.05)
        assert bound == pytest.approx(proportions.upper_share(0, pieces, 0.05))

    @pytest.mark.parametrize(
        ("risk", "counts"),
        [
            (0.05, [14, 29, 59, 74, 119, 149, 299, 598]),
            (0.10, [11, 22, 45, 57, 91, 114, 230, 460]),
            (0.01, [21, 44, 90, 113, 182, 228, 459, 919]),
        ],
    )
    def test_pieces_to_rule_out(self, risk: float, counts: list[int]) -> None:
        """ceil(ln risk / ln(1 - p)); 59 for 5 % and 299 for 1 % are the well-known ones."""
        shares = [0.20, 0.10, 0.05, 0.04, 0.025, 0.02, 0.01, 0.005]
        assert [proportions.zero_acceptance_pieces(p, risk) for p in shares] == counts

    def test_exact_border_needs_no_further_piece(self) -> None:
        """0.9^4 is 0.6561 exactly, so four pieces are enough for that very risk.

        In floats the quotient of the logarithms lies a hair above 4.
        """
        assert math.log(0.6561) / math.log(1 - 0.1) > 4
        assert proportions.zero_acceptance_pieces(0.1, 0.6561) == 4
        assert proportions.zero_acceptance_pieces(0.5, 0.0625) == 4
        assert proportions.zero_acceptance_pieces(1.0, 0.05) == 1

    @pytest.mark.parametrize("share", [0.0, -0.1, 1.2])
    def test_nothing_rules_out_no_share(self, share: float) -> None:
        with pytest.raises(ValueError, match="must be a share"):
            proportions.zero_acceptance_pieces(share, 0.05)


class TestFiniteLot:
    """Pieces of a delivery of known size: the hypergeometric distribution."""

    def test_none_found(self) -> None:
        """72 pieces, 4 of them bad, 13 looked at: 0.44239 (binomial 0.47566), computed."""
        lot = proportions.chance_at_most_in_lot(0, 13, 4, 72)
        assert lot == pytest.approx(0.44239, abs=0.000005)
        assert proportions.chance_at_most(0, 13, 4 / 72) == pytest.approx(0.47566, abs=0.000005)

    @pytest.mark.parametrize(("lot", "bad"), [(10, 0), (10, 10), (36, 3), (500, 41), (3200, 90)])
    def test_scipy(self, lot: int, bad: int) -> None:
        for pieces in (0, 1, 5, 10):
            for found in range(pieces + 1):
                want = stats.hypergeom.cdf(found, lot, bad, pieces)
                ours = proportions.chance_at_most_in_lot(found, pieces, bad, lot)
                assert ours == pytest.approx(want, rel=1e-9)

    @pytest.mark.parametrize(("found", "pieces", "lot"), [(0, 3, 12), (0, 13, 72), (2, 20, 144)])
    def test_upper_count_is_the_last_that_is_allowed(
        self, found: int, pieces: int, lot: int
    ) -> None:
        most = proportions.upper_bad_in_lot(found, pieces, lot, 0.05)
        assert stats.hypergeom.cdf(found, lot, most, pieces) > 0.05
        assert stats.hypergeom.cdf(found, lot, most + 1, pieces) <= 0.05

    @pytest.mark.parametrize(
        ("found", "pieces", "bad", "lot"),
        [(0, 20, 300, 5_001), (3, 125, 20_000, 1_000_000), (150, 1_000, 200_000, 1_000_000),
         (900, 2_000, 500, 4_000), (5_000, 50_000, 100_001, 1_000_000), (7, 500_000, 8, 1_000_000)],
    )  # fmt: skip
    def test_large_lots_are_as_scipy_has_them(
        self, found: int, pieces: int, bad: int, lot: int
    ) -> None:
        """Where whole numbers would take minutes, logarithms give eight digits."""
        want = stats.hypergeom.cdf(found, lot, bad, pieces)
        ours = proportions.chance_at_most_in_lot(found, pieces, bad, lot)
        assert ours == pytest.approx(want, rel=1e-8, abs=1e-12)

    def test_both_ways_agree_where_they_meet(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Exact whole numbers and logarithms, in a lot that both can do."""
        for found, pieces, bad in ((0, 80, 100), (2, 315, 60), (40, 800, 300), (99, 2_000, 260)):
            exact = proportions.chance_at_most_in_lot(found, pieces, bad, 5_000)
            with monkeypatch.context() as patched:
                patched.setattr(proportions, "EXACT_LOT", 0)
                near = proportions.chance_at_most_in_lot(found, pieces, bad, 5_000)
            assert near == pytest.approx(exact, rel=1e-9)

    def test_a_delivery_of_a_million_takes_no_time(self) -> None:
        """The upper limit of an inspected sample: in whole numbers it is minutes."""
        start = time.process_time()
        assert 0 < proportions.upper_bad_in_lot(40, 1_250, 1_000_000, 0.05) < 1_000_000
        assert time.process_time() - start < 1

    def test_whole_lot_leaves_nothing_open(self) -> None:
        assert proportions.upper_bad_in_lot(2, 30, 30, 0.05) == 2

    def test_more_than_the_lot_holds(self) -> None:
        with pytest.raises(ValueError, match="must fit into a lot of 10"):
            proportions.chance_at_most_in_lot(0, 11, 1, 10)


class TestSentences:
    """As a shop says it."""

    def test_three_good_out_of_three(self) -> None:
        said = "three good out of three still allows that up to 63 % are bad"
        assert proportions.say_zero_failures(3) == said
        assert proportions.say_bad(0, 3) == said

    def test_many_good(self) -> None:
        said = "80 good out of 80 still allows that up to 3.7 % are bad"
        assert proportions.say_zero_failures(80) == said

    def test_some_bad(self) -> None:
        """scipy.stats.beta gives 0.0043 and 0.3387 for one of twelve."""
        said = "one bad out of twelve still allows anything from 0.43 % to 34 % bad"
        assert proportions.say_bad(1, 12) == said
        assert stats.beta.ppf([0.05, 0.95], [1, 2], [12, 11]) == pytest.approx(
            [0.0043, 0.3387], abs=0.00005
        )

    @pytest.mark.parametrize("share", [1e-9, 0.0004, 0.0994999, 0.0995, 0.5, 0.994, 0.9999])
    def test_a_share_is_never_rounded_to_nothing_or_to_all(self, share: float) -> None:
        said = say_share(share)
        number = float(said.removesuffix(" %").split()[-1])
        assert 0 < number < 100
        if not said.startswith(("over", "less")):
            step = 10 ** (math.floor(math.log10(share * 100)) - 1)
            assert number == pytest.approx(share * 100, abs=step)
