"""Five shops ask "may I order this today?": what each has done, and what it expects to read."""

from dataclasses import replace

from blankbook.records.model import Decision, Swatch
from blankbook.results.judge_blank import judge
from blankbook.results.standing.make_standing import say_evidence
from blankbook.words.answers import MayOrder
from made_blanks import CHARTED, blank, measured, shop
from made_histories import (
    PLANNED,
    SAMPLES,
    came,
    day,
    decision,
    every,
    history,
    lot_round,
    newer_chart,
    pieces,
    standing_of,
)


def test_a_band_printer_with_a_first_sample() -> None:
    """Six pieces measured, none washed, nobody has decided, more are on their way.

    It expects: not yet; measure what you have bought; and do not take one lot for all.
    """
    first = measured(*SAMPLES["not washed"])
    standing = judge(replace(blank(first), planned=(PLANNED,)), shop()).standing
    assert standing.kind == MayOrder.WAIT
    assert standing.sentence == "Right so far, but nothing was washed yet."
    assert standing.next_step == "measure what was planned on 20 July 2026: 1 M, 1 L; black"
    assert standing.sizes == ()
    assert say_evidence(standing) == (
        "Measured 20 January 2026, lot A. One lot so far; the next may differ."
    )


def test_a_school_shop_whose_supplier_sends_a_new_size_chart() -> None:
    """Approved in January; in March a chart comes in which every chest is an inch narrower.

    It expects: stop, for what was measured is no longer what is sold; January's yes is still there.
    """
    standing = standing_of(history("approved", chart="all narrower")).standing
    assert standing.kind == MayOrder.WAIT
    assert standing.sentence == "The chart of 1 March 2026 makes every size 1 in narrower."
    assert [reason.day for reason in standing.reasons][:2] == [day(3, 1), day(1, 25)]
    assert standing.reasons[1].says == "approved by rv: as we saw it"
    assert "measure them" in standing.next_step


def test_a_club_outfitter_with_a_bad_delivery_and_a_good_one() -> None:
    """Approved; May's delivery was a size small and went back, June's was right.

    It expects in May: wait. In June: yes again, but tape every delivery from now on.
    """
    taped = lot_round(5, "D5", every(2.0))
    small = replace(came(5, 8, "rejected"), tape=taped.tape, pieces=taped.pieces)
    right = lot_round(6, "D6", {})
    good = replace(came(6, 0, "accepted"), tape=right.tape, pieces=right.pieces)
    approved = history("approved")

    in_may = standing_of(replace(approved, deliveries=(small,))).standing
    assert in_may.kind == MayOrder.WAIT
    assert in_may.sentence == "The delivery of 15 May 2026 was rejected: it is 2 in narrower."
    assert in_may.next_step == "have it replaced or sorted, and inspect it when it comes back"

    in_june = standing_of(replace(approved, deliveries=(small, good))).standing
    assert in_june.kind == MayOrder.CONDITIONS
    assert in_june.sizes == ("S", "M", "L", "XL")
    assert any(condition.startswith("tape every delivery") for condition in in_june.conditions)


def test_a_label_that_does_not_like_how_it_feels() -> None:
    """Every number is right, and the owner rejects it: the hand is stiff.

    It expects its own no to be the answer everywhere, and the numbers to be shown beside it.
    """
    sound = history("approved").rounds[0]
    no = Decision("rejected", day(2, 3), "kim", "stiff as card")
    standing = judge(blank(replace(sound, decision=no)), shop()).standing
    assert standing.kind == MayOrder.NO
    assert standing.sentence == "Rejected by kim on 3 February 2026, though nothing required fails."
    assert standing.sizes == ()
    assert standing.against[0].says.startswith("every required check meets")


def test_a_market_stall_that_wants_the_sizes_that_are_right() -> None:
    """XL is as wide as L, the cloth is light, and nobody has decided yet.

    It expects: not before it has decided, for a sample that is partly off is no yes; S, M and L,
    as soon as it says so; XL is no XL; and say the true weight.
    """
    swatches = tuple(Swatch(10_000.0, grams) for grams in (1.64, 1.65, 1.63))
    first = measured(*pieces("A", {"XL": 2.0}), swatches=swatches)
    before = judge(blank(first, mass=180.0), shop()).standing
    assert (before.kind, before.sizes) == (MayOrder.WAIT, ())
    assert before.sentence == "XL is no wider than L: 22 in both."
    assert before.next_step.startswith("write down what you decide on S to L")
    decided = replace(first, decision=decision("approved", day(1, 25), ("S", "M", "L")))
    standing = judge(blank(decided, mass=180.0), shop()).standing
    assert standing.kind == MayOrder.CONDITIONS
    assert standing.sizes == ("S", "M", "L")
    assert standing.sentence == "Approved in S to L; XL is no wider than L: 22 in both."
    assert [(pair.offer, pair.leave) for pair in standing.alike] == [("L", "XL")]
    assert [(left.size, left.why) for left in standing.left_out] == [
        ("XL", "cannot be told from L")
    ]
    assert "the cloth is 9 % lighter than claimed: 4.8 oz, not 5.3" in standing.conditions


def test_deciding_again_after_all_of_it_gives_a_plain_answer() -> None:
    """Who has seen the chart and the deliveries decides in August, and that holds.

    What nobody has measured stays a condition: the chart moved L.
    """
    seen = history("approved", chart="L wider", again="approved")
    standing = standing_of(seen).standing
    assert (standing.kind, standing.sizes) == (MayOrder.CONDITIONS, ("S", "M", "L", "XL"))
    assert standing.conditions == ("the chart of 1 March 2026 makes L 1 in wider",)
    plain = history("approved", delivery="rejected, then good", again="approved")
    assert standing_of(plain).standing.kind == MayOrder.YES
    named = replace(
        measured(*SAMPLES["right"]), decision=decision("approved", day(8, 1), ("M", "L"))
    )
    only = judge(blank(named, charts=(CHARTED, newer_chart({}))), shop()).standing
    assert (only.kind, only.sizes) == (MayOrder.YES, ("M", "L"))
