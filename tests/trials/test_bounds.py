"""What no method can find: against simulation, scipy.stats and closed forms."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from blankbook.records.model import Prior
from blankbook.results import limits
from trials import bounds
from trials.missing import setting
from trials.plans import Plan
from trials.scoring import Tally, run

SEED = 20261125
BODY = setting(Plan(each=1, colours=1), "body_length")
SURE = replace(BODY, spread=Prior(BODY.spread.deviation, 1e7))
"""The same with a spread that is all but known."""
DRAWS = 200_000


def _near(share: float) -> float:
    """Return four standard errors of a share that was counted."""
    return float(4 * (share * (1 - share) / DRAWS) ** 0.5)


class TestBestTest:
    """Neyman and Pearson 1933: the spread is known."""

    @pytest.mark.parametrize(("distance", "error"), [(0.0, 3.0), (5.0, 3.0), (12.7, 7.2)])
    def test_a_simulated_mean_is_found_so_often(self, distance: float, error: float) -> None:
        rng = np.random.default_rng(SEED)
        means = rng.normal(-distance, error, DRAWS)
        found = float((means + stats.norm.isf(0.05) * error < 0).mean())
        ours = float(bounds.power_known(np.array(distance), np.array(error), 0.05))
        assert ours == pytest.approx(found, abs=_near(found))

    def test_at_the_border_it_is_wrong_as_often_as_stated(self) -> None:
        assert float(bounds.power_known(np.array(0.0), np.array(2.0), 0.05)) == pytest.approx(0.05)

    @pytest.mark.parametrize("cut", [-1.0, -0.3, 0.2])
    def test_no_other_region_of_the_same_risk_finds_more(self, cut: float) -> None:
        """Part of the risk spent on the other side, or in the middle, is lost."""
        risk, ratio = 0.05, 1.5
        spent = 0.03
        far = stats.norm.isf(risk - spent)
        width = spent / stats.norm.pdf(cut) / 2
        other = stats.norm.sf(far - ratio)
        other += stats.norm.cdf(cut + width - ratio) - stats.norm.cdf(cut - width - ratio)
        assert other < float(bounds.power_known(np.array(ratio), np.array(1.0), risk))


class TestFreedom:
    """Nothing is assumed of the spread: Student's t, whose power is the noncentral t."""

    @pytest.mark.parametrize("freedom", [1, 3, 9, 40])
    @pytest.mark.parametrize("ratio", [0.0, 0.5, 1.8, 4.0])
    def test_scipy_stats(self, freedom: int, ratio: float) -> None:
        ours = bounds.power_on_freedom(np.array(ratio), np.array(1.0), freedom, 0.05)
        theirs = stats.nct.sf(stats.t.isf(0.05, freedom), freedom, ratio)
        assert float(ours) == pytest.approx(theirs, abs=1e-9)

    @pytest.mark.parametrize("freedom", [3, 9])
    def test_a_simulated_t_test_finds_so_often(self, freedom: int) -> None:
        rng = np.random.default_rng(SEED)
        means = rng.normal(12.7, 7.2, DRAWS)
        errors = 7.2 * np.sqrt(rng.chisquare(freedom, DRAWS) / freedom)
        found = float((means > stats.t.isf(0.05, freedom) * errors).mean())
        ours = float(bounds.power_on_freedom(np.array(12.7), np.array(7.2), freedom, 0.05))
        assert ours == pytest.approx(found, abs=_near(found))

    @pytest.mark.parametrize("pieces", [1, 2, 4])
    def test_who_knows_the_spread_finds_more(self, pieces: int) -> None:
        """One piece of each size tells nothing of the spread: it is found by chance alone."""
        setting = replace(BODY, pieces=pieces)
        bare = bounds.bare_share(setting, 0.05)
        assert bare < bounds.step_bound(setting, 0.05)
        assert (bare == 0.05) == (pieces == 1)


class TestRiskOnAverage:
    """The risk is dealt out between the spreads as helps most."""

    def test_one_spread_has_nothing_to_deal_out(self) -> None:
        ours = bounds.best_share(np.array([[1.7], [1.7]]), 0.05)
        assert ours == pytest.approx(stats.norm.sf(stats.norm.isf(0.05) - 1.7), abs=1e-6)

    @pytest.mark.parametrize("ratios", [(0.6, 3.0), (1.5, 2.5), (2.0, 6.0)])
    def test_no_other_share_of_the_risk_finds_more(self, ratios: tuple[float, float]) -> None:
        """Every way to split it between two spreads, tried one by one."""
        first = np.linspace(1e-6, 0.1 - 1e-6, 20_001)
        found = [
            stats.norm.sf(stats.norm.isf(risk) - ratio)
            for risk, ratio in zip((first, 0.1 - first), ratios, strict=True)
        ]
        best = float(np.mean(found, axis=0).max())
        ours = bounds.best_share(np.array(ratios)[:, None], 0.05)
        assert ours == pytest.approx(best, abs=1e-6)

    def test_several_distances_share_one_border(self) -> None:
        """Who does not know the distance tests each spread one-sidedly: simulated."""
        rng = np.random.default_rng(SEED)
        ratios = np.array([[0.5, 1.5, 3.5]])
        seen = rng.normal(rng.choice(ratios[0], DRAWS), 1.0)
        found = float((seen > stats.norm.isf(0.05)).mean())
        assert bounds.best_share(ratios, 0.05) == pytest.approx(found, abs=_near(found))


