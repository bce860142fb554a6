"""The cheapest purchase that would tell two causes apart."""

from blankbook.commands.vet_report import blank_sheet
from blankbook.pages import all_pages
from blankbook.pages.render import render_body
from blankbook.records.model import Round
from blankbook.results.advice.next_step import say_purchase
from blankbook.results.causes.purchase import ENOUGH_CHANCE
from blankbook.results.json_results import judged_data
from blankbook.results.judge_blank import judge
from blankbook.words.answers import Advice
from made_blanks import DAY, blank, measured, piece, shop
from markup import Markup


def small_lot() -> Round:
    """Return one lot, two pieces a size, that runs half a size small."""
    pieces = [
        piece(f"{size}-{n}", size, half_chest=str(17 + 2 * i + n / 8), body_length=str(27.5 + i))
        for i, size in enumerate(("S", "M", "L"))
        for n in (0, 1)
    ]
    return measured(*pieces, day=DAY)


def test_lot_against_style_asks_for_another_lot() -> None:
    judged = judge(blank(small_lot()), shop())
    assert {explanation.key for explanation in judged.explanations[:2]} == {"style_runs", "lot_off"}
    assert judged.purchase is not None
    assert judged.purchase.another_lot
    assert judged.purchase.chance >= ENOUGH_CHANCE
    assert "from another lot" in judged.verdict.next_step
    assert "runs half a size small" in judged.verdict.next_step


def test_no_smaller_purchase_would_do() -> None:
    """It is the cheapest: fewer pieces are not enough."""
    purchase = judge(blank(small_lot()), shop()).purchase
    assert purchase is not None
    assert len(purchase.sizes) * purchase.each <= 3


def test_a_sure_cause_needs_no_purchase() -> None:
    pieces = [
        piece(f"{size}-{n}", size, half_chest=str(18 + 2 * i), body_length=str(28 + i))
        for i, size in enumerate(("S", "M", "L"))
        for n in (1, 2)
    ]
    pieces[3] = piece("M-2", "M", half_chest="22 1/8", body_length="30")
    assert judge(blank(measured(*pieces)), shop()).purchase is None


def open_step() -> Round:
    """Return one piece each of M and L whose body length may or may not grow."""
    return measured(
        piece("M-1", "M", half_chest="20", body_length="29 3/8"),
        piece("L-1", "L", half_chest="22", body_length="29 5/8"),
        day=DAY,
    )


def test_where_two_causes_compete_the_open_step_names_the_purchase() -> None:
    judged = judge(blank(open_step()), shop(required=("grade_steps",)))
    assert judged.verdict.advice == Advice.HOLD
    assert judged.purchase
    assert judged.explanations[1].odds >= 0.1
    assert judged.verdict.next_step.startswith(say_purchase(judged.purchase))
    assert "M and L" in judged.verdict.next_step
    assert "from the same lot" in judged.verdict.next_step
    assert "all is as charted" in judged.verdict.next_step


def test_where_nothing_competes_more_pieces_are_named_with_sizes_count_and_lot() -> None:
    """Two sizes a little over the chart, one piece each: only too few to say."""
    pieces = [
        piece(f"{size}-1", size, "C 7", half_chest=str(20 + 2 * i), body_length=f"{29 + i} 1/4")
        for i, size in enumerate(("M", "L"))
    ]
    judged = judge(blank(measured(*pieces, lot="C 7")), shop(required=("size_against_chart",)))
    more = max(r.more_pieces or 0 for r in judged.of("size_against_chart"))
    assert judged.purchase is None
    assert judged.verdict.next_step == (
        f"measure {more} more piece{'s' if more > 1 else ''} of each of M and L from the same lot, "
        "C 7, and add them to its round"
    )


def test_terminal_page_and_data_name_the_same_purchase() -> None:
    rules = shop(required=("grade_steps",))
    judged = judge(blank(open_step()), rules)
    assert judged.purchase
    said = say_purchase(judged.purchase)
    data = judged_data(judged)
    page = Markup(render_body(all_pages.blank_page(judged, rules))).text
    assert said in " ".join(blank_sheet(judged, every=True).split())
    assert said in " ".join(page.split())
    assert data["today"]["next"] == judged.verdict.next_step
    assert data["purchase"]["sizes"] == list(judged.purchase.sizes)
    assert data["purchase"]["each"] == judged.purchase.each
