"""The demo shop's story: every case that the tool judges is in its ledger, and is judged so."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from statistics import fmean

import pytest

from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Ledger, Round
from blankbook.results.advice.cautions import cautions
from blankbook.results.checks.delivery import delivery_results, is_against_plan, series_for
from blankbook.results.deliveries.delivery_words import say_shortages
from blankbook.results.judge_blank import judge
from blankbook.results.methods.equivalence import MoveAnswer
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.answers import Advice, Answer
from made_deliveries import judge_all as judged_by_all

INCH = 25.4

STORY = {
    # blank: (what the evidence advises, what a person decided last; "" where nobody has)
    "copperbeck/c58": (Advice.HOLD, "hold"),
    "copperbeck/c66": (Advice.REJECTED, "rejected"),
    "dabchick/d42": (Advice.CONDITIONS, "approved with conditions"),
    "dabchick/d50": (Advice.HOLD, "hold"),
    "dabchick/d62": (Advice.HOLD, "hold"),
    "hobnettle/k3": (Advice.APPROVED, "approved"),
    "hobnettle/q5": (Advice.HOLD, ""),
    "hobnettle/q7": (Advice.HOLD, ""),
    "marshwort/s10": (Advice.CONDITIONS, "approved with conditions"),
    "marshwort/s15": (Advice.APPROVED, "approved"),
    "marshwort/s22": (Advice.REJECTED, "approved"),
    "osierbank/o180": (Advice.APPROVED, "approved"),
    "osierbank/o240": (Advice.APPROVED, "rejected"),
    "tarn-thrush/h6": (Advice.APPROVED, "approved"),
    "tarn-thrush/l4": (Advice.APPROVED, "approved"),
    "wether-teasel/w160": (Advice.REJECTED, "rejected"),
    "wether-teasel/w200": (Advice.HOLD, "approved with conditions"),
}


@pytest.fixture(scope="module")
def shop_ledger(demo_ledger: Path) -> Ledger:
    """Return the demo shop's records."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger is not None
    return ledger


@pytest.fixture(scope="module")
def judged(shop_ledger: Ledger) -> dict[str, Judged]:
    """Return every blank of the demo shop, judged."""
    return {key: judge(blank, shop_ledger.shop) for key, blank in shop_ledger.blanks.items()}


@pytest.fixture(scope="module")
def taught(demo_ledger: Path) -> dict[str, Judged]:
    """Return every blank of the demo shop, judged by what the whole ledger teaches."""
    return judged_by_all(demo_ledger)


def answers(judged: Judged, check: str, point: str) -> dict[str, Answer]:
    """Return the answers of *check* at *point* by size."""
    return {r.size: r.answer for r in judged.of(check) if r.point == point}


def words(judged: Judged, check: str, point: str) -> dict[tuple[str, str], str]:
    """Return the finer words of *check* at *point* by pair of sizes."""
    return {(r.size, r.next_size): r.word for r in judged.of(check) if r.point == point}


def number(result: Result, name: Quantity) -> float:
    """Return the value of a number that the result must carry."""
    found = result.number(name)
    assert found is not None, f"{result.check} carries no {name}"
    return found.value


def mean(round_: Round, size: str, point: str) -> float:
    """Return the mean of a size in one round, in millimetres."""
    pieces = [piece for piece in round_.pieces if piece.size == size]
    return fmean(fmean(reading.mm for reading in piece.received[point]) for piece in pieces)


def off_chart(ledger: Ledger, blank: str, size: str, point: str) -> list[float]:
    """Return how far the size was off its chart in each round that has it, in inches."""
    style = ledger.blanks[blank].style
    found = []
    for round_ in ledger.blanks[blank].rounds:
        if any(piece.size == size for piece in round_.pieces):
            chart = style.chart_on(round_.chart_day)
            assert chart is not None
            found.append((mean(round_, size, point) - chart.sizes[size][point].mm) / INCH)
    return found


def test_ledger_is_without_a_finding(demo_ledger: Path) -> None:
    """Nothing to correct and nothing to wonder about."""
    assert load_ledger(demo_ledger).findings == ()


def test_shop_is_large_enough_to_tell_a_story(shop_ledger: Ledger) -> None:
    """Six suppliers, fourteen styles and twenty-six rounds at the least, over three years."""
    rounds = [round_ for blank in shop_ledger.blanks.values() for round_ in blank.rounds]
    assert len(shop_ledger.suppliers) >= 6
    assert len(shop_ledger.blanks) >= 14
    assert len(rounds) >= 26
    days = [round_.date for round_ in rounds]
    assert min(days) < date(2023, 12, 1)
    assert max(days) > date(2026, 9, 30)


