"""What a further look is worth, against a published value and against drawing it out."""

import numpy as np
import pytest
from scipy import stats

from blankbook.results.ordering.coming_lot import ComingLot, ComingPoint, ComingWash
from blankbook.results.ordering.further_look import Look, Stake, value_of_look
from blankbook.results.ordering.lot_outcomes import wrong_sizes
from blankbook.results.ordering.stock_level import normal_loss

SIZES = ("M", "L")


def lot(mean: float = 0.0, deviation: float = 6.0, odd: float = 0.0) -> ComingLot:
    """Return a lot of two sizes at one point, with a tolerance of 12.7 mm and steps of 50.8."""
    variance = deviation**2
    rows = ((variance + 4.0, 4.0), (4.0, variance + 4.0))
    point = ComingPoint("half_chest", (mean, 0.0), rows, 4.0, 600.0, 16.0, 12.7, (50.8,))
    return ComingLot(SIZES, (point,), (), 0.0, 0, 1, odd)


STAKES = (Stake("M", 400.0, 100.0), Stake("L", 400.0, 100.0))


@pytest.mark.published
def test_value_of_information_is_the_normal_loss() -> None:
    """For two acts with a linear, normal difference, the value is slope x deviation x loss.

    Source: Raiffa and Schlaifer 1961, section 5.4 and table of L_N*: EVSI = t s* L_N*(D*). A case
    of our own: a prior mean of 3 and deviation 5 against 0, sampled with an error of 5 / sqrt(2);
    the deviation of the posterior mean is 5 x sqrt(2/3).
    """
    prior, noise, mean = 25.0, 12.5, 3.0
    spread = prior / (prior + noise) ** 0.5
    value = spread * normal_loss(mean / spread)
    draws = mean + spread * stats.norm.ppf((np.arange(200000) + 0.5) / 200000)
    drawn = np.maximum(-draws, 0).mean()

    assert spread == pytest.approx(5 * (2 / 3) ** 0.5)
    assert value == pytest.approx(drawn, rel=1e-3)


def test_a_look_never_costs_to_know_and_more_pieces_show_more() -> None:
    """The value is not negative, and grows with the pieces; knowing all is the most it can be."""
    doubtful = lot(mean=11.0)
    values = [
        value_of_look(doubtful, STAKES, Look("coming lot", SIZES, n), 400, 400)
        for n in (1, 2, 8, 500)
    ]
    chances = wrong_sizes(doubtful, 20000).any
    wrong = chances * 400.0
    perfect = float(np.minimum(wrong, 100.0).sum() - (chances * 100.0).sum())

    assert values == sorted(values)
    assert values[0] >= 0
    assert values[-1] == pytest.approx(perfect, rel=0.05)


def test_what_is_known_is_not_worth_a_look() -> None:
    """A size that is surely right, or surely wrong, is ordered or left out without a look."""
    for mean in (0.0, 60.0):
        known = lot(mean=mean, deviation=1.0)
        assert value_of_look(known, STAKES, Look("coming lot", ("M",), 4), 400, 400) < 0.5


def test_another_lot_tells_less_than_the_lot_that_comes() -> None:
    """It shows how the style is cut, and not how the coming lot is."""
    odd = lot(mean=6.0, deviation=3.0, odd=0.2)
    here = value_of_look(odd, STAKES, Look("coming lot", SIZES, 2), 400, 400)
    there = value_of_look(odd, STAKES, Look("another lot", SIZES, 2), 400, 400)

    assert here > 5.0
    assert there < here / 2


def test_it_is_what_drawing_lots_and_deciding_gives() -> None:
    """Drawn out by brute force: a lot, its pieces, the better act, and what it then costs."""
    doubtful = lot(mean=9.0)
    look = Look("coming lot", ("M",), 2)
    (point,) = doubtful.points
    chance = np.random.default_rng(5)
    covariance = np.array(point.covariance)
    true = np.array(point.mean) + chance.multivariate_normal((0, 0), covariance, 400000)
    seen = true[:, 0] + chance.normal(0, (16.0 / 2) ** 0.5, len(true))
    wrong = np.abs(true[:, 0]) > 12.7
    # Alike outcomes, four hundred of them, stand for one another: no formula of the posterior.
    order = np.argsort(seen)
    shares = wrong[order].reshape(400, 1000).mean(axis=1)
    saved = min(wrong.mean() * 400.0, 100.0) - np.minimum(shares * 400.0, 100.0).mean()

    value = value_of_look(doubtful, STAKES[:1], look, 2000, 2000)
    assert value == pytest.approx(saved, rel=0.03)


def test_washing_some_tells_whether_the_lot_shrinks() -> None:
    """Worth something where the change is near the limit, and nothing where it is far from it."""

    def washed(mean: float) -> ComingLot:
        wash = ComingWash("along", mean, 1.5, 0.8, 6.0, 0)
        return ComingLot(SIZES, (), (wash,), 0.0, 0, 1, 0.0)

    assert value_of_look(washed(-5.5), STAKES, Look("wash", ("M",), 2)) > 20
    assert value_of_look(washed(-0.1), STAKES, Look("wash", ("M",), 2)) < 0.5
