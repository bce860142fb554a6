"""Each rule of a standing by itself, and what its sentence says."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from blankbook.records.model import Blank, Decision, Flaw, Swatch
from blankbook.records.model.claims import Price
from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Learned
from blankbook.results.standing.make_standing import say_evidence
from blankbook.results.standing.size_words import MOST_WORDS
from blankbook.results.standing.standing_rules import RULES
from blankbook.results.standing.standing_types import Standing
from blankbook.words.answers import MayOrder
from made_blanks import CHARTED, blank, chart, measured, piece, readings, shop, washed
from made_histories import (
    PLANNED,
    SAMPLES,
    came,
    day,
    decision,
    every,
    history,
    lot_round,
    pieces,
    standing_of,
)

YES, CONDITIONS, WAIT, NO = MayOrder
LIGHT = tuple(Swatch(10_000.0, grams) for grams in (1.64, 1.65, 1.63))


def told(found: Blank, **rules: Any) -> Standing:
    """Return the standing of a blank in the shop of the tests."""
    return judge(found, shop(**rules)).standing


def seen(standing: Standing) -> tuple[str, str, tuple[str, ...]]:
    """Return kind, rule and sizes."""
    return standing.kind, standing.rule, standing.sizes


def approved(samples: str, word: str = "approved", sizes: tuple[str, ...] = ()) -> Blank:
    """Return a blank decided on, with these samples."""
    made = decision(word, day(1, 25), sizes)
    return blank(replace(measured(*SAMPLES[samples]), decision=made))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_row_of_the_table_reads_well(rule: Any) -> None:
    """Its example keeps to the length of a headline, and its words are there."""
    assert len(rule.sentence.split()) <= MOST_WORDS
    assert not set("()") & set(rule.sentence)
    assert rule.sentence.endswith(".")
    assert rule.when
    assert rule.when[0].islower()
    assert not rule.when.endswith(".")


def test_names_of_rules_are_their_own() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES)


def test_nothing_measured() -> None:
    """Nothing to rest on, and the first purchase is the next step; a plan takes its place."""
    standing = told(blank())
    assert seen(standing) == (WAIT, "nothing measured", ())
    assert (standing.evidence, standing.reasons) == (None, ())
    assert standing.next_step.startswith("buy samples")
    planned = told(replace(blank(), planned=(PLANNED,)))
    assert planned.next_step == "measure what was planned on 20 July 2026: 1 M, 1 L; black"


def test_approval_of_sizes_that_all_fail_names_none() -> None:
    """A blanket yes to nothing but misfits waits; with the sizes named it is a person's word."""
    large = measured(*pieces("A", every(-1.5)))
    blanket = blank(replace(large, decision=decision("approved", day(1, 25))))
    standing = told(blanket)
    assert seen(standing) == (WAIT, "approved without a size", ())
    assert standing.sentence == "Approved by rv, but no size is shown to be right."
    named = blank(replace(large, decision=decision("approved", day(1, 25), ("M", "L"))))
    standing = told(named)
    assert seen(standing) == (CONDITIONS, "approved against the evidence", ("M", "L"))
    assert standing.sentence == "M and L are 1 1/2 in wider than the chart."
    assert standing.against


def test_approval_leaves_out_the_size_that_fails() -> None:
    """Without a word on sizes it is about those that were measured and are not off."""
    standing = told(approved("XL narrow"))
    assert seen(standing) == (CONDITIONS, "a size left out fails", ("S", "M", "L"))
    assert standing.sentence == "Approved in S to L; XL is only 1 in wider than L."
    assert standing.against == ()
    assert standing.left_out[0].size == "XL"


def test_approval_before_washing_is_on_the_condition_of_washing() -> None:
    """A person may; but "approved" is not said plainly of what nobody washed."""
    standing = told(approved("not washed"))
    assert seen(standing)[:2] == (CONDITIONS, "approved against the evidence")
    assert standing.conditions == ("right so far, but nothing was washed yet",)
    assert standing.against