def test_two_suppliers_are_measured_in_centimetres_and_the_others_in_inches(
    shop_ledger: Ledger,
) -> None:
    """Units are mixed across files, not within a supplier."""
    units: dict[str, set[str]] = {}
    for blank in shop_ledger.blanks.values():
        for round_ in blank.rounds:
            units.setdefault(blank.style.supplier, set()).add(round_.tape.unit)
    assert all(len(unit) == 1 for unit in units.values())
    metric = {supplier for supplier, unit in units.items() if unit == {"cm"}}
    assert metric == {"osierbank", "wether-teasel"}


def test_every_blank_is_in_the_story(shop_ledger: Ledger) -> None:
    """A blank that is added to the ledger is added here."""
    assert set(shop_ledger.blanks) == set(STORY)


@pytest.mark.parametrize("blank", sorted(STORY))
def test_advice_is_what_the_story_needs(judged: dict[str, Judged], blank: str) -> None:
    """The evidence advises what the story says."""
    assert judged[blank].verdict.advice == STORY[blank][0]


@pytest.mark.parametrize("blank", sorted(STORY))
def test_person_decided_what_the_story_needs(shop_ledger: Ledger, blank: str) -> None:
    """The newest decision is the one that the story tells."""
    decisions = [round_.decision for round_ in shop_ledger.blanks[blank].rounds if round_.decision]
    assert (decisions[-1].decision if decisions else "") == STORY[blank][1]


def test_decisions_against_the_evidence_carry_a_reason(shop_ledger: Ledger) -> None:
    """One is approved though the advice is to reject, one rejected though all is well."""
    against = ["marshwort/s22", "osierbank/o240"]
    for blank in against:
        decision = shop_ledger.blanks[blank].rounds[-1].decision
        assert decision is not None
        assert len(decision.reason) > 60


def test_right_style_meets_everything(judged: dict[str, Judged]) -> None:
    """The H6 is right in five sizes, three colours, cloth and wash."""
    vetted = judged["tarn-thrush/h6"]
    required = vetted.case.shop.required
    counted = [r for r in vetted.results if r.deciding and r.check in required]
    assert {r.answer for r in counted} == {Answer.MEETS}
    assert vetted.verdict.orderable == ("S", "M", "L", "XL", "2XL")
    assert vetted.case.round is not None
    assert {piece.colour for piece in vetted.case.round.pieces} == {"black", "white", "moss"}


def test_two_sizes_knitted_on_one_tube_share_a_width(judged: dict[str, Judged]) -> None:
    """C66: L and XL are one width, the lengths and the cloth are true, and the tube is named."""
    vetted = judged["copperbeck/c66"]
    assert words(vetted, "grade_steps", "half_chest")["L", "XL"] == "collapsed"
    assert words(vetted, "grade_steps", "body_length")["L", "XL"] == "true"
    assert set(answers(vetted, "size_against_chart", "body_length").values()) == {Answer.MEETS}
    assert [r.answer for r in vetted.of("fabric")] == [Answer.MEETS]
    assert vetted.explanations[0].key == "not_graded"
    assert "tube" in vetted.explanations[0].because


def test_one_piece_is_mislabelled(judged: dict[str, Judged], shop_ledger: Ledger) -> None:
    """D62: one piece tagged L is an XL, and somebody measured it again."""
    vetted = judged["dabchick/d62"]
    assert vetted.explanations[0].key == "mislabelled"
    assert vetted.explanations[0].says == "L-bone-1, tagged L, measures as XL"
    assert vetted.explanations[0].odds > 0.9
    assert any("L-bone-1" in reason for reason in vetted.verdict.reasons)
    pieces = {piece.key: piece for piece in shop_ledger.blanks["dabchick/d62"].rounds[-1].pieces}
    assert "measured again" in pieces["L-bone-1"].confirmed


def test_odd_piece_is_asked_about_unless_it_was_confirmed(demo_copy: Path) -> None:
    """D62: without the line that says it was measured again, the odd piece is a finding."""
    path = demo_copy / "blanks/dabchick/d62/2026-02-09-restock.yaml"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in lines if not line.strip().startswith("confirmed:")]
    path.write_text("".join(kept), encoding="utf-8")
    (found,) = load_ledger(demo_copy, only={"dabchick/d62"}).findings
    assert found.path == "blanks/dabchick/d62/2026-02-09-restock.yaml"
    assert found.message == "tagged L, measures like XL"
    assert kept[found.line - 2].strip() == "- piece: L-bone-1"


