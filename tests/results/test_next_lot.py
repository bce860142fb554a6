"""What lots say of each other and of the next: published numbers, and a simulated truth."""

import datetime
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from blankbook.records.lengths import Length
from blankbook.records.model import Chart, Piece, Prior, Round, Source
from blankbook.results.judge_blank import judge
from blankbook.results.methods.variance_components import analyse_lots, between_limits
from blankbook.results.over_lots.next_lot import lot_forecast
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Lot, Spread
from made_blanks import blank, measured, shop, single_result
from published.tables import rows

LEVEL = 1500
TIGHT = Spread(3.0, 200.0, 0.0, "shop", 0.8, 0.6)
SHOPS = 2500
SLACK = 2 * (0.05 * 0.95 / SHOPS) ** 0.5


def yields() -> dict[str, list[int]]:
    """Return the six batches of Davies and Goldsmith 1972, Statistical Methods, table 6.1."""
    groups: dict[str, list[int]] = {}
    for row in rows("variation/dyestuff.csv"):
        groups.setdefault(row["batch"], []).append(int(row["yield"]))
    return groups


def batch(number: int, name: str, values: Sequence[int]) -> Round:
    """Return a lot whose half chests are the yields of a batch, in millimetres."""
    pieces = [
        Piece(
            Source("r.yaml"),
            f"M-{at}",
            "M",
            "black",
            name,
            {"half_chest": (Length(Fraction(value), value, str(value), "mm"),)},
        )
        for at, value in enumerate(values)
    ]
    day = datetime.date(2025, 1 + number, 10)
    return measured(*pieces, key=f"{day}-lot", lot=name, day=day)


@pytest.mark.published
def test_dyestuff_through_the_check() -> None:
    """lme4 prints 42.00 between batches and 49.51 within for these six batches (REML)."""
    target = {"half_chest": Length(Fraction(LEVEL), LEVEL, str(LEVEL), "mm")}
    held = Chart(datetime.date(2024, 1, 1), "sheet", "mm", {"M": target})
    lots = [batch(n, name, values) for n, (name, values) in enumerate(yields().items())]
    judged = judge(blank(*lots, sizes=("M",), charts=(held,)), shop())
    result = single_result(judged, "lots", point="half_chest")

    between, within = result.number(Quantity.BETWEEN_LOTS), result.number(Quantity.WITHIN_LOTS)
    coming = result.number(Quantity.NEXT_LOT)
    assert between
    assert within
    assert coming
    assert coming.low is not None
    assert coming.high is not None
    assert between.value == pytest.approx(42.00, abs=0.005)
    assert within.value == pytest.approx(49.51, abs=0.005)
    # lme4's fixed effect is 1527.50; t(0.95, 5) is 2.015 in every table of Student's t, and the
    # mean square between batches is 11271.5 (worked out from the table of yields).
    assert coming.value == pytest.approx(1527.5 - LEVEL, abs=0.005)
    half = 2.015 * (11271.5 / 5 * (1 + 1 / 6)) ** 0.5
    assert coming.high - coming.value == pytest.approx(half, abs=0.0005 * half)
    assert "by these lots" in result.reason


def test_sizes_cut_in_their_own_way_are_no_spread_within_lots() -> None:
    """A size that runs large in every lot alike changes neither part."""
    plain = [[("M", 1.0), ("M", 2.0), ("L", 1.5)], [("M", 4.0), ("L", 3.0), ("L", 5.0)]]
    cut = [[(size, v + 9 * (size == "L")) for size, v in lot] for lot in plain]
    first, second = analyse_lots(plain), analyse_lots(cut)
    assert first.between.squares == pytest.approx(second.between.squares)
    assert first.within.squares == pytest.approx(second.within.squares)


def test_lots_and_sizes_that_cannot_be_told_apart_are_refused() -> None:
    with pytest.raises(ValueError, match="told apart"):
        analyse_lots([[("S", 1.0), ("S", 2.0)], [("M", 3.0), ("M", 4.0)]])


def drawn(rng: np.random.Generator, counts: Sequence[int], between: float) -> list[Lot]:
    """Return lots of so many pieces of one size, drawn with deviation 3 within."""
    lots = []
    for count in counts:
        values = rng.normal(rng.normal(0, between), 3.0, count)
        lots.append(Lot(measured(), float(values.mean()), count, tuple(("M", v) for v in values)))
    return lots


@pytest.mark.parametrize(
    ("counts", "between"),
    [
        ([4] * 6, 0.0), ([4] * 6, 3.0), ([2, 6, 4, 3, 6, 2], 2.0), ([4], 1.5), ([2, 5, 3], 1.5),
    ],
)  # fmt: skip
def test_the_next_lot_lies_within_its_limits_as_often_as_stated(
    counts: list[int], between: float
) -> None:
    """Each limit holds 95 times in 100 over 2,500 shops, to two standard errors.

    With fewer than five lots the stated spread between lots is the true one; its worth of freedom
    makes the limits wider than a known spread needs, so there they hold at least as often.
    """
    rng = np.random.default_rng(20261125)
    spread, stated = TIGHT, Prior(1.5, 6.0)
    below = above = 0
    for _ in range(SHOPS):
        lots = drawn(rng, counts, between)
        found = lot_forecast(lots, spread, stated, 0.05)
        mean = rng.normal(rng.normal(0, between), 3.0 / found.pieces**0.5)
        below += mean < found.next.low
        above += mean > found.next.high
    assert max(below, above) / SHOPS <= 0.05 + SLACK
    if len(counts) >= 5:
        assert min(below, above) / SHOPS >= 0.05 - SLACK


def test_several_readers_make_the_next_lot_less_sure() -> None:
    """What one reads differently is in each lot; with one reader it is in all alike."""
    spread = replace(TIGHT, people=2.0)
    rng = np.random.default_rng(1)
    lots = drawn(rng, [4, 4, 4], 1.5)
    other = [replace(lots[0], round=replace(lots[0].round, by="mo")), *lots[1:]]
    limits, two = (
        lot_forecast(chosen, spread, Prior(1.5, 6.0), 0.05).next for chosen in (lots, other)
    )
    assert two.error > limits.error
    assert limits == lot_forecast(lots, TIGHT, Prior(1.5, 6.0), 0.05).next


@pytest.mark.parametrize("between", [0.0, 2.0, 6.0])
def test_the_spread_between_lots_lies_within_its_limits(between: float) -> None:
    """Williams 1962: each limit is wrong at most with the stated risk."""
    rng = np.random.default_rng(7)
    low = high = 0
    for _ in range(SHOPS):
        lots = drawn(rng, [4] * 6, between)
        least, most = between_limits(analyse_lots([lot.values for lot in lots]), 0.05)
        low += least > between
        high += most < between
    assert max(low, high) / SHOPS <= 0.05 + SLACK