def test_persons_condition_is_said_first() -> None:
    standing = told(approved("right", "approved with conditions"))
    assert seen(standing)[:2] == (CONDITIONS, "approved on conditions")
    assert standing.sentence == "Approved in S to XL; not for children."


def test_condition_too_long_for_a_headline_is_left_to_the_list() -> None:
    """It is never cut."""
    long = " ".join(["only for orders of which the client has seen a piece"] * 2)
    made = Decision("approved with conditions", day(1, 25), "rv", conditions=(long,))
    standing = told(blank(replace(measured(*SAMPLES["right"]), decision=made)))
    assert standing.sentence == "Approved in S to XL on conditions."
    assert standing.conditions == (long,)


def test_fail_that_is_not_required_is_a_condition_under_any_approval() -> None:
    """No plain approval has red below it, whoever says it."""
    light = measured(*SAMPLES["right"], swatches=LIGHT)
    by_evidence = told(blank(light, mass=180.0))
    assert seen(by_evidence)[:2] == (CONDITIONS, "something else fails")
    by_person = told(blank(replace(light, decision=decision("approved", day(1, 25))), mass=180.0))
    assert seen(by_person)[:2] == (CONDITIONS, "something else fails")
    assert by_person.sentence == "Approved in S to XL; the cloth is 9 % lighter than claimed."


def test_newer_round_opens_only_what_it_shows_to_be_off() -> None:
    standing = standing_of(history("approved", lot="M narrow")).standing
    assert seen(standing)[:2] == (CONDITIONS, "newer round fails")
    assert "M" not in standing.sizes
    assert standing.next_step.endswith("alone, or decide again")


def test_some_sizes_may_be_ordered_only_where_nothing_speaks_against_the_rest() -> None:
    """XL has one piece, which settles nothing; nothing is off, so the others need not wait."""
    *few, last, _ = SAMPLES["right"]
    off = replace(last, received={**last.received, **readings({"half_chest": "23 5/8"})})
    standing = told(blank(measured(*few, off)))
    assert seen(standing) == (CONDITIONS, "evidence bears out some sizes", ("S", "M", "L"))
    assert seen(told(blank(measured(*SAMPLES["XL narrow"]))))[:2] == (WAIT, "evidence holds")


@pytest.mark.parametrize("charted", [True, False])
def test_one_size_that_moved_is_not_said_of_its_lot(charted: bool) -> None:
    """The mean of all four is off by half an inch, and three of them have not moved at all."""
    approved_round = replace(
        measured(*SAMPLES["right"], day=day(1, 20)), decision=decision("approved", day(1, 25))
    )
    later = lot_round(4, "B", {"M": -2.0})
    found = blank(approved_round, later, **({} if charted else {"charts": ()}))
    standing = told(found)
    assert standing.sizes == ("S", "L", "XL")
    assert "M of lot B is 2 in wider than the approved lot A" in standing.conditions
    assert [(pair.offer, pair.leave) for pair in standing.alike] == [("L", "M")]
    both = told(replace(found, rounds=(approved_round, lot_round(4, "B", {"S": 1.0, "M": 1.0}))))
    assert both.sizes == ("L", "XL")
    assert "S and M of lot B are 1 in narrower than the approved lot A" in both.conditions


def test_size_beside_one_that_is_off_is_left_out_for_its_own_reason() -> None:
    """S is right, only M beside it is not; the decision named M and L."""
    first = measured(*pieces("A", {"M": -1.25}))
    named = replace(first, decision=decision("approved", day(1, 25), ("L", "XL")))
    why = {left.size: left.why for left in told(blank(named)).left_out}
    assert why["S"] == "not in the decision"
    assert why["M"] != "not in the decision"


