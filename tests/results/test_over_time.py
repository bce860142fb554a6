"""Lots on one axis of time: each once, each by the chart that held when it was bought."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Blank, Chart, Decision, Round
from blankbook.results.judge_blank import judge
from blankbook.results.over_lots.lots_over_time import LotsOverTime, has_history, lots_over_time
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer
from made_blanks import blank, chart, measured, piece, readings, shop, single_result

INCH = 25.4
OLD = {"M": {"half_chest": "20", "body_length": "29"}, "L": {"half_chest": "22"}}
NEW = {"M": {"half_chest": "20 1/2", "body_length": "29"}, "L": {"half_chest": "22"}}


def supplied(sizes: dict[str, dict[str, str]], since: date, half_chest: str = "") -> Chart:
    """Return a chart from a date on, with a tolerance of its own where one is given."""
    written = {"half_chest": half_chest} if half_chest else {}
    limits = {point: lengths[0] for point, lengths in readings(written).items()}
    return replace(chart(sizes), since=since, tolerance=limits)


CHARTS = (supplied(OLD, date(2024, 1, 1)), supplied(NEW, date(2025, 1, 1), "1/4"))


def lot(day: date, *sizes: str, bought: date | None = None, off: str = "") -> Round:
    """Return a lot of two pieces of each size, as the old chart says, or with *off* more."""
    chests = {"M": "20", "L": "22"}
    pieces = [
        piece(f"{size}-{n}", size, str(day), half_chest=f"{chests[size]} {off}".strip())
        for size in sizes or ("M", "L")
        for n in (1, 2)
    ]
    made = measured(*pieces, key=f"{day}-lot", lot=str(day), day=day)
    return replace(made, bought=bought)


def found(*lots: Round, charts: tuple[Chart, ...] = CHARTS) -> LotsOverTime:
    """Return these lots over time."""
    seen = lots_over_time(judged(*lots, charts=charts).case)
    assert seen
    return seen


def judged(*lots: Round, charts: tuple[Chart, ...] = CHARTS) -> Judged:
    """Return a blank with these lots, judged."""
    return judge(blank(*lots, charts=charts), shop())


def test_one_lot_is_no_history() -> None:
    """Neither is a blank that no chart speaks of, however often it was measured."""
    round_ = lot(date(2024, 3, 1))
    assert lots_over_time(judged(round_).case) is None
    assert not has_history(judged(round_).case)
    assert lots_over_time(judged(round_, lot(date(2025, 3, 1)), charts=()).case) is None
    with_two = judged(round_, lot(date(2025, 3, 1))).case
    assert lots_over_time(with_two)
    assert has_history(with_two)


def test_a_lot_is_judged_by_the_chart_that_held_when_it_was_bought() -> None:
    """Bought in December by the old chart, measured in January when the new one held."""
    early = lot(date(2024, 3, 1))
    between = lot(date(2025, 1, 20), bought=date(2024, 12, 20))
    late = lot(date(2025, 1, 25), bought=date(2025, 1, 1))
    seen = found(early, between, late)

    assert seen.held_by == (date(2024, 1, 1), date(2024, 1, 1), date(2025, 1, 1))
    assert [round_.chart_day for round_ in seen.lots] == [
        date(2024, 3, 1), date(2024, 12, 20), date(2025, 1, 1),
    ]  # fmt: skip
    medium = next(panel for panel in seen.rows[0].panels if panel.size == "M")
    assert [round(mark.off.mean / INCH, 6) for mark in medium.marks] == [0, 0, -0.5]
    usual = shop().tolerance["half_chest"]
    assert [mark.allowed for mark in medium.marks] == [usual, usual, pytest.approx(INCH / 4)]


def test_a_new_chart_changes_the_limits_from_its_date_only() -> None:
    """What was allowed before stays as it was; the cells that moved say by how much."""
    seen = found(lot(date(2024, 3, 1)), lot(date(2025, 3, 1)))
    medium, large = seen.rows[0].panels
    first, second = medium.holds

    assert (first.since, first.until, first.moved) == (date(2024, 1, 1), date(2025, 1, 1), None)
    assert (second.since, second.until) == (date(2025, 1, 1), None)
    assert first.allowed == shop().tolerance["half_chest"]
    assert second.allowed == pytest.approx(INCH / 4)
    assert second.moved == pytest.approx(INCH / 2)
    assert large.holds[1].moved == 0
    assert [hold.allowed for hold in seen.rows[0].holds] == [first.allowed, second.allowed]


def test_a_chart_that_ended_before_the_first_lot_is_left_out() -> None:
    """And one that begins after the last lot is there: no lot was held to it yet."""
    later = supplied(NEW, date(2026, 1, 1))
    seen = found(lot(date(2025, 1, 1)), lot(date(2025, 3, 1)), charts=(*CHARTS, later))
    assert [chart.since for chart in seen.charts] == [date(2025, 1, 1), date(2026, 1, 1)]


def test_lots_bought_in_another_order_than_measured_stand_as_bought() -> None:
    """The charts of lots still take them as they were measured."""
    first = lot(date(2024, 9, 1), bought=date(2024, 8, 1))
    second = lot(date(2024, 10, 1), bought=date(2024, 2, 1), off="1/8")
    seen = found(first, second)

    assert [round_.key for round_ in seen.lots] == ["2024-10-01-lot", "2024-09-01-lot"]
    assert seen.out_of_turn
    assert [round(stand.off / INCH, 6) for stand in seen.rows[0].stands] == [0.125, 0]
    assert not found(lot(date(2024, 9, 1)), lot(date(2024, 10, 1))).out_of_turn


def test_a_point_or_size_of_one_lot_is_told_apart() -> None:
    """One lot has no trend: such a point has no row, and such a size one mark."""
    odd = piece("M-9", "M", "A", half_chest="20", body_length="29")
    first = lot(date(2024, 3, 1), "M", "L")
    second = lot(date(2024, 9, 1), "M")
    seen = found(first, replace(second, pieces=(*second.pieces, odd)))

    assert [row.point for row in seen.rows] == ["half_chest"]
    assert seen.alone == ("body_length",)
    assert {panel.size: len(panel.marks) for panel in seen.rows[0].panels} == {"M": 2, "L": 1}


def test_what_was_measured_along_another_line_is_left_out_and_named() -> None:
    """The chart and the newest lot run from the high point; the first did not."""
    charted = supplied({"M": {"half_chest": "20", "body_length": "29"}}, date(2024, 1, 1))
    lots = []
    for day, how in ((date(2024, 3, 1), {"body_length": "centre_back"}), (date(2024, 9, 1), {})):
        made = lot(day, "M")
        long = piece("M-9", "M", "A", half_chest="20", body_length="28 3/8")
        lots.append(replace(made, pieces=(*made.pieces, long), how=how))
    seen = found(*lots, charts=(charted,))

    assert seen.apart == (("body_length", "2024-03-01-lot"),)
    assert [row.point for row in seen.rows] == ["half_chest"]
    assert seen.alone == ("body_length",)
    assert found(lots[1], lot(date(2024, 10, 1)), charts=(charted,)).apart == ()


def test_decisions_stand_at_their_own_day() -> None:
    """In the order of their days, whatever they are on."""
    made = [
        replace(lot(day), decision=Decision(word, on, "rv"))
        for day, word, on in (
            (date(2024, 3, 1), "rejected", date(2024, 12, 1)),
            (date(2024, 9, 1), "approved", date(2024, 9, 9)),
        )
    ]
    assert [(decided.day.isoformat(), decided.word) for decided in found(*made).decided] == [
        ("2024-09-09", "approved"),
        ("2024-12-01", "rejected"),
    ]


@pytest.fixture(scope="module")
def demo(demo_ledger: Path) -> list[Judged]:
    """Return every blank of the demo shop, judged."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    return [judge(blank, ledger.shop) for blank in ledger.blanks.values()]