def test_one_lot_was_off_and_the_next_was_not(
    judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """L4: the second of three lots ran half a size small, and only that one."""
    for size in ("M", "L", "XL"):
        before, off, after = off_chart(shop_ledger, "tarn-thrush/l4", size, "half_chest")
        assert abs(before) < 0.25
        assert -1.25 < off < -0.75
        assert abs(after) < 0.25
    only = answers(judged["tarn-thrush/l4"], "size_against_chart", "half_chest")
    assert set(only.values()) == {Answer.MEETS}


def test_bad_lot_would_have_been_caught_on_the_day(shop_ledger: Ledger) -> None:
    """L4, seen from May 2025: sizes fail, and the lot is the likely cause."""
    blank = shop_ledger.blanks["tarn-thrush/l4"]
    then = judge(replace(blank, rounds=blank.rounds[:2]), shop_ledger.shop)
    assert then.verdict.advice == Advice.HOLD
    assert then.explanations[0].key == "lot_off"


def test_length_shrinks_past_the_limit(judged: dict[str, Judged]) -> None:
    """W160 is right as received, and loses more length in the wash than the shop accepts."""
    vetted = judged["wether-teasel/w160"]
    length = [r for r in vetted.of("washing") if r.point == "body_length"]
    assert {r.cycles for r in length} == {1, 5}
    assert {(r.answer, r.word) for r in length} == {(Answer.FAILS, "shrinks")}
    assert all(number(r, Quantity.CHANGE) < -6 for r in length)
    assert set(answers(vetted, "size_against_chart", "body_length").values()) == {Answer.MEETS}


def test_cloth_is_under_its_claimed_mass(judged: dict[str, Judged]) -> None:
    """D42 fits and washes well, and is light."""
    (only,) = judged["dabchick/d42"].of("fabric")
    assert (only.answer, only.word) == (Answer.FAILS, "light")
    assert -11 < number(only, Quantity.OFF_THE_CLAIM) < -6


def test_style_drifts_over_four_lots(judged: dict[str, Judged], shop_ledger: Ledger) -> None:
    """D50 gets narrower from lot to lot, until the newest fails in every size."""
    rounds = shop_ledger.blanks["dabchick/d50"].rounds
    assert len({round_.lot for round_ in rounds}) == 4
    for size in ("M", "L", "XL"):
        off = off_chart(shop_ledger, "dabchick/d50", size, "half_chest")
        assert off == sorted(off, reverse=True)
    newest = answers(judged["dabchick/d50"], "size_against_chart", "half_chest")
    measured = {size: newest[size] for size in ("M", "L", "XL", "2XL", "3XL")}
    assert set(measured.values()) == {Answer.FAILS}


def test_too_few_pieces_to_say(judged: dict[str, Judged]) -> None:
    """Q5: one piece each of two sizes, so nothing fails and little is shown."""
    vetted = judged["hobnettle/q5"]
    deciding = [r for r in vetted.of("size_against_chart") + vetted.of("grade_steps") if r.deciding]
    assert Answer.NOT_SHOWN in {r.answer for r in deciding}
    assert Answer.FAILS not in {r.answer for r in deciding}
    assert any(r.more_pieces for r in deciding)
    assert [r.answer for r in vetted.of("washing")] == [Answer.NOT_TESTED]


def test_nothing_was_measured_yet(judged: dict[str, Judged]) -> None:
    """Q7 is only listed: every answer is not tested."""
    vetted = judged["hobnettle/q7"]
    assert {r.answer for r in vetted.results} == {Answer.NOT_TESTED}


def test_style_without_a_chart_is_not_approved(judged: dict[str, Judged]) -> None:
    """C58 grades and washes well, but there is no chart to hold it against."""
    vetted = judged["copperbeck/c58"]
    assert {r.answer for r in vetted.of("size_against_chart")} == {Answer.NOT_TESTED}
    assert set(words(vetted, "grade_steps", "half_chest").values()) == {"graded"}


def test_each_round_is_judged_by_the_chart_of_its_day(
    judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """O180: the chart changed in 2025; old pieces fit the old one and new pieces the new one."""
    blank = shop_ledger.blanks["osierbank/o180"]
    old, new = blank.rounds
    assert (blank.style.chart_on(old.chart_day), blank.style.chart_on(new.chart_day)) == (
        blank.style.charts[0],
        blank.style.charts[1],
    )
    assert all(
        abs(off) < 0.25 for off in off_chart(shop_ledger, "osierbank/o180", "M", "half_chest")
    )
    assert mean(new, "M", "half_chest") - mean(old, "M", "half_chest") > INCH
    newest = answers(judged["osierbank/o180"], "size_against_chart", "half_chest")
    assert set(newest.values()) == {Answer.MEETS}


def test_one_size_alone_fails(judged: dict[str, Judged], shop_ledger: Ledger) -> None:
    """W200 is right in S to XL and narrow in 2XL, which the decision leaves out."""
    vetted = judged["wether-teasel/w200"]
    across = answers(vetted, "size_against_chart", "half_chest")
    assert across.pop("2XL") == Answer.FAILS
    assert set(across.values()) == {Answer.MEETS}
    decision = shop_ledger.blanks["wether-teasel/w200"].rounds[-1].decision
    assert decision is not None
    assert any("2XL" in condition for condition in decision.conditions)
    assert decision.uses


def test_whole_style_runs_large(judged: dict[str, Judged]) -> None:
    """S22 fails large in every size, in two lots."""
    vetted = judged["marshwort/s22"]
    assert set(answers(vetted, "size_against_chart", "half_chest").values()) == {Answer.FAILS}
    assert all(
        number(r, Quantity.OFF_THE_CHART) > 0
        for r in vetted.of("size_against_chart")
        if r.point == "half_chest"
    )
    assert vetted.explanations[0].key == "style_runs"


def test_oldest_approval_rests_on_one_old_round(shop_ledger: Ledger) -> None:
    """S15 was measured once, in the first month."""
    (only,) = shop_ledger.blanks["marshwort/s15"].rounds
    assert only.date.isoformat().startswith("2023-11")


def test_some_pieces_were_read_more_than_once(shop_ledger: Ledger) -> None:
    """Repeat readings are there for the repeatability to be learned from."""
    repeats = [
        readings
        for blank in shop_ledger.blanks.values()
        for round_ in blank.rounds
        for piece in round_.pieces
        for readings in piece.received.values()
        if len(readings) > 1
    ]
    assert len(repeats) >= 15
    assert any(first.mm != second.mm for first, second, *_ in repeats)


def test_body_twists_while_the_sizes_hold(judged: dict[str, Judged]) -> None:
    """S10 spirals to the right, more after five washes than after one; its red stains."""
    vetted = judged["marshwort/s10"]
    first, fifth = vetted.of("skew")
    assert (first.cycles, fifth.cycles) == (1, 5)
    assert {r.answer for r in (first, fifth)} == {Answer.FAILS}
    assert {r.word for r in (first, fifth)} == {"to the right"}
    assert 8 < number(first, Quantity.TWIST) < number(fifth, Quantity.TWIST) < 12
    assert number(fifth, Quantity.TWIST_AS_RECEIVED) < 1
    assert set(answers(vetted, "size_against_chart", "half_chest").values()) == {
        Answer.MEETS,
        Answer.NOT_TESTED,
    }
    assert [r.answer for r in vetted.of("colour") if r.part == "staining" and r.deciding] == [
        Answer.FAILS
    ]


@pytest.mark.parametrize(
    "check", ["skew", "colour", "pilling", "workmanship", "wear", "decoration"]
)
def test_every_answer_of_every_graded_check_is_somewhere(
    judged: dict[str, Judged], check: str
) -> None:
    """Meets, fails and not shown: the demo has an example of each."""
    found = {r.answer for judged in judged.values() for r in judged.of(check)}
    assert {Answer.MEETS, Answer.FAILS, Answer.NOT_SHOWN} <= found


def test_black_that_cannot_be_discharged(judged: dict[str, Judged]) -> None:
    """C66: the print does not cover, whatever the dryer; what there is of it stays."""
    found = {r.part: r.answer for r in judged["copperbeck/c66"].of("decoration")}
    assert found.pop("cover") == Answer.FAILS
    assert set(found.values()) == {Answer.MEETS}


def test_print_that_nobody_washed_is_not_finished(judged: dict[str, Judged]) -> None:
    """C58: a fine print in the hand, and no more than that."""
    last = judged["copperbeck/c58"].of("decoration")[-1]
    assert (last.answer, "not washed yet" in last.reason) == (Answer.NOT_TESTED, True)


def test_rib_is_thin_and_cloth_shows_through(judged: dict[str, Judged]) -> None:
    """D50 is sewn well but for the collar; D42 wears well but is sheer."""
    made = {r.part: r.answer for r in judged["dabchick/d50"].of("workmanship")}
    assert (made["seams"], made["collar"]) == (Answer.MEETS, Answer.FAILS)
    worn = {r.part: r.answer for r in judged["dabchick/d42"].of("wear")}
    assert (worn["feel"], worn["opacity"]) == (Answer.MEETS, Answer.FAILS)


def test_prints_of_childrens_sizes_call_for_their_own_caution(judged: dict[str, Judged]) -> None:
    """K3: heat, fumes, and the law for what is put on a child's garment."""
    assert {"heat", "fumes", "children", "children_print"} <= set(
        cautions(judged["hobnettle/k3"].blank)
    )


def test_children_have_a_style_of_their_own(judged: dict[str, Judged]) -> None:
    """K3 comes in children's sizes, by age."""
    style = judged["hobnettle/k3"].blank.style
    assert style.wearer == "children"
    assert style.sizes == ("3-4", "5-6", "7-8", "9-11")


def test_large_sizes_cost_more_somewhere(shop_ledger: Ledger) -> None:
    """Prices carry surcharges up to 3XL."""
    charged = {
        size
        for blank in shop_ledger.blanks.values()
        for price in blank.style.prices
        for size, amount in price.sizes.items()
        if amount > price.each
    }
    assert {"2XL", "3XL"} <= charged


def outcomes(judged: Judged) -> list[tuple[str, str, Answer, str]]:
    """Return each delivery: its day, how strictly it was inspected, the plan and the person."""
    return [
        (
            result.delivery.date.isoformat(),
            str(result.inspection.severity),
            result.answer,
            result.delivery.decision.decision if result.delivery.decision else "",
        )
        for result in delivery_results(judged.case)
    ]


def test_deliveries_of_the_main_house_are_accepted_or_not_looked_at_enough(
    taught: dict[str, Judged],
) -> None:
    """Tarn & Thrush: two accepted, and one that the press could not wait for."""
    assert outcomes(taught["tarn-thrush/h6"]) == [
        ("2026-05-19", "normal", Answer.MEETS, "accepted"),
        ("2026-09-08", "normal", Answer.NOT_SHOWN, "accepted"),
    ]
    assert outcomes(taught["tarn-thrush/l4"]) == [
        ("2026-06-16", "normal", Answer.MEETS, "accepted"),
    ]
    hurried = delivery_results(taught["tarn-thrush/h6"].case)[-1]
    assert (hurried.inspection.more, is_against_plan(hurried)) == (7, True)
    assert say_shortages(hurried.delivery) == "against the invoice: 2 S short"


def test_two_rejected_make_a_supplier_tightened(taught: dict[str, Judged]) -> None:
    """Dabchick: wrong tags in June and bad seams in August, of two styles, and then tightened."""
    assert outcomes(taught["dabchick/d62"]) == [
        ("2026-06-30", "normal", Answer.FAILS, "rejected"),
        ("2026-07-14", "normal", Answer.MEETS, "accepted"),
    ]
    assert outcomes(taught["dabchick/d42"]) == [
        ("2026-05-26", "normal", Answer.MEETS, "accepted"),
        ("2026-08-11", "normal", Answer.FAILS, "accepted"),
        ("2026-10-13", "tightened", Answer.MEETS, "accepted"),
    ]
    assert series_for(taught["dabchick/d50"].case).then == Severity.TIGHTENED
    assert series_for(taught["osierbank/o180"].case).then == Severity.NORMAL


def test_a_delivery_kept_against_its_plan_carries_a_reason(taught: dict[str, Judged]) -> None:
    """And every delivery is still the lot that was approved, where it says so."""
    against = [
        e for judged in taught.values() for e in delivery_results(judged.case) if is_against_plan(e)
    ]
    assert len(against) == 2
    assert all(e.delivery.decision and len(e.delivery.decision.reason) > 60 for e in against)
    autumn = delivery_results(taught["dabchick/d42"].case)[-1]
    together = {row.point: row.moved.answer for row in autumn.comparisons if not row.size}
    assert together == {"half_chest": MoveAnswer.UNCHANGED, "body_length": MoveAnswer.UNCHANGED}
