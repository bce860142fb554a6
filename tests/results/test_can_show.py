"""What so many pieces can show: one computation for page, terminal and data."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from blankbook.commands.vet_report import blank_sheet
from blankbook.pages import all_pages
from blankbook.pages.render import render_body
from blankbook.records.model import Blank
from blankbook.results.json_results import judged_data
from blankbook.results.judge_blank import judge
from blankbook.results.methods import purchase_power
from blankbook.results.methods.planning_grid import (
    FINE,
    QUICK,
    KnownSpread,
    PieceCounts,
    PlanningGrid,
)
from blankbook.results.methods.power_statements import times_in_100
from blankbook.results.planning import can_show as module
from blankbook.results.planning.can_show import can_show, required_at, showing_rows
from blankbook.results.planning.left_open import left_open
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer
from made_blanks import blank, measured, piece, shop
from markup import Markup

SIZES = ("S", "M", "L")


def bought(each: int) -> Blank:
    """Return one lot of so many pieces of three sizes, just as charted."""
    pieces = [
        piece(f"{size}-{n}", size, half_chest=str(18 + 2 * i), body_length=str(28 + i))
        for i, size in enumerate(SIZES)
        for n in range(each)
    ]
    return blank(measured(*pieces))


def judged(each: int) -> Judged:
    """Return the same, judged."""
    return judge(bought(each), shop())


def test_the_newest_round_is_what_is_reckoned_with() -> None:
    found = can_show(judged(2))
    assert found.purchases == (PieceCounts(3, 2),)
    assert [point.point for point in found.points] == ["half_chest", "body_length"]
    before = judged(2).case.spreads["half_chest"].freedom - 3
    assert found.points[0].known.freedom == before


@pytest.mark.parametrize("each", [1, 2, 4])
def test_the_chance_of_a_missing_step_is_the_plans_own(each: int) -> None:
    """The page's quick integral agrees with the fine one, which is proven against noncentral t."""
    case = judged(each).case
    (point,) = [p for p in can_show(judged(each)).points if p.point == "body_length"]
    asked = required_at(case, "body_length")
    fine = purchase_power.chance_missing_step(
        point.known, PieceCounts(3, each), asked.step, case.shop.risk
    )
    assert point.showings[0][0].chance == pytest.approx(fine, abs=0.001)


def every_chance(known: KnownSpread, buy: PieceCounts, grid: PlanningGrid) -> list[float]:
    """Return each chance that a page shows, integrated on *grid*."""
    return [
        purchase_power.chance_missing_step(known, buy, 25.4, 0.05, grid=grid),
        purchase_power.chance_step_true(known, buy, 12.7, 0.05, grid=grid),
        purchase_power.chance_meets(known, buy, 12.7, 0.05, in_sizes=3, grid=grid),
        purchase_power.chance_fails(known, buy, 12.7, 0.05, 25.4, in_sizes=3, grid=grid),
    ]


@pytest.mark.parametrize("deviation", [2.0, 3.5, 8.0])
@pytest.mark.parametrize("freedom", [2.0, 6.0, 30.0])
@pytest.mark.parametrize(
    "buy", [PieceCounts(1, 2), PieceCounts(3, 1), PieceCounts(4, 2, 2), PieceCounts(3, 9)]
)
def test_the_quick_grid_is_within_a_thousandth(
    deviation: float, freedom: float, buy: PieceCounts
) -> None:
    known = KnownSpread(deviation, freedom)
    assert every_chance(known, buy, QUICK) == pytest.approx(
        every_chance(known, buy, FINE), abs=0.001
    )


def test_a_blank_that_nobody_measured_is_told_of_one_two_and_four_pieces() -> None:
    found = can_show(judge(blank(), shop()))
    assert [buy.each for buy in found.purchases] == [1, 2, 4]
    assert {buy.sizes for buy in found.purchases} == {3}
    for row in showing_rows(found):
        chances = [chance for chance in row.chances if chance is not None]
        assert chances == sorted(chances)


def test_less_may_be_allowed_below_a_step_than_above() -> None:
    """Drawn: both limits of a step between 1/2 in under and 1 in over; 20,000 purchases."""
    rng = np.random.default_rng(3)
    known, buy, steps = KnownSpread(4.0, 8.0), PieceCounts(2, 3), 20_000
    errors = rng.normal(0, 1, steps) * 4.0 * (2 / 3) ** 0.5
    squares = 8.0 * 16 + 16 * rng.chisquare(4, steps)
    half = stats.t.ppf(0.95, 12) * np.sqrt(squares / 12 * 2 / 3)
    inside = ((errors - half >= -12.7) & (errors + half <= 25.4)).mean()
    ours = purchase_power.chance_step_true(known, buy, 25.4, 0.05, true_deviation=4.0, under=12.7)
    assert ours == pytest.approx(inside, abs=3 * (0.25 / steps) ** 0.5)


