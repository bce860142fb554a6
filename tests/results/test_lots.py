"""Over lots: what moved, what kept still, and the alarm with its lot."""

from dataclasses import replace
from datetime import date

import pytest

from blankbook.records.model import Decision, Round
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice, Answer
from made_blanks import blank, measured, piece, shop, single_result

SIZES = ("S", "M", "L")


def lot(number: int, eighths: float) -> Round:
    """Return a lot of six pieces whose half chest is off by so many eighths of an inch."""
    pieces = [
        piece(
            f"{size}-{n}",
            size,
            f"L{number}",
            half_chest=str(18 + 2 * i + eighths / 8),
            body_length=str(28 + i),
        )
        for i, size in enumerate(SIZES)
        for n in (1, 2)
    ]
    day = date(2024, 1 + number, 10)
    return measured(*pieces, key=f"{day}-lot", lot=f"L{number}", day=day)


def over(*eighths: float) -> Judged:
    """Return lots with these deviations, judged."""
    return judge(blank(*(lot(number, off) for number, off in enumerate(eighths))), shop())


def test_one_lot_has_not_moved_and_not_kept_still() -> None:
    assert {result.answer for result in over(0).of("lots")} == {Answer.NOT_TESTED}


def test_one_lot_says_this_where_it_means_this_and_next_where_it_predicts() -> None:
    """The limits of the next lot are wider than the lot's own: lots differ, the shop states."""
    judged = over(-1)
    result = single_result(judged, "lots", point="half_chest")
    coming, between = result.number(Quantity.NEXT_LOT), result.number(Quantity.BETWEEN_LOTS)
    assert coming
    assert between
    assert coming.low is not None
    assert "This lot is -1/8 in against the chart. The next lot is expected at" in result.reason
    assert "mostly on how far lots usually differ" in result.reason
    assert between.low is not None
    stated = judged.case.shop.lot_spread * judged.case.shop.spread["half_chest"].deviation
    assert between.value == pytest.approx(stated, rel=0.1)
    spread = judged.case.spreads["half_chest"]
    assert coming.value - coming.low > 1.6 * spread.deviation / 6**0.5


def test_equal_lots_are_unchanged() -> None:
    result = single_result(over(0, 0), "lots", point="half_chest")
    assert (result.answer, result.word) == (Answer.MEETS, "unchanged")


def test_a_lot_half_a_size_off_has_moved_and_is_named() -> None:
    result = single_result(over(0, 0, -8), "lots", point="half_chest")
    assert (result.answer, result.word) == (Answer.FAILS, "moved")
    assert "L2" in result.reason.partition("Beyond the limits")[2]
    assert result.alarms == ("L2",)


def test_a_lot_back_on_the_line_is_not_blamed_for_the_one_before() -> None:
    result = single_result(over(0, -8, 0), "lots", point="half_chest")
    assert result.answer == Answer.MEETS or result.word != "moved"
    assert ". Beyond the limits for lots: L1. The next lot" in result.reason
    assert result.alarms == ("L1",)


def test_slow_drift_is_seen_before_any_lot_is_far_off() -> None:
    """A quarter of an inch in four steps: no step is shown as a move, the last lot is an alarm."""
    result = single_result(over(0, -1, -2, -3, -4), "lots", point="half_chest")
    assert result.answer == Answer.FAILS


def test_the_last_approved_lot_is_the_reference() -> None:
    rounds = [lot(number, off) for number, off in enumerate((0, -4, -4))]
    made = Decision("approved", date(2024, 2, 20), "rv", "as we want it now")
    rounds[1] = replace(rounds[1], decision=made)
    result = single_result(judge(blank(*rounds), shop()), "lots", point="half_chest")
    assert result.word == "unchanged"


def test_few_pieces_settle_nothing() -> None:
    """Two lots of one piece that differ by a quarter of an inch."""
    rounds = [
        measured(
            piece("M-1", "M", f"L{n}", half_chest=chest),
            key=f"2024-0{n}-10-lot",
            lot=f"L{n}",
            day=date(2024, n, 10),
        )
        for n, chest in ((1, "20"), (2, "20 1/4"))
    ]
    result = single_result(judge(blank(*rounds), shop()), "lots", point="half_chest")
    assert (result.answer, result.word) == (Answer.NOT_SHOWN, "not shown")


def test_lots_decide_only_where_they_are_required_or_moved() -> None:
    """One lot alone holds nothing up, unless the shop asks for a second."""
    assert not any(result.deciding for result in over(0).of("lots"))
    asking = judge(blank(lot(0, 0)), shop(required=("lots",)))
    assert asking.verdict.advice == Advice.HOLD


def with_one_size_off(eighths: float) -> Judged:
    """Return a lot as charted, then one with only the half chest of M off, by so many eighths."""
    first, second, moved = lot(0, 0), lot(1, 0), lot(1, eighths)
    pieces = [
        replace(p, received={**p.received, "half_chest": moved.pieces[at].received["half_chest"]})
        if p.size == "M" else p
        for at, p in enumerate(second.pieces)
    ]  # fmt: skip
    return judge(blank(first, replace(second, pieces=tuple(pieces))), shop())


def test_a_size_that_is_off_in_one_lot_alone_fails() -> None:
    """No cause of the whole style explains it, and what was right before must not outvote it."""
    judged = with_one_size_off(-8)
    result = single_result(judged, "size_against_chart", size="M", point="half_chest")
    assert result.answer == Answer.FAILS
    assert judged.explanations[0].says == "M of lot L1 is off at the half chest"


def test_two_faults_at_once_are_still_two_fails() -> None:
    """L as wide as M in the first lot, and the second narrow in every size: both are shown."""
    first, second = lot(0, 0), lot(1, -8)
    narrow = [
        replace(p, received={**p.received, "half_chest": first.pieces[2].received["half_chest"]})
        if p.size == "L" else p
        for p in first.pieces
    ]  # fmt: skip
    judged = judge(blank(replace(first, pieces=tuple(narrow)), second), shop())
    for size in SIZES:
        result = single_result(judged, "size_against_chart", size=size, point="half_chest")
        assert result.answer == Answer.FAILS
    assert judged.verdict.advice == Advice.REJECTED
