"""Which size a washed piece has become."""

import pytest

from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer
from judging import blank, measured, only, piece, shop, washed


def after(chest: str, length: str, pieces: int = 3) -> Judged:
    """Return pieces of an M, as charted when received, with these measures after one wash."""
    garments = [
        washed(
            piece(f"M-{n}", "M", half_chest="20", body_length="29"),
            1,
            half_chest=chest,
            body_length=length,
        )
        for n in range(pieces)
    ]
    return judge(blank(measured(*garments)), shop())


@pytest.mark.parametrize(
    ("chest", "answer", "word"),
    [
        ("19 3/4", Answer.MEETS, "its own size"),
        ("18", Answer.FAILS, "a size down"),
        ("22", Answer.FAILS, "a size up"),
        ("19", Answer.NOT_SHOWN, ""),
    ],
)
def test_the_border_is_half_a_grade_step(chest: str, answer: Answer, word: str) -> None:
    """An M charted at 20 in between an S of 18 in and an L of 22 in."""
    result = only(after(chest, "28 3/4"), "washed_size", point="half_chest")
    assert (result.answer, result.word) == (answer, word)


def test_a_length_can_become_a_size_smaller_where_the_width_does_not() -> None:
    judged = after("19 3/4", "28")
    assert only(judged, "washed_size", point="body_length").word == "a size down"
    assert only(judged, "washed_size", point="half_chest").word == "its own size"


def test_the_most_washes_count() -> None:
    garment = washed(piece("M-1", "M", half_chest="20", body_length="29"), 1, half_chest="20")
    again = washed(garment, 5, half_chest="18")
    judged = judge(blank(measured(again, again)), shop())
    assert only(judged, "washed_size", point="half_chest").cycles == 5


def test_it_does_not_decide_and_needs_a_chart() -> None:
    assert not any(result.deciding for result in after("18", "28").of("washed_size"))
    pieces = [washed(piece("M-1", "M", half_chest="20"), 1, half_chest="19")]
    assert judge(blank(measured(*pieces), charts=()), shop()).of("washed_size") == ()