@pytest.mark.parametrize("off", [0.0, 9.0, 20.0])
def test_what_one_reader_brings_is_in_every_mean_alike(off: float) -> None:
    """Drawn: 20,000 rounds of three sizes, each read by one person who reads 2 mm differently."""
    rng = np.random.default_rng(5)
    known, buy, rounds = KnownSpread(4.0, 8.0, 2.0, 10.0), PieceCounts(3, 4), 20_000
    reader = rng.normal(0, 2.0, (rounds, 1))
    means = off + reader + rng.normal(0, 4.0 / 2, (rounds, 3))
    square = (8.0 * 16 + 16 * rng.chisquare(9, (rounds, 1))) / 17
    own, shared = 16 / 4, 4.0
    freedom = (own + shared) ** 2 / (own**2 / 17 + shared**2 / 10)
    half = stats.t.ppf(0.95, freedom) * np.sqrt(square / 4 + shared)
    meets = ((means - half >= -12.7) & (means + half <= 12.7)).all(axis=1).mean()
    fails = ((means - half > 12.7) | (means + half < -12.7)).any(axis=1).mean()
    error = 3 * (0.25 / rounds) ** 0.5
    given = {"in_sizes": 3, "true_deviation": 4.0}
    ours = purchase_power.chance_meets(known, buy, 12.7, 0.05, off, **given)  # type: ignore[arg-type]
    assert ours == pytest.approx(meets, abs=error)
    ours = purchase_power.chance_fails(known, buy, 12.7, 0.05, off, **given)  # type: ignore[arg-type]
    assert ours == pytest.approx(fails, abs=error)


def test_a_step_is_the_difference_of_what_one_reader_reads() -> None:
    """Nothing of the reader is left in it."""
    chances = [
        purchase_power.chance_missing_step(
            KnownSpread(4.0, 8.0, shared), PieceCounts(3, 2), 25.4, 0.05
        )
        for shared in (0.0, 3.0)
    ]
    assert chances[0] == chances[1]


def test_wrong_labels_are_binomial() -> None:
    (labels,) = can_show(judged(2)).labels
    assert labels.chance == pytest.approx(stats.binom.sf(0, 6, 0.1), abs=1e-12)


def test_what_the_tolerance_covers_is_never_promised() -> None:
    """Half a step of 1 in is the tolerance itself: only chance would show it to fail."""
    (row,) = [
        r for r in showing_rows(can_show(judged(2))) if "is inside the tolerance (1/2 in)" in r.what
    ]
    assert (row.chances, row.enough) == ((None,), "")


@pytest.mark.parametrize("blank", [bought(2), blank()], ids=["measured", "not measured"])
def test_page_terminal_and_data_show_the_same(blank: Blank) -> None:
    found = judge(blank, shop())
    page = " ".join(Markup(render_body(all_pages.blank_page(found, shop()))).text.split())
    sheet = " ".join(blank_sheet(found, every=True).split())
    data = judged_data(found)["can_show"]
    for row in showing_rows(can_show(found)):
        assert row.what in page.replace("\N{NO-BREAK SPACE}", " ")
        assert row.what in sheet
        said = ", ".join(times_in_100(chance) for chance in row.chances if chance is not None)
        assert said in sheet
    shown = can_show(found).points[0].showings
    assert data["points"]["half_chest"]["shows"][0][0]["chance"] == pytest.approx(
        shown[0][0].chance
    )
    assert data["measured"] is (found.case.round is not None)


@pytest.mark.parametrize("each", [1, 3])
def test_all_tags_right_still_leaves_a_share_open(each: int) -> None:
    """The exact upper limit of none in n: scipy's binomtest says the same."""
    found = judged(each)
    open_ = left_open(found, "label")
    if any(r.answer != "meets" for r in found.of("label")):
        pytest.skip("one piece each does not show every tag to be right")
    assert open_
    limit = stats.binomtest(0, 3 * each, alternative="less").proportion_ci(0.95).high
    assert open_.share == pytest.approx(limit, abs=1e-9)
    assert open_.says in " ".join(blank_sheet(found, every=True).split())
    page = Markup(render_body(all_pages.blank_page(found, shop()))).text
    assert open_.says.capitalize() in page
    assert judged_data(found)["left_open"]["label"]["pieces"] == 3 * each


def test_nothing_is_said_where_a_tag_is_not_shown_to_be_right() -> None:
    found = judged(2)
    results = tuple(
        replace(r, answer=Answer.NOT_SHOWN) if r.check == "label" else r for r in found.results
    )
    assert left_open(replace(found, results=results), "label") is None


def test_a_thousand_like_blanks_do_not_pay_a_thousand_times() -> None:
    module._shown.cache_clear()
    several = [judged(each) for each in (1, 2, 3)]
    for like in several * 50:
        can_show(like)
    assert module._shown.cache_info().misses <= 2 * len(several)
