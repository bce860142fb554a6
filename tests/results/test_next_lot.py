"""What lots say of each other and of the next: published numbers, and a simulated truth."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from numpy.typing import NDArray

from blankbook.records.model import Delivery, Prior, Source
from blankbook.results.causes.point_likelihood import COLOUR_SHARE
from blankbook.results.causes.point_readings import Target
from blankbook.results.judge_blank import judge
from blankbook.results.ordering.lot_outcomes import MissingStep, wrong_given
from blankbook.results.over_lots.expected_lots import Believed
from blankbook.results.over_lots.next_lot import lot_forecast
from blankbook.results.over_lots.next_lot_sizes import NextLotSizes, next_lot_sizes
from blankbook.results.result_types import Case, Lot, Spread
from made_blanks import blank, measured, piece, shop
from published.tables import rows

Mean = NDArray[np.float64]
LEVEL, SCALE = 1527.5, 20.0
TIGHT = Spread(3.0, 200.0, 0.0, "shop", 0.8, 0.6)
SHOPS = 1200
SLACK = 2 * (0.05 * 0.95 / SHOPS) ** 0.5
CERTAIN = 1e5


def lot_of(values: Sequence[float]) -> Lot:
    """Return a lot of one size and colour, by its pieces' distances from the chart."""
    off = float(np.mean(values))
    return Lot(measured(), off, len(values), tuple(("M", v) for v in values), {"M": off})


@pytest.mark.published
def test_dyestuff_is_expected_where_lme4_puts_the_next_batch() -> None:
    """lme4 prints 42.00 between batches, 49.51 within and 1527.50 for these six batches (REML).

    With just these deviations the next mean of five lies about 1527.50 with variance (42.00^2 +
    49.51^2 / 5) (1 + 1/6), and 1.645 is the normal quantile of every table. The yields are held
    against their mean, in units small beside what may be unknown of a style's level.
    """
    groups: dict[str, list[float]] = {}
    for row in rows("variation/dyestuff.csv"):
        groups.setdefault(row["batch"], []).append((float(row["yield"]) - LEVEL) / SCALE)
    between = 42.00 / SCALE / (1 + COLOUR_SHARE**2) ** 0.5
    pieces = Spread(49.51 / SCALE, CERTAIN, 0.0, "shop", 0.0, 0.0)
    lots = [lot_of(values) for values in groups.values()]
    coming = lot_forecast(lots, Believed(pieces, Prior(between, CERTAIN)), 0.05).next
    half = 1.645 * ((42.00**2 + 49.51**2 / 5) * (1 + 1 / 6)) ** 0.5
    assert coming.mean * SCALE + LEVEL == pytest.approx(1527.50, abs=0.05)
    assert (coming.high - coming.mean) * SCALE == pytest.approx(half, rel=0.01)


def drawn(rng: np.random.Generator, counts: Sequence[int], between: float) -> list[Lot]:
    """Return lots of so many pieces of one size, drawn with deviation 3 within."""
    return [lot_of(rng.normal(rng.normal(0, between), 3.0, count).tolist()) for count in counts]


@pytest.mark.parametrize("counts", [[4], [4, 4], [2, 5, 3], [4] * 6, [2, 6, 4, 3, 6, 2], [4] * 15])
def test_the_next_lot_lies_within_its_limits_as_often_as_stated(counts: list[int]) -> None:
    """Each limit holds 95 times in 100, whatever the number of lots, to two standard errors.

    How far lots differ is drawn as it is believed: scaled inverse chi-square.
    """
    rng = np.random.default_rng(20261125)
    believed = Believed(TIGHT, Prior(1.5, 6.0))
    below = above = 0
    for _ in range(SHOPS):
        between = 1.5 * (6 / rng.chisquare(6) * (1 + COLOUR_SHARE**2)) ** 0.5
        *lots, coming = drawn(rng, [*counts, counts[-1]], between)
        found = lot_forecast(lots, believed, 0.05)
        below += coming.off < found.next.low
        above += coming.off > found.next.high
    for missed in (below, above):
        assert missed / SHOPS == pytest.approx(0.05, abs=SLACK + 0.005)


def test_several_readers_make_the_next_lot_less_sure() -> None:
    """What one reads differently is in each lot; with one reader it is in all alike."""
    believed = Believed(replace(TIGHT, people=2.0), Prior(1.5, 6.0))
    lots = drawn(np.random.default_rng(1), [4, 4, 4], 1.5)
    other = [replace(lots[0], round=replace(lots[0].round, by="mo")), *lots[1:]]
    limits, two = (lot_forecast(chosen, believed, 0.05).next for chosen in (lots, other))
    alone = lot_forecast(lots, replace(believed, pieces=TIGHT), 0.05).next
    assert two.error > limits.error
    assert limits.error == pytest.approx(alone.error, rel=0.01)


@pytest.mark.parametrize("between", [1.2, 2.0, 5.0])
def test_many_lots_show_how_far_they_differ(between: float) -> None:
    """Thirty lots leave little of what was believed, and the limits hold the truth."""
    rng = np.random.default_rng(7)
    believed = Believed(TIGHT, Prior(1.5, 6.0))
    ahead = lot_forecast(drawn(rng, [6] * 30, between), believed, 0.01)
    own = between / (1 + COLOUR_SHARE**2) ** 0.5
    assert ahead.between.low < own < ahead.between.high
    assert ahead.assumed < 0.5


