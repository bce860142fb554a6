"""What so many pieces can show: one computation for page, terminal and data."""

from dataclasses import replace
from statistics import fmean

import numpy as np
import pytest
from scipy import stats

from blankbook.commands.vet_report import blank_sheet
from blankbook.pages import all_pages
from blankbook.pages.render import render_body
from blankbook.records.model import Blank
from blankbook.results.json_results import judged_data
from blankbook.results.judge_blank import judge
from blankbook.results.number_words import times_in_100
from blankbook.results.planning.approval import PieceCounts, approval_chance, fewest
from blankbook.results.planning.can_show import (
    can_show,
    required_at,
    shown_by_purchases,
)
from blankbook.results.planning.left_open import left_open
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer
from made_blanks import blank, measured, piece, shop
from markup import Markup
from trials import shops
from trials.worlds import Plan, Style, World, ungraded

SIZES = ("S", "M", "L")
SOUND = ((0.0, 0.0, 0.0),) * 2


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
    assert [one.point for one in found.asked] == ["half_chest", "body_length"]
    worth = shop().spread["half_chest"].worth
    assert found.asked[0].spread.freedom == worth, "what it taught must not count as known before"


def test_approval_of_a_sound_style_comes_first() -> None:
    assert can_show(judged(2)).rows[0].key == "approved"


def judged_to_meet(world: World, plan: Plan, rounds: int, missing: bool = False) -> float:
    """Return how often simulated rounds are judged to be sound in every size and step."""
    met = []
    for number in range(rounds):
        rng = np.random.default_rng((5, number))
        style = Style(rng, world, plan, "as_charted")
        if missing:
            ungraded(style, "M", "L", "body_length", 0.5)
        found = judge(shops.blank(shops.measured(style)), shops.shop())
        asked = (*found.of("size_against_chart"), *found.of("grade_steps"))
        answers = {r.answer for r in asked if r.deciding}
        met.append(answers == {Answer.MEETS} and (found.verdict.together or 0) >= 0.95)
    return fmean(met)


@pytest.mark.parametrize(
    "plan",
    [Plan(), Plan(each=2), Plan(colours=1), Plan(sizes=("S", "M", "L", "XL", "2XL"))],
    ids=lambda plan: plan.says,
)
def test_stated_chance_of_approval_is_how_often_the_judge_says_so(plan: Plan) -> None:
    """Styles just as charted, spreads as believed: within a tenth of itself and the noise."""
    buy = PieceCounts(len(plan.sizes), plan.each, plan.colours)
    case = judge(shops.blank(), shops.shop()).case
    (stated,) = shown_by_purchases(case, (buy,)).rows[0].chances
    assert stated is not None
    rounds = 150
    came = judged_to_meet(World(), plan, rounds)
    noise = 3 * (stated * (1 - stated) / rounds) ** 0.5
    assert came == pytest.approx(stated, abs=stated / 10 + noise)


def test_missing_step_is_let_through_as_seldom_as_stated() -> None:
    plan, case = Plan(), judge(shops.blank(), shops.shop()).case
    rows = shown_by_purchases(case, (PieceCounts(3, 1, 2),)).rows
    (stated,) = (r.chances[0] for r in rows if (r.key, r.point) == ("missing_step", "body_length"))
    assert stated is not None
    assert stated < 0.03
    assert judged_to_meet(World(), plan, 100, missing=True) <= stated + 0.04


def test_wide_tolerance_lets_no_missing_step_through() -> None:
    """Both sizes lie within 3/4 in, but no step of 1 in is left between them."""
    one = replace(required_at(judge(blank(), shop()).case, "body_length"), tolerance=0.75 * 25.4)
    moved = ((one.step / 2, -one.step / 2, 0.0),)
    assert approval_chance((one,), PieceCounts(3, 2), moved, 0.05) < 0.03
    assert approval_chance((one,), PieceCounts(3, 2), ((0.0,) * 3,), 0.05) > 0.8


@pytest.mark.parametrize("colours", [1, 2])
def test_more_pieces_approve_a_sound_style_more_often(colours: int) -> None:
    case = judge(blank(), shop()).case
    buys = tuple(PieceCounts(3, each, colours) for each in (1, 2, 4))
    chances = shown_by_purchases(case, buys).rows[0].chances
    assert list(chances) == sorted(chances, key=lambda chance: chance or 0.0)


