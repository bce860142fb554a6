"""A length that was taken along another line is never held against a chart.

Sources. A body length from the centre of the back neck seam is shorter than one from the high point
of the shoulder by the drop of the back neck, about 3/4 in to 1 in on an adult T-shirt: more than
the usual tolerance of 1/2 in (common practice, no source). A sleeve length from the centre back is
longer than one from the shoulder seam by half the shoulder (common practice, no source). A chest
across the armholes and one an inch below them, on a body with straight sides, differ by less than
the tolerance (common practice, no source).
"""

import dataclasses
import datetime

import pytest

from blankbook.records.model import Blank, Chart, Decision, Delivery, Piece, Round, Source
from blankbook.results.checks.delivery import delivery_results
from blankbook.results.client_sizes import client_sizes
from blankbook.results.comparable_lines import on_newest_lines
from blankbook.results.judge_blank import judge
from blankbook.results.learning.stand_ins import fit_facts
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice, Answer
from blankbook.words.points import INCH, POINTS
from made_blanks import CHARTED, EIGHTH, blank, measured, piece, shop, single_result, washed

pytestmark = pytest.mark.published

DROP = 0.75
"""Inches between the high point of the shoulder and the centre of the back neck seam: common
practice, no source."""
LATER = datetime.date(2026, 3, 2)


def from_centre_back(chart: Chart = CHARTED, **how: str) -> Chart:
    """Return the chart as a house has it that measures the length from the centre back."""
    return dataclasses.replace(chart, how=how or {"body_length": "centre_back"})


def pieces(length_off: float = 0.0) -> list[Piece]:
    """Return four pieces of each size: as charted across, and this much longer, in inches."""
    found = []
    for place, size in enumerate(("S", "M", "L", "XL")):
        length = f"{28 + place + length_off}"
        for number in range(4):
            key = f"{size}-{number}"
            found.append(piece(key, size, half_chest=f"{18 + 2 * place}", body_length=length))
    return found


def first(length_off: float = 0.0, **how: str) -> Round:
    """Return a round of them."""
    return dataclasses.replace(measured(*pieces(length_off)), how=how)


def judged(blank: Blank) -> Judged:
    """Return the blank judged by a shop that asks for sizes and steps."""
    return judge(blank, shop(required=("size_against_chart", "grade_steps")))


def test_the_drop_of_the_back_neck_is_past_the_tolerance() -> None:
    """What makes the two ways two quantities: else comparing them would do no harm."""
    assert POINTS["body_length"].tolerance < DROP * INCH


def test_a_sound_shirt_does_not_fail_a_chart_from_the_centre_back() -> None:
    """The shirt is as promised, and its length by our line is longer by the drop of the neck."""
    found = judged(blank(first(DROP), charts=(from_centre_back(),)))
    result = single_result(found, "size_against_chart", size="M", point="body_length")
    assert (result.answer, result.word) == (Answer.NOT_TESTED, "not comparable")
    assert "from the centre of the back neck seam" in result.reason
    assert "from the high point of the shoulder" in result.reason
    assert "not comparable" in result.reason
    chest = single_result(found, "size_against_chart", size="M", point="half_chest")
    assert chest.answer == Answer.MEETS
    assert not any(r.answer == Answer.FAILS for r in found.results)


def test_a_short_shirt_does_not_pass_a_chart_from_the_centre_back() -> None:
    """Short by the drop of the neck: by the wrong comparison it would be as charted."""
    found = judged(blank(first(0.0), charts=(from_centre_back(),)))
    result = single_result(found, "size_against_chart", size="M", point="body_length")
    assert result.answer == Answer.NOT_TESTED
    assert found.verdict.advice == Advice.HOLD


def test_the_advice_says_what_to_do() -> None:
    """Ask for the length by our line, or measure theirs and say so in the round."""
    verdict = judged(blank(first(DROP), charts=(from_centre_back(),))).verdict
    assert verdict.headline.startswith(
        "Nothing speaks against it yet: body length is charted from the centre of the back neck"
    )
    assert "ask the supplier for the body length" in verdict.next_step
    assert "how: {body_length: centre_back}" in verdict.next_step


def test_measured_their_way_it_is_judged() -> None:
    """The same shirts, laid the other way, in a round that says so."""
    sound = blank(first(0.0, body_length="centre_back"), charts=(from_centre_back(),))
    result = single_result(judged(sound), "size_against_chart", size="M", point="body_length")
    assert result.answer == Answer.MEETS
    short = blank(first(-DROP, body_length="centre_back"), charts=(from_centre_back(),))
    result = single_result(judged(short), "size_against_chart", size="M", point="body_length")
    assert result.answer == Answer.FAILS