def rounds_of(*lots: tuple[str, Mapping[str, str]], wrong: str = "") -> Case:
    """Return a blank of lots with two pieces a size: half chests by tag; one has a *wrong* tag."""
    made = [
        measured(
            *(
                piece(
                    f"{tag}-{n}",
                    wrong if wrong and (tag, n) == ("L", 2) else tag,
                    name,
                    half_chest=chest,
                )
                for tag, chest in chests.items()
                for n in (1, 2, 3)
            ),
            key=f"2026-0{at + 1}-20-lot",
            lot=name,
            day=date(2026, at + 1, 20),
        )
        for at, (name, chests) in enumerate(lots)
    ]
    return judge(blank(*made), shop()).case


AS_CHARTED = {"S": "18", "M": "20", "L": "22"}


def point_of(ahead: NextLotSizes, point: str = "half_chest") -> tuple[Mean, Mean]:
    """Return where the sizes of the next lot are expected at a point, and their deviations."""
    at = [own.point for own in ahead.points].index(point)
    mean = ahead.chance @ ahead.mean[:, at]
    variance = np.diagonal(ahead.covariance[:, at], axis1=1, axis2=2)
    square = ahead.chance @ (variance + ahead.mean[:, at] ** 2)
    return mean, (square - mean**2) ** 0.5


def test_next_lot_is_less_sure_than_the_one_that_was_measured() -> None:
    """What lots differ by is added; many pieces do not take it away."""
    case = rounds_of(("A", AS_CHARTED))
    mean, deviation = point_of(next_lot_sizes(case))
    this = case.posterior.limits("half_chest", "M", "", 0.05)
    assert (np.abs(mean[:3]) < 0.5).all()
    assert (deviation > max(this.error, case.spreads["half_chest"].between_lots)).all()


def test_a_size_that_nobody_measured_is_the_least_sure() -> None:
    _, deviation = point_of(next_lot_sizes(rounds_of(("A", AS_CHARTED))))
    assert deviation[3] > 1.5 * deviation[2]


def test_a_lot_that_was_off_says_little_of_the_next() -> None:
    """A style half a size large is expected so again; one bad lot after a good one is not."""
    large = {"S": "19", "M": "21", "L": "23"}
    both, bad = rounds_of(("A", large), ("B", large)), rounds_of(("A", AS_CHARTED), ("B", large))
    offs = [point_of(next_lot_sizes(case))[0][1] / 25.4 for case in (both, bad)]
    assert offs[0] > 0.8
    assert offs[1] < 0.5


CHESTS = (AS_CHARTED, {"S": "18", "M": "20", "L": "20"}, {"S": "18 1/4", "M": "20", "L": "22 1/2"})


@pytest.mark.parametrize("chests", CHESTS)
def test_it_is_what_the_posterior_says_of_each_size_and_step(chests: Mapping[str, str]) -> None:
    """The chances of sizes off their chart, and alike, are those of the one model of a blank.

    That model gives each of them by itself; here the sizes are taken together, and the ways in
    which the spread is averaged over are normal: to half a point.
    """
    case = rounds_of(("A", chests))
    ahead, sizes = next_lot_sizes(case), case.blank.style.sizes
    at = [own.point for own in ahead.points].index("half_chest")
    targets = [one.in_next_lot for one in case.posterior.every["half_chest"].alone(sizes)]
    allowed, half = ahead.points[at].allowed, ahead.points[at].half_steps
    inside = tuple(
        replace(one, low=-most, high=most) for one, most in zip(targets, allowed, strict=True)
    )
    apart = tuple(
        Target(low.size, high.size, low.groups, -least, np.inf)
        for low, high, least in zip(targets, targets[1:], half, strict=False)
    )
    mean, covariance = ahead.mean[:, [at]], ahead.covariance[:, [at]][:, :, :, :]
    alike, wrong = wrong_given([ahead.points[at]], (), mean, covariance)
    core = case.posterior.chances("half_chest", inside)
    for place, one in enumerate(inside[:3]):
        assert ahead.chance @ wrong[:, place] == pytest.approx(1 - core[one], abs=0.005)
    assert not alike.any()
    for place, (one, chance) in enumerate(case.posterior.chances("half_chest", apart).items()):
        if one.next_size in chests:
            step = MissingStep(0, place, place + 1)
            missing = wrong_given([ahead.points[at]], (step,), mean, covariance)[0]
            assert ahead.chance @ missing[:, place + 1] == pytest.approx(1 - chance, abs=0.005)


def test_a_wrong_tag_lets_more_be_expected() -> None:
    """Nothing known is one in a hundred; nine right tags are a little better, one wrong worse."""
    right, wrong = (next_lot_sizes(rounds_of(("A", AS_CHARTED), wrong=tag)) for tag in ("", "S"))
    assert right.wrong_tag < 0.01
    assert wrong.wrong_tag == pytest.approx((0.24 + 1) / (24 + 9), rel=0.05)


def test_tags_of_a_delivery_count_as_well() -> None:
    """Fifty tags that an inspection found right leave fewer to be expected wrong."""
    case = rounds_of(("A", AS_CHARTED))
    day, sizes = date(2026, 3, 2), {"M": 100}
    came = Delivery(Source("d.yaml"), "2026-03-02-a-delivery", "a/b", day, "rv", "B", sizes, 50)
    seen = replace(case.blank, deliveries=(came,))
    ahead = next_lot_sizes(replace(case, blank=seen))
    assert ahead.wrong_tag == pytest.approx(0.24 / (24 + 9 + 50), rel=0.05)


def test_of_a_style_that_nobody_measured_what_is_usual_is_assumed() -> None:
    """It is as likely to be off as the causes' weights say, and has the usual share of tags."""
    ahead = next_lot_sizes(judge(blank(), shop()).case)
    mean, deviation = point_of(ahead)
    assert not mean.any()
    assert (deviation > 5.0).all()
    assert len(ahead.chance) == 3
    assert ahead.wrong_tag == pytest.approx(0.01)