def test_chart_that_moves_all_alike_says_by_how_much() -> None:
    """However the lengths come out as binary fractions: 27.5 in is none, 19 in is."""
    sizes = ("S", "M", "L", "XL")
    rows = ({size: 19.1 + 2 * i - by for i, size in enumerate(sizes)} for by in (0.0, 1.0))
    old, new = (
        chart(
            {size: {"half_chest": f"{wide:.3f}", "body_length": "28"} for size, wide in r.items()}
        )
        for r in rows
    )
    made = [
        piece(f"{size}-{n}", size, half_chest=f"{19.1 + 2 * i:.3f}", body_length="28")
        for i, size in enumerate(sizes)
        for n in (1, 2)
    ]
    first = replace(measured(*made, day=day(1, 20)), decision=decision("approved", day(1, 25)))
    found = blank(first, charts=(old, replace(new, since=day(3, 1))))
    prices = (Price(date(2026, 1, 1), 3.25, "USD"),)
    standing = told(replace(found, style=replace(found.style, prices=prices)))
    assert standing.sentence == "The chart of 1 March 2026 makes every size 1 in narrower."
    assert standing.next_step == (
        "buy two pieces each of the sizes that moved, for 26.00 USD, and measure them"
    )


def test_approved_without_a_chart_is_as_it_was_measured() -> None:
    """A chart that there is not is no fault of it: the round itself is what it is held against."""
    first = measured(*SAMPLES["right"], day=day(1, 20))
    first = replace(first, decision=decision("approved", day(1, 25)))
    standing = told(blank(first, charts=()))
    assert seen(standing) == (CONDITIONS, "no chart", ("S", "M", "L", "XL"))
    assert standing.sentence == (
        "Approved in S to XL; its sizes are those measured on 20 January 2026."
    )
    assert len(standing.conditions) == 1
    own = replace(CHARTED, since=day(2, 1))  # made of the round itself, and younger than it
    assert told(blank(first, charts=(own,))).sentence == standing.sentence


def test_delivery_that_is_asked_for_and_never_came_is_named() -> None:
    standing = told(blank(measured(*SAMPLES["right"])), required=("delivery",))
    assert standing.sentence == "Right so far, but no delivery was looked over."


def test_lot_without_a_chart_is_compared_with_the_approved_one() -> None:
    """No chart speaks of it, and a delivery is an inch narrower all over."""
    taped = lot_round(5, "D5", every(1.0))
    came_in = replace(came(5, 0, "accepted"), tape=taped.tape, pieces=taped.pieces)
    bare = blank(replace(measured(*SAMPLES["right"]), decision=decision("approved", day(1, 25))),
                 charts=())  # fmt: skip
    standing = told(replace(bare, deliveries=(came_in,)))
    assert seen(standing) == (WAIT, "moved lot", ())
    assert standing.sentence == "Lot D5 is 1 in narrower than the approved lot A."


def test_what_happens_on_the_day_of_the_decision_counts() -> None:
    """Nobody can say which came first, so what speaks against it stands."""
    on = day(5, 15)
    found = approved("right")
    same_day = replace(
        found,
        rounds=(replace(found.rounds[0], decision=decision("approved", on)),),
        deliveries=(came(5, 5, "rejected"),),
    )
    assert seen(told(same_day))[:2] == (WAIT, "refused delivery")


def test_delivery_kept_though_bad_is_a_condition() -> None:
    standing = standing_of(history("approved", delivery="kept though bad")).standing
    assert seen(standing)[:2] == (CONDITIONS, "delivery trouble over")
    assert standing.sentence == "The delivery of 15 May 2026 was kept though 5 of 20 were bad."


def test_undecided_delivery_follows_its_plan() -> None:
    """Failing it waits, meeting it is nothing to say, too few looked at is nothing either."""
    found = approved("right")
    fails = told(replace(found, deliveries=(came(5, 5, ""),)))
    assert fails.sentence == "The delivery of 15 May 2026 fails its plan: 5 of 20 were bad."
    assert fails.kind == WAIT
    for inspected in (20, 3):
        fine = replace(came(5, 0, ""), inspected=inspected)
        assert told(replace(found, deliveries=(fine,))).kind == YES