def _read(blank: Blank, aside: frozenset[str]) -> dict[tuple[str, str, str], int]:
    """Return how many pieces each file, point and size has, from the records; tags being right."""
    counted: dict[tuple[str, str, str], int] = {}
    for came in blank.rounds:
        for p in came.pieces:
            for point in p.received if f"{came.key}/{p.key}" not in aside else ():
                key = (came.source.path, point, p.size)
                counted[key] = counted.get(key, 0) + 1
    for delivery in blank.deliveries:
        wrong = {flaw.piece for flaw in delivery.flaws if flaw.fault == "wrong_label"}
        for p in delivery.pieces:
            for point in p.received if p.key not in wrong else ():
                key = (delivery.source.path, point, p.size)
                counted[key] = counted.get(key, 0) + 1
    return counted


def test_every_lot_with_readings_is_there_once_for_each_size(demo: list[Judged]) -> None:
    """Counted against the records; what no chart speaks of is left out."""
    seen_any = 0
    for judged in demo:
        seen = lots_over_time(judged.case)
        if seen is None:
            continue
        marks = [
            (seen.lots[mark.at].source.path, row.point, panel.size, mark.pieces)
            for row in seen.rows
            for panel in row.panels
            for mark in panel.marks
        ]
        charted = {
            p for c in judged.blank.style.charts for cells in c.sizes.values() for p in cells
        }
        read = {
            (*key, count)
            for key, count in _read(judged.case.blank, judged.case.posterior.aside).items()
            if key[1] in charted and key[1] not in seen.alone
        }
        assert len(marks) == len(set(marks))
        assert set(marks) == read, judged.blank.style.key
        seen_any += len(marks)
    assert seen_any > 100


def test_the_newest_round_is_answered_as_its_check_answers_it(demo: list[Judged]) -> None:
    """The same mean, the same limits, the same word."""
    compared = 0
    for judged in demo:
        seen = lots_over_time(judged.case)
        newest = judged.case.round
        for row in seen.rows if seen else ():
            for panel in row.panels:
                for mark in panel.marks:
                    if seen and newest and seen.lots[mark.at].source == newest.source:
                        result = single_result(
                            judged, "size_against_chart", size=panel.size, point=row.point
                        )
                        off = result.number(Quantity.OFF_THE_CHART)
                        assert off
                        assert (off.value, off.low, off.high) == (
                            mark.off.mean, mark.off.low, mark.off.high,
                        )  # fmt: skip
                        if "measures otherwise" not in result.reason:
                            assert mark.answer in {result.answer, Answer.NOT_SHOWN}
                        compared += 1
    assert compared > 30


def test_alarms_are_those_of_the_check_of_lots(demo: list[Judged]) -> None:
    """By lot, at every point that the shop decides by; no other point raises one."""
    alarms = 0
    far_off = [lot(date(2025, month, 20), off="7/8" * (month > 3)) for month in range(1, 5)]
    for own in (*demo, judged(*far_off)):
        seen = lots_over_time(own.case)
        for row in seen.rows if seen else ():
            assert seen
            raised = {seen.lots[s.at].lot for s in row.stands if s.on_chart.alarm}
            if row.point in own.case.shop.deciding_points:
                assert raised == set(single_result(own, "lots", point=row.point).alarms)
            else:
                assert raised == set()
                assert not row.watched
            alarms += len(raised)
    assert alarms > 2