def test_a_round_from_the_centre_back_fails_no_chart_of_ours() -> None:
    """The other way round: the chart says nothing, so the first way is assumed."""
    found = judged(blank(first(-DROP, body_length="centre_back")))
    result = single_result(found, "size_against_chart", size="M", point="body_length")
    assert (result.answer, result.word) == (Answer.NOT_TESTED, "not comparable")


@pytest.mark.parametrize("way", ["high_point_front", "high_point_back"])
def test_front_and_back_from_the_high_point_are_one_line(way: str) -> None:
    """Both begin at the high point and end at a level hem."""
    found = judged(blank(first(), charts=(from_centre_back(body_length=way),)))
    assert (
        single_result(found, "size_against_chart", size="M", point="body_length").answer
        == Answer.MEETS
    )


def test_a_chest_below_the_armhole_is_compared() -> None:
    """Suppliers often chart it an inch below; a shop measures across the armholes."""
    found = judged(blank(first(), charts=(from_centre_back(half_chest="below_armhole"),)))
    assert (
        single_result(found, "size_against_chart", size="M", point="half_chest").answer
        == Answer.MEETS
    )


def test_lots_by_different_lines_are_not_compared() -> None:
    """A lot that was measured from the centre back has not become shorter."""
    later = dataclasses.replace(
        first(-DROP, body_length="centre_back"), key="2026-03-02-second", date=LATER
    )
    found = judged(blank(first(), later))
    assert single_result(found, "lots", point="half_chest").answer == Answer.MEETS
    assert single_result(found, "lots", point="body_length").answer == Answer.NOT_TESTED


def test_washing_is_a_percentage_along_any_line() -> None:
    """A round by our line was washed; a later one by theirs does not unmake the test."""
    round_ = measured(
        *(
            washed(
                piece(f"M-{n}", "M", half_chest="20", body_length="29"),
                5,
                half_chest="19 3/4",
                body_length="28",
            )
            for n in range(4)
        )
    )
    later = dataclasses.replace(
        first(-DROP, body_length="centre_back"), key="2026-03-02-second", date=LATER
    )
    result = single_result(judged(blank(round_, later)), "washing", point="body_length")
    change = result.number(Quantity.CHANGE)
    assert change is not None
    assert change.value == pytest.approx(-100 / 29)


def delivery(**how: str) -> Delivery:
    """Return a delivery with four measured pieces, as long by our line as a sound shirt is."""
    came = tuple(piece(f"M-{n}", "M", half_chest="20", body_length="29 3/4") for n in range(4))
    key = "2026-03-02-spring-delivery"
    return Delivery(
        Source(f"{key}.yaml"), key, "a/b", LATER, "rv", "B", {"M": 20}, 8, tape=EIGHTH,
        pieces=came, how=how,
    )  # fmt: skip


def test_no_piece_of_a_delivery_is_bad_by_another_line() -> None:
    """And the delivery says that the tape found nothing there, and why."""
    tee = dataclasses.replace(
        blank(first(DROP), charts=(from_centre_back(),)), deliveries=(delivery(),)
    )
    found = judged(tee)
    assert [came.bad.count for came in delivery_results(found.case)] == [0]
    assert (
        "not comparable, so the tape found none bad there"
        in single_result(found, "delivery").reason
    )
    theirs = dataclasses.replace(tee, deliveries=(delivery(body_length="centre_back"),))
    both = dataclasses.replace(theirs, rounds=(first(0.0, body_length="centre_back"),))
    assert [came.bad.count for came in delivery_results(judged(both).case)] == [4]


def test_clients_never_get_two_lines_in_one_column() -> None:
    """A size that nobody measured is the maker's claim, unless that runs along another line."""
    ours = measured(piece("M-1", "M", half_chest="20", body_length="29 3/4"))
    made = Decision("approved", datetime.date(2026, 1, 25), "rv", sizes=("S", "M", "L", "XL"))
    ours = dataclasses.replace(ours, decision=made)
    known = client_sizes(judged(blank(ours, charts=(from_centre_back(),))))
    assert {measure.size for measure in known.measures if measure.point == "body_length"} == {"M"}
    assert known.sizes == ("S", "M", "L", "XL")


def test_blanks_measured_by_their_line_stand_in_for_none_by_ours() -> None:
    """What is compared over blanks is the line of the measuring guide."""
    facts = fit_facts(blank(first(0.0, body_length="centre_back")), shop())
    assert facts["means"]["M"] == {"half_chest": 508.0}


def test_where_all_is_alike_nothing_is_copied() -> None:
    """The usual ledger pays nothing for this."""
    tee = blank(first(), charts=(from_centre_back(half_chest="below_armhole"),))
    assert on_newest_lines(tee) is tee
