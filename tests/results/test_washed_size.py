"""Which size, as it was when new, a washed piece measures like."""

import pytest

from blankbook.records.model import Prior
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice, Answer
from made_blanks import blank, measured, piece, shop, single_result, washed


def after(
    chest: str,
    pieces: int = 3,
    new: tuple[str, ...] = ("18", "20", "22"),
    required: tuple[str, ...] = ("washed_size",),
) -> Judged:
    """Return S, M and L as received, and the M measured again after five washes."""
    sizes = ("S", "M", "L")
    garments = [
        piece(f"{size}-{n}", size, half_chest=width, body_length="29")
        for size, width in zip(sizes, new, strict=True)
        for n in range(pieces)
    ]
    garments = [
        washed(piece, 5, half_chest=chest) if piece.size == "M" else piece for piece in garments
    ]
    return judge(blank(measured(*garments)), shop(required=required))


@pytest.mark.parametrize(
    ("chest", "answer", "word"),
    [
        ("19 3/4", Answer.MEETS, "as M when new"),
        ("18 1/8", Answer.FAILS, "as S when new"),
        ("22", Answer.FAILS, "as L when new"),
        ("19", Answer.NOT_SHOWN, ""),
        ("15 1/2", Answer.FAILS, "smaller than M when new"),
        ("24", Answer.FAILS, "larger than M when new"),
    ],
)
def test_borders_lie_halfway_between_the_sizes_as_received(
    chest: str, answer: Answer, word: str
) -> None:
    """An M of 20 in between an S of 18 in and an L of 22 in, all measured."""
    result = single_result(after(chest), "washed_size", point="half_chest")
    assert (result.answer, result.word, result.cycles) == (answer, word, 5)
    assert result.deciding


def test_what_the_shop_does_not_ask_is_noted() -> None:
    """Another size after washing is for the buyer to know; it fails only where it is required."""
    result = single_result(
        after("18 1/8", required=("washing",)), "washed_size", point="half_chest"
    )
    assert (result.answer, result.word) == (Answer.NOTED, "as S when new")
    assert not result.deciding
    still = single_result(after("19 3/4", required=("washing",)), "washed_size", point="half_chest")
    assert still.answer == Answer.MEETS


def test_the_most_washes_count() -> None:
    """A piece that is still its own size after one wash, and not after five."""
    sizes = (("S", "18"), ("M", "20"), ("L", "22"))
    pieces = [piece(f"{s}-{n}", s, half_chest=w) for s, w in sizes for n in range(3)]
    pieces = [
        washed(washed(piece, 1, half_chest="19 3/4"), 5, half_chest="18")
        if piece.size == "M"
        else piece
        for piece in pieces
    ]
    result = single_result(
        judge(blank(measured(*pieces)), shop()), "washed_size", point="half_chest"
    )
    assert (result.cycles, result.word) == (5, "as S when new")


def test_sizes_as_received_count_and_not_the_chart() -> None:
    """The chart says 20 in for an M; these came out of the bag an inch smaller all over."""
    judged = after("19", new=("17", "19", "21"))
    assert single_result(judged, "washed_size", point="half_chest").word == "as M when new"


def test_answer_says_which_size_and_how_far_from_it() -> None:
    """As a shop would say it, with the limits of the difference."""
    result = single_result(after("18 1/8"), "washed_size", point="half_chest")
    assert result.reason.startswith(
        "M half chest after 5 washes is 18 1/8 in: it measures as S did"
    )
    off = result.number(Quantity.OFF_THE_NEAREST_SIZE)
    assert off is not None
    assert off.low is not None
    assert off.high is not None
    assert off.low < 25.4 / 8 < off.high


def test_what_would_settle_it_does() -> None:
    """With as many more washed pieces; the sizes as received stay as they are."""
    before = single_result(after("19 1/8", pieces=2), "washed_size", point="half_chest")
    assert before.more_pieces, before.reason
    sizes = {"S": "18", "M": "20", "L": "22"}
    pieces = [piece(f"{s}-{n}", s, half_chest=w) for s, w in sizes.items() for n in range(2)]
    pieces = [
        washed(piece, 5, half_chest="19 1/8") if piece.size == "M" else piece for piece in pieces
    ]
    more = [
        washed(piece(f"M-more-{n}", "M", half_chest="20"), 5, half_chest="19 1/8")
        for n in range(before.more_pieces)
    ]
    settled = judge(blank(measured(*pieces, *more)), shop())
    assert single_result(settled, "washed_size", point="half_chest").answer == Answer.MEETS


def test_two_sizes_of_one_width_cannot_be_told_apart_by_it() -> None:
    """Where M and L measure the same, the border between them lies on both."""
    result = single_result(
        after("19 7/8", new=("18", "20", "20")), "washed_size", point="half_chest"
    )
    assert result.answer == Answer.NOT_SHOWN


def test_pieces_that_shrink_unlike_leave_more_open() -> None:
    """How unlike pieces shrink is in the limits: a shop that states more is told less."""
    sure = single_result(after("19 1/4"), "washed_size", point="half_chest")
    blank = after("19 1/4").blank
    unlike = judge(blank, shop(wash_spread=Prior(6.0, 6), required=("washed_size",)))
    assert sure.answer == Answer.MEETS
    assert single_result(unlike, "washed_size", point="half_chest").answer == Answer.NOT_SHOWN


def test_one_size_alone_has_nothing_to_be_held_against() -> None:
    garment = washed(piece("M-1", "M", half_chest="20"), 1, half_chest="19")
    assert judge(blank(measured(garment)), shop()).of("washed_size") == ()
    asking = judge(blank(measured(garment)), shop(required=("washed_size",)))
    assert single_result(asking, "washed_size").answer == Answer.NOT_TESTED
    assert asking.verdict.advice == Advice.HOLD
