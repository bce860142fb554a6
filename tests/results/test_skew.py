"""How far a body twists: formula, answers, and what the percentage is taken of."""

from dataclasses import replace

import pytest

from blankbook.records.lengths import read_length
from blankbook.records.model import Piece, Seam
from blankbook.results.checks.skew import seam_twist
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Result
from blankbook.words.answers import Advice, Answer
from made_blanks import blank, measured, piece, shop, single_result, twisted


@pytest.mark.published
@pytest.mark.parametrize(
    ("shift", "whole", "percent", "half_digit"),
    [
        (12, 250, "4.8", 0.05),
        (28, 420, "6.6667", 0.00005),
        (0.5, 8, "6.25", 0.005),
    ],
)
def test_twist_is_the_shift_over_the_seam(
    shift: float, whole: float, percent: str, half_digit: float
) -> None:
    """100 AA'/AB: AATCC TM207 and ISO 16322-3, the formula from memory.

    The third is a trade page's worked example, a seam 0.5 in out at the hem of a side of 8 in, read
    in a stored copy; the others are calculated from the definition.
    """
    assert seam_twist(shift, whole) == pytest.approx(float(percent), abs=half_digit)


@pytest.mark.published
@pytest.mark.parametrize(
    ("shear", "diagonals", "percent"),
    [
        (0.02, (357.1064, 350.0357), "1.9998"),
        (0.06, (364.3144, 343.1108), "5.9946"),
        (0.10, (371.6517, 336.3406), "9.9750"),
    ],
)
def test_twist_agrees_with_the_diagonals_of_a_sheared_square(
    shear: float, diagonals: tuple[float, float], percent: str
) -> None:
    """The diagonal method for cloth, 200 (AC - BD) / (AC + BD) (AATCC TM179 option 1, from memory).

    A square of 250 mm is sheared: for small twists both methods see the same, and the diagonals a
    little less, by about a quarter of the twist squared.
    """
    seam = seam_twist(250 * shear, 250)
    ac, bd = diagonals
    cloth = 200 * (ac - bd) / (ac + bd)
    assert cloth == pytest.approx(float(percent), abs=0.00005)
    assert seam == pytest.approx(100 * shear)
    assert 0 <= seam - cloth <= 100 * shear**3 / 3


def after(*shifts: str, side: str = "18", **rules: object) -> Result:
    """Return the answer for pieces with these shifts after five washes."""
    pieces = [
        twisted(piece(f"M-{n}", "M", half_chest="20", body_length="29"), 5, shift, side)
        for n, shift in enumerate(shifts)
    ]
    return single_result(judge(blank(measured(*pieces)), shop(**rules)), "skew")


@pytest.mark.parametrize(
    ("shifts", "answer"),
    [
        (("1/4", "1/4", "1/8"), Answer.MEETS),
        (("7/8", "1"), Answer.NOT_SHOWN),
        (("1 3/4", "2"), Answer.FAILS),
        (("0", "0"), Answer.MEETS),
    ],
)
def test_mean_is_held_against_the_limit(shifts: tuple[str, ...], answer: Answer) -> None:
    """5 % of a side of 18 in is 0.9 in."""
    assert after(*shifts).answer == answer


def test_what_would_settle_it_does() -> None:
    """The promise of n more pieces is kept when n more of the same come."""
    more = after("5/8").more_pieces
    assert more
    assert after(*["5/8"] * (1 + more)).answer == Answer.MEETS


def test_body_length_shows_a_twist_and_never_that_there_is_none() -> None:
    """The body is longer than the side seam, so the percentage comes out too small."""
    small, large = after("1/8", "1/8", "1/8", side=""), after("3", "3", side="")
    assert small.answer == Answer.NOT_SHOWN
    assert "write seam_length" in small.reason
    assert large.answer == Answer.FAILS
    assert "of the body length" in large.reason


def test_one_piece_without_its_side_takes_the_body_length_for_all() -> None:
    """Two kinds of percentage are never averaged."""
    first = twisted(piece("M-1", "M", body_length="29"), 1, "1", "18")
    second = twisted(piece("M-2", "M", body_length="29"), 1, "1")
    assert (
        "body length" in single_result(judge(blank(measured(first, second)), shop()), "skew").reason
    )


def with_start(shift: str, towards: str) -> Piece:
    seam = Seam(read_length(shift, "in").mm, shift, towards, read_length("18", "in"))
    return replace(piece("M-1", "M", body_length="29"), seam=seam)


@pytest.mark.parametrize(("towards", "added"), [("left", 4.0), ("right", 6.0)])
def test_twist_as_received_stands_beside_it(towards: str, added: float) -> None:
    """0.18 in of 18 in is 1 %: what washing added depends on the way that it went before."""
    piece = twisted(with_start("0.18", towards), 5, "0.9", towards="left")
    result = single_result(judge(blank(measured(piece)), shop()), "skew")
    found = result.number(Quantity.TWIST_ADDED)
    assert found is not None
    assert found.value == pytest.approx(added)
    twist = result.number(Quantity.TWIST)
    assert twist is not None
    assert twist.value == pytest.approx(5.0)
    assert result.word == "to the left"


def test_pieces_that_twist_both_ways_do_not_cancel() -> None:
    """Averaging signs would hide the twist."""
    left = twisted(piece("M-1", "M"), 5, "2", "18", "left")
    right = twisted(piece("M-2", "M"), 5, "2", "18", "right")
    result = single_result(judge(blank(measured(left, right)), shop()), "skew")
    assert (result.answer, result.word) == (Answer.FAILS, "both ways")


def test_every_stage_is_shown_and_the_last_decides() -> None:
    """After 1, 3, 5 and 50 washes."""
    garment = piece("M-1", "M", body_length="29")
    for cycles in (1, 3, 5, 50):
        garment = twisted(garment, cycles, "2", "18")
    found = judge(blank(measured(garment)), shop()).of("skew")
    assert [(r.cycles, r.deciding) for r in found] == [
        (1, False),
        (3, False),
        (5, False),
        (50, True),
    ]


def test_required_twist_holds_once_and_rejects_when_another_lot_shows_it() -> None:
    """The first lot may be at fault; the second says that it is the knit."""
    pieces = [twisted(piece(f"M-{n}", "M"), 5, "2", "18") for n in (1, 2)]
    first = measured(*pieces)
    again = measured(*(replace(p, lot="B") for p in pieces), key="2026-03-01-second", lot="B")
    rules = shop(required=("skew",))
    once = judge(blank(first), rules).verdict
    assert (once.advice, "another lot" in once.next_step) == (Advice.HOLD, True)
    assert once.orderable == ()
    assert judge(blank(first, again), rules).verdict.advice == Advice.REJECTED


def test_required_twist_of_the_body_length_asks_for_the_side() -> None:
    """The next step is a tape along the side seam, not more pieces."""
    pieces = [twisted(piece(f"M-{n}", "M", body_length="29"), 5, "1/8") for n in (1, 2)]
    verdict = judge(blank(measured(*pieces)), shop(required=("skew",))).verdict
    assert verdict.advice == Advice.HOLD
    assert "seam_length" in verdict.next_step