def test_known_spread_has_a_closed_form() -> None:
    """With a spread that is all but certain, each size must lie within z deviations of its border.

    Reference: scipy.stats' normal distribution; one point, a tape that is read to the hair.
    """
    case = judge(blank(), shop()).case
    one = required_at(case, "body_length")
    sure = replace(one, spread=replace(one.spread, freedom=1e7), step_of_tape=1e-6)
    buy = PieceCounts(3, 2)
    error = one.spread.deviation / 2**0.5
    half = (one.tolerance - stats.norm.isf(0.1) * error) / error
    want = (1 - 2 * stats.norm.sf(half)) ** 3
    ours = approval_chance((sure,), buy, ((0.0,) * 3,), 0.05)
    assert ours == pytest.approx(want, abs=4 * (want * (1 - want) / 800) ** 0.5)


def test_size_on_the_border_is_approved_at_most_at_twice_the_risk() -> None:
    case = judge(blank(), shop()).case
    asked = tuple(required_at(case, point) for point in shop().deciding_points)
    off = (SOUND[0], (asked[1].tolerance, 0.0, 0.0))
    for each in (1, 2, 4):
        chance = approval_chance(asked, PieceCounts(3, each), off, 0.05)
        assert chance <= 0.1 + 3 * (0.09 / 800) ** 0.5


def test_fewest_pieces_have_the_wanted_chance() -> None:
    row = can_show(judge(blank(), shop())).rows[0]
    case = judge(blank(), shop()).case
    count = int(row.enough.split()[0])

    def chance(each: int) -> float:
        return shown_by_purchases(case, (PieceCounts(3, each),)).rows[0].chances[0] or 0.0

    assert chance(count) >= 0.9 > chance(count - 1)
    assert fewest(chance, 0.9) == count


def test_a_blank_that_nobody_measured_is_told_of_one_two_and_four_pieces() -> None:
    found = can_show(judge(blank(), shop()))
    assert [buy.each for buy in found.purchases] == [1, 2, 4]
    assert {buy.sizes for buy in found.purchases} == {3}


def test_wrong_labels_are_binomial() -> None:
    (chance,) = can_show(judged(2)).rows[-1].chances
    assert chance == pytest.approx(stats.binom.sf(0, 6, 0.1), abs=1e-12)


def test_what_the_tolerance_covers_is_never_promised() -> None:
    """Half a step of 1 in is the tolerance itself."""
    (row,) = [r for r in can_show(judged(2)).rows if "(1/2 in) is inside the tolerance" in r.what]
    assert (row.chances, row.enough) == ((None,), "")


@pytest.mark.parametrize("one", [bought(2), blank()], ids=["measured", "not measured"])
def test_page_terminal_and_data_show_the_same(one: Blank) -> None:
    found = judge(one, shop())
    page = " ".join(Markup(render_body(all_pages.blank_page(found, shop()))).text.split())
    sheet = " ".join(blank_sheet(found, every=True).split())
    data = judged_data(found)["can_show"]
    for row in can_show(found).rows:
        assert row.what in page.replace("\N{NO-BREAK SPACE}", " ")
        assert row.what in sheet
        said = ", ".join(times_in_100(chance) for chance in row.chances if chance is not None)
        assert said in sheet
    chances = [row["chances"] for row in data["rows"]]
    assert chances == [pytest.approx(list(row.chances)) for row in can_show(found).rows]
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
    approval_chance.cache_clear()
    several = [judged(each) for each in (1, 2, 3)]
    for one in several * 50:
        can_show(one)
    first = approval_chance.cache_info().misses
    for one in several * 50:
        can_show(one)
    assert approval_chance.cache_info().misses == first


def test_without_a_chart_it_is_as_measured() -> None:
    """The steps are those of its own round: half chests 3 in apart, not the usual step."""
    assert can_show(judge(blank(charts=()), shop())).rows[0].what == (
        "approved, if it is just graded as usual and washes well"
    )
    made = [
        piece(f"{size}-{n}", size, half_chest=wide)
        for size, wide in {"S": "18", "M": "21", "L": "24"}.items()
        for n in (1, 2)
    ]
    found = can_show(judge(blank(measured(*made), charts=()), shop()))
    assert found.rows[0].what == "approved, if it is just as measured and washes well"
    assert found.asked[0].step == pytest.approx(76.2)  # 3 in
