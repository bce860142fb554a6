"""What a further look is worth, against a published value and against drawing it out."""

from collections.abc import Sequence

import numpy as np
import pytest
from scipy import stats

from blankbook.results.ordering.coming_lot import ComingLot, ComingWash
from blankbook.results.ordering.further_look import (
    FEWEST,
    SHOWN,
    Look,
    Stake,
    Teaching,
    looks_for,
    value_of_look,
)
from blankbook.results.ordering.lot_outcomes import MissingStep, wrong_given, wrong_sizes
from blankbook.results.ordering.stock_level import normal_loss
from blankbook.results.over_lots.next_lot_sizes import MOST_WAYS, NextLotPoint, NextLotSizes

SIZES = ("M", "L")
POINT = NextLotPoint("half_chest", np.full(2, 12.7), np.array([25.4]), 16.0)
LOT = 4.0


def lot(
    mean: float = 0.0, deviation: float = 6.0, ways: Sequence[tuple[float, float]] = ((1.0, 0.0),)
) -> ComingLot:
    """Return a lot of two sizes at one point, with a tolerance of 12.7 mm and steps of 50.8.

    Each of *ways* has a chance, and millimetres by which both sizes are larger.
    """
    chance, moved = np.array(ways).T
    variance = np.diag([deviation**2, deviation**2]) + LOT
    means = np.array([[[mean + by, by]] for by in moved])
    shape = (len(chance), 1, 2, 2)
    fresh = np.full(shape, LOT)
    return ComingLot(
        NextLotSizes(SIZES, (POINT,), chance, means, np.broadcast_to(variance, shape), fresh, 0.0),
        (),
    )


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
        value_of_look(doubtful, STAKES, Look("coming lot", SIZES, n), 2000) for n in (1, 2, 8, 500)
    ]
    chances = wrong_sizes(doubtful).any
    wrong = chances * 400.0
    perfect = float(np.minimum(wrong, 100.0).sum() - (chances * 100.0).sum())

    assert values == sorted(values)
    assert values[0] >= 0
    assert values[-1] == pytest.approx(perfect, rel=0.05)


def test_what_is_known_is_not_worth_a_look() -> None:
    """A size that is surely right, or surely wrong, is ordered or left out without a look."""
    for mean in (0.0, 60.0):
        known = lot(mean=mean, deviation=1.0)
        assert value_of_look(known, STAKES, Look("coming lot", ("M",), 4), 400) < 0.5


def test_another_lot_tells_less_than_the_lot_that_comes() -> None:
    """It shows how the style is cut, and not how the coming lot is."""
    known = lot(mean=12.0, deviation=0.5)
    here = value_of_look(known, STAKES, Look("coming lot", SIZES, 4), 400)
    there = value_of_look(known, STAKES, Look("another lot", SIZES, 4), 400)

    assert here > 5.0
    assert there < here / 2


def test_it_is_what_drawing_lots_and_deciding_gives() -> None:
    """Drawn out by brute force: a lot, its pieces, the better act, and what it then costs.

    Two ways are possible, and a look tells them apart as well.
    """
    ways = ((0.7, 0.0), (0.3, 8.0))
    doubtful = lot(mean=5.0, ways=ways)
    look = Look("coming lot", ("M",), 2)
    chance = np.random.default_rng(5)
    moved = np.where(chance.random(400000) < ways[0][0], ways[0][1], ways[1][1])
    true = 5.0 + moved + chance.normal(0, (36.0 + LOT) ** 0.5, len(moved))
    seen = true + chance.normal(0, (16.0 / 2) ** 0.5, len(true))
    wrong = np.abs(true) > 12.7
    # Alike outcomes, four hundred of them, stand for one another: no formula of the posterior.
    order = np.argsort(seen)
    shares = wrong[order].reshape(400, 1000).mean(axis=1)
    saved = min(wrong.mean() * 400.0, 100.0) - np.minimum(shares * 400.0, 100.0).mean()

    value = value_of_look(doubtful, STAKES[:1], look, 4000)
    assert value == pytest.approx(saved, rel=0.03)
    assert value_of_look(doubtful, STAKES[:1], look) == pytest.approx(saved, rel=0.15)


@pytest.mark.parametrize(
    ("mean", "spread"), [((0, 0), 6), ((8, -14), 9), ((-6, -20), 3), ((0, -26), 2)]
)
def test_off_or_alike_is_what_drawing_lots_gives(mean: tuple[float, float], spread: float) -> None:
    """Two sizes drawn 200,000 times: off the chart, or without half a step between them."""
    covariance = spread**2 * np.array([[1.0, 0.3], [0.3, 1.0]])
    chance = np.random.default_rng(6)
    true = chance.multivariate_normal(mean, covariance, 200000)
    off = np.abs(true) > POINT.allowed
    alike = true[:, 1] - true[:, 0] < -25.4

    given = wrong_given(
        (POINT,), (MissingStep(0, 0, 1),), np.array([mean], float), covariance[None]
    )
    assert given[0] == pytest.approx([0.0, alike.mean()], abs=0.004)
    assert given[1] == pytest.approx([off[:, 0].mean(), (off[:, 1] | alike).mean()], abs=0.004)


def test_outcomes_of_a_look_leave_the_chances_as_they_are_on_average() -> None:
    """What is expected after a look is what is expected before it (law of total probability)."""
    doubtful = lot(mean=9.0, ways=((0.6, 0.0), (0.4, -12.0)))
    after, weights = Teaching(doubtful.measures, Look("coming lot", SIZES, 2)).chances_after(4000)

    assert weights.sum() == pytest.approx(1.0)
    assert weights @ after == pytest.approx(wrong_sizes(doubtful).any, abs=0.005)


def test_washing_some_tells_whether_the_lot_shrinks() -> None:
    """Worth something where the change is near the limit, and nothing where it is far from it."""

    def washed(mean: float) -> ComingLot:
        wash = ComingWash("along", mean, 1.5, 0.8, 6.0, 0)
        return ComingLot(lot().measures, (wash,))

    assert value_of_look(washed(-5.5), STAKES, Look("wash", ("M",), 2)) > 20
    assert value_of_look(washed(-0.1), STAKES, Look("wash", ("M",), 2)) < 0.5


def test_the_work_of_an_order_is_bounded() -> None:
    """Looks, ways and outcomes have a most each, whatever was measured and however many sizes."""
    sizes = [f"{n}XL" for n in range(2, 14)]
    stakes = [Stake(size, 400.0, 100.0) for size in sizes]
    looks = list(looks_for(stakes, dict.fromkeys(sizes, 0.1)))
    ways = [(1 / MOST_WAYS, float(by)) for by in range(MOST_WAYS)]
    seen, _ = Teaching(lot(ways=ways).measures, Look("coming lot", SIZES, 1)).chances_after(SHOWN)

    assert len(looks) <= 29
    assert len(seen) <= SHOWN + (FEWEST + 2) * MOST_WAYS