class TestSettings:
    """The bounds of the trials' own purchases."""

    @pytest.mark.parametrize("pieces", [1, 2, 4])
    def test_known_spread_has_a_closed_form(self, pieces: int) -> None:
        """Phi of a normal distance over a normal error is a Phi again.

        Steps that are sound by accident are left out of the trials, one in four hundred here.
        """
        setting = replace(SURE, pieces=pieces)
        own = (setting.spread.deviation**2 + setting.hand**2) ** 0.5
        for bound, distance, cut, error in (
            (bounds.step_bound, setting.least, 2**0.5 * setting.cut, own * (2 / pieces) ** 0.5),
            (
                bounds.size_bound,
                setting.step - setting.tolerance,
                (setting.cut**2 + setting.lot**2) ** 0.5,
                own / pieces**0.5,
            ),
        ):
            away = (distance / error - stats.norm.isf(0.05)) / (1 + (cut / error) ** 2) ** 0.5
            assert bound(setting, 0.05) == pytest.approx(stats.norm.cdf(away), abs=0.003)

    @pytest.mark.parametrize("pieces", [1, 2, 4])
    def test_a_risk_that_holds_for_every_spread_finds_a_little_less(self, pieces: int) -> None:
        """Spreads and cuts drawn as the trials draw them, each judged by who knows its spread."""
        rng = np.random.default_rng(SEED)
        prior = BODY.spread
        square = prior.deviation**2 + BODY.reading**2
        total = prior.worth * square / rng.chisquare(prior.worth, DRAWS)
        own = np.maximum(total - BODY.reading**2, 0) + BODY.hand**2
        steps = rng.normal(0, 2**0.5 * BODY.cut, DRAWS)
        missing = steps < BODY.least
        error = np.sqrt(own * 2 / pieces)[missing]
        found = float(bounds.power_known(BODY.least - steps[missing], error, 0.05).mean())
        assert found < bounds.step_bound(replace(BODY, pieces=pieces), 0.05) < found + 0.03

    def test_belief_against_the_whole_likelihood(self) -> None:
        """Readings of three sizes under both causes, and their likelihood ratio, simulated."""
        rng = np.random.default_rng(SEED)
        own = SURE.spread.deviation**2 + SURE.hand**2
        covariance = (own + SURE.cut**2) * np.eye(3) + SURE.lot**2
        shift = np.array([0.0, -SURE.step, 0.0])
        pull = np.linalg.solve(covariance, shift)
        sound = rng.multivariate_normal(np.zeros(3), covariance, DRAWS) @ pull
        missing = rng.multivariate_normal(shift, covariance, DRAWS) @ pull
        found = float((missing > np.quantile(sound, 0.95)).mean())
        assert bounds.believing_share(SURE, 0.05) == pytest.approx(found, abs=2 * _near(found))

    def test_rare_faults_make_most_finds_false(self) -> None:
        """Of 10 000 steps 100 are missing, 90 found; 9 900 sound, 495 called so: 495 of 585."""
        assert bounds.false_finds(0.9, 0.05, 0.01, 0.99) == pytest.approx(495 / 585)


def _found(plan: Plan, rounds: int) -> tuple[Tally, float]:
    tally = run(SEED, rounds, plan)
    share = tally.share("missing body_length shown", "missing body_length ranked")
    return tally, share


MISSING = Plan(cause="not_graded", point="body_length", whole_step=True)


@pytest.mark.parametrize("plan", [MISSING, replace(MISSING, each=2, colours=2)])
def test_the_core_keeps_the_bound_and_comes_near_it(plan: Plan) -> None:
    """Within four standard errors; no more than a tenth is lost by having to judge the spread."""
    tally, share = _found(plan, 250)
    bound = bounds.step_bound(setting(plan, "body_length"), 0.05)
    error = 4 * (bound * (1 - bound) / tally.counts["missing body_length ranked"]) ** 0.5
    assert bound - 0.1 - error < share < bound + error


def test_a_core_that_claims_too_much_is_above_the_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """Limits that are far too narrow find more than any honest test can."""
    real = limits.t_quantile
    monkeypatch.setattr(limits, "t_quantile", lambda chance, freedom: real(chance, freedom) / 4)
    tally, share = _found(MISSING, 100)
    bound = bounds.step_bound(BODY, 0.05)
    assert share > bound + 4 * (bound * (1 - bound) / tally.counts["rounds"]) ** 0.5
