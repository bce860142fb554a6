"""Orders against published numbers and general-purpose libraries."""

from decimal import Decimal
from math import comb

import numpy as np
import pytest
from scipy import stats

from blankbook.results.ordering.size_mix import SizeMix, given_mix, learned_mix
from blankbook.results.ordering.spoilage import (
    SpoiledCount,
    SpoiledShare,
    beta_binomial,
    chance_of_enough,
    spoiled_share,
    with_allowance,
)
from blankbook.results.ordering.stock_level import (
    critical_fractile,
    expected_cost,
    normal_loss,
    stock_level,
)


@pytest.mark.published
@pytest.mark.parametrize(("count", "alpha", "beta"), [(10, 1, 49), (120, 3.2, 88), (400, 0.5, 9)])
def test_beta_binomial_is_that_of_the_library(count: int, alpha: float, beta: float) -> None:
    """The chances are those of scipy.stats.betabinom."""
    wanted = stats.betabinom.pmf(np.arange(count + 1), count, alpha, beta)

    assert beta_binomial(count, alpha, beta) == pytest.approx(wanted, rel=1e-9, abs=1e-14)


@pytest.mark.published
def test_mixes_are_dirichlet_multinomial() -> None:
    """One size of a Dirichlet-multinomial is the sum over all others in scipy.stats."""
    mix = SizeMix(("S", "M", "L"), (2.0, 5.0, 3.0), 1)
    total = 7
    joint = stats.dirichlet_multinomial([2.0, 5.0, 3.0], np.array(total))
    wanted = [
        sum(joint.pmf([s, m, total - s - m]) for s in range(total - m + 1))
        for m in range(total + 1)
    ]

    assert mix.chances("M", total) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.published
def test_a_critical_fractile_buys_what_the_textbook_buys() -> None:
    """The newsstand of the textbook: the ratio, the normal quantile and the copies to buy.

    Source: Nahmias, Production and Operations Analysis, the newsstand with a normal demand of mean
    11.73 and deviation 4.74, bought at 0.25, sold at 0.75, returned at 0.10: the ratio is 0.77, and
    15 copies are bought. Quoted from memory.
    """
    fractile = critical_fractile(
        Decimal("0.75") - Decimal("0.25"), Decimal("0.25") - Decimal("0.10")
    )
    copies = np.arange(0, 60)
    demand = stats.norm(11.73, 4.74)
    # The book's normal is continuous; copies are whole, each with the half on either side of it.
    chances = demand.cdf(copies + 0.5) - demand.cdf(copies - 0.5)

    assert fractile == pytest.approx(0.77, abs=0.005)
    assert demand.ppf(fractile) == pytest.approx(15.24, abs=0.05)
    assert stock_level(chances / chances.sum(), fractile) == 15


def test_no_other_level_costs_less() -> None:
    """The fractile's level is the cheapest of all levels, worked out one by one."""
    chances = stats.nbinom(4, 0.2).pmf(np.arange(200))
    chances /= chances.sum()
    short, over = Decimal("7.30"), Decimal("2.45")
    level = stock_level(chances, critical_fractile(short, over))
    costs = [expected_cost(chances, at, short, over) for at in range(200)]

    assert costs[level] == pytest.approx(min(costs), rel=1e-12)


@pytest.mark.published
@pytest.mark.parametrize(
    ("z", "printed"),
    [(0.0, ".3989"), (0.5, ".1978"), (1.0, ".08332"), (1.5, ".02931"), (2.0, ".008491")],
)
def test_normal_loss_is_the_tabled_one(z: float, printed: str) -> None:
    """Source: Raiffa and Schlaifer 1961, table of the unit normal loss integral; from memory."""
    half = 0.5 * 10.0 ** -len(printed[1:])

    assert normal_loss(z) == pytest.approx(float(printed), abs=half)


def enough_by_hand(needed: int, spare: int, alpha: float, beta: float) -> float:
    """Return the chance that at most *spare* spoil, by the beta-binomial itself."""
    whole = needed + spare
    return float(stats.betabinom.cdf(spare, whole, alpha, beta))


def test_allowance_is_the_least_that_is_enough() -> None:
    """For one line, one shirt fewer on top would not be enough; both by scipy.stats.betabinom."""
    share = SpoiledShare(((1.0, 2.0, 78.0),), 0, 0, 0)
    line = ("black", "M")
    for needed in (5, 24, 60, 150):
        found = with_allowance({line: needed}, share, 0.95)
        spare = found.pieces[line] - needed

        assert found.chance == pytest.approx(enough_by_hand(needed, spare, 2, 78), abs=5e-4)
        assert enough_by_hand(needed, spare, 2, 78) >= 0.9495
        assert spare == 0 or enough_by_hand(needed, spare - 1, 2, 78) < 0.9505


def test_lines_share_what_spoils() -> None:
    """With a sure share, enough in every line is the product of the lines' binomials."""
    share = SpoiledShare(((1.0, 2e6, 98e6),), 0, 0, 0)
    needed = {("black", "M"): 20, ("black", "L"): 10}
    pieces = {("black", "M"): 21, ("black", "L"): 10}
    none_of_ten = 0.98**10
    one_of_21 = 0.98**21 + comb(21, 1) * 0.02 * 0.98**20

    assert chance_of_enough(pieces, needed, share) == pytest.approx(
        none_of_ten * one_of_21, abs=1e-4
    )


def test_earlier_orders_move_the_assumption() -> None:
    """Many shirts that spoiled seldom, or often, outweigh what was assumed; few hardly do."""
    assumed = spoiled_share([], 0.02, 50)
    seldom = spoiled_share([SpoiledCount(400, 2)] * 6, 0.02, 50)
    often = spoiled_share([SpoiledCount(400, 24)] * 6, 0.02, 50)
    once = spoiled_share([SpoiledCount(10, 1)], 0.02, 50)

    assert assumed.mean == pytest.approx(0.02, abs=0.001)
    assert seldom.mean < 0.01
    assert 0.05 < often.mean < 0.07
    assert once.is_assumed
    assert not often.is_assumed
    assert 0.015 < once.mean < 0.05
    low, high = often.count_limits(100, 0.05)
    assert low < 6 < high


def test_mix_of_earlier_orders() -> None:
    """Orders that are alike make a mix sure; one order, or orders that differ, leave it open."""
    sizes = ("S", "M", "L")
    alike = learned_mix(sizes, [{"S": 10, "M": 50, "L": 40}] * 5)
    apart = learned_mix(sizes, [{"S": 60, "M": 30, "L": 10}, {"S": 5, "M": 30, "L": 65}])
    assert alike
    assert apart

    assert alike.share("M") == pytest.approx(0.5, abs=0.01)
    assert alike.worth > apart.worth
    assert learned_mix(sizes, []) is None
    wide, narrow = apart.limits("M", 100, 0.05), alike.limits("M", 100, 0.05)
    assert wide[1] - wide[0] > narrow[1] - narrow[0]
    assert given_mix(sizes, {"S": 1, "M": 3}).share("M") == pytest.approx(0.75)
    off = alike.limits("M", 100, 0.05, deviation=20)
    assert off[1] - off[0] > narrow[1] - narrow[0]


def test_what_costs_nothing_has_no_fractile() -> None:
    """Without any cost there is no level to choose."""
    with pytest.raises(ValueError, match="must cost something"):
        critical_fractile(Decimal(0), Decimal(0))