def test_supplier_that_is_stopped_waits_for_all_its_blanks() -> None:
    """After five rejected on tightened inspection nothing is accepted (MIL-STD-105E, 4.7.4)."""
    found = approved("right")
    bad = [
        replace(came(3, 5, "rejected"), key=f"2026-03-{n:02}-x-delivery", date=date(2026, 3, n),
                flaws=(Flaw("M", "hole", count=9),))
        for n in range(1, 12)
    ]  # fmt: skip
    standing = told(replace(found, deliveries=tuple(bad)))
    assert standing.kind == WAIT
    assert any("nothing is accepted from A" in reason.says for reason in standing.reasons)


def test_evidence_that_is_too_old_waits() -> None:
    standing = judge(approved("right"), shop(), Learned(expired=True)).standing
    assert seen(standing) == (WAIT, "evidence too old", ())
    assert standing.sentence.startswith("Last measured on 20 January 2026: measure it again")


def test_alike_sizes_name_the_one_to_offer() -> None:
    """The one that is as charted; without a chart the one that is a step from its neighbour."""
    standing = told(blank(measured(*SAMPLES["XL as wide as L"])))
    assert [(pair.offer, pair.leave) for pair in standing.alike] == [("L", "XL")]
    widths = {"S": "18", "M": "20", "L": "20", "XL": "22"}
    uncharted = [
        piece(f"{size}-{n}", size, half_chest=wide, body_length=f"{28 + i}")
        for i, (size, wide) in enumerate(widths.items())
        for n in (1, 2, 3)
    ]
    pair = told(blank(measured(*uncharted), charts=())).alike[0]
    assert (pair.offer, pair.leave) == ("M", "L")


def test_sizes_that_nobody_washed_are_not_called_orderable() -> None:
    standing = told(blank(measured(*SAMPLES["not washed"])))
    assert seen(standing) == (WAIT, "evidence holds", ())


def test_step_names_its_cost_where_prices_are_known() -> None:
    """Two pieces each of L and XL at 5.00 and 6.50 are 23.00."""
    price = Price(day(1, 1), 5.0, "USD", {"XL": 6.5})
    found = blank(measured(*SAMPLES["XL narrow"][:8]), prices=(price,))
    judged = judge(found, shop())
    assert "for 23.00 USD" in judged.verdict.next_step


def test_purchase_that_is_planned_is_not_advised_again() -> None:
    """And nothing that a person has to settle is put off behind it."""
    waits = told(replace(blank(measured(*SAMPLES["not washed"])), planned=(PLANNED,)))
    assert waits.next_step.startswith("measure what was planned")
    refused = standing_of(history("approved", delivery="rejected", plan="planned")).standing
    assert refused.next_step.startswith("have it replaced")


def test_one_lot_is_said_in_words() -> None:
    first = told(approved("right"))
    assert say_evidence(first).endswith("lot A. One lot so far; the next may differ.")
    second = standing_of(history("approved", lot="as approved")).standing
    assert say_evidence(second).endswith("lot B; 2 lots in all.")


def test_buyer_of_a_washed_shirt_is_told_its_size() -> None:
    """28, 29 and 30 in when new; the M and the L lose an inch and a bit in five washes."""
    lengths = {"S": ("28", ""), "M": ("29", "28"), "L": ("30", "29")}
    made = [
        piece(f"{size}-{n}", size, half_chest=f"{18 + 2 * i}", body_length=new)
        for i, (size, (new, _)) in enumerate(lengths.items())
        for n in range(6)
    ]
    after = [washed(p, 5, body_length=lengths[p.size][1]) if p.size != "S" else p for p in made]
    assert (
        told(blank(measured(*after))).washed == "After 5 washes M is as long as S was new, L as M."
    )
    assert told(approved("right")).washed == ("After 1 wash L is as long as M was new, XL as L.")
    assert told(approved("not washed")).washed == ""
