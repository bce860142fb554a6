"""The label check: a wrong tag is named, a lot that runs small is not one."""

import pytest

from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Judged
from blankbook.words.answers import Answer
from made_blanks import blank, measured, piece, shop, single_result


def labelled(changed: dict[str, tuple[str, str]]) -> Judged:
    """Return three sizes of two pieces, some with another half chest and length than charted."""
    pieces = []
    for i, size in enumerate(("S", "M", "L")):
        for n in (1, 2):
            key = f"{size}-{n}"
            chest, length = changed.get(key, (str(18 + 2 * i), str(28 + i)))
            pieces.append(piece(key, size, half_chest=chest, body_length=length))
    return judge(blank(measured(*pieces)), shop())


def test_right_tags_meet() -> None:
    assert {result.answer for result in labelled({}).of("label")} == {Answer.MEETS}


def test_wrong_tag_is_said_plainly() -> None:
    result = single_result(labelled({"M-2": ("22 1/8", "30")}), "label", piece="M-2")
    assert result.answer == Answer.FAILS
    assert result.word == "measures as L"
    assert result.reason.startswith("M-2: tagged M, measures as L (")


def test_the_other_pieces_keep_their_tags() -> None:
    judged = labelled({"M-2": ("22 1/8", "30")})
    others = [r for r in judged.of("label") if r.piece != "M-2"]
    assert {result.answer for result in others} == {Answer.MEETS}


def test_a_stranger_is_none_of_the_sizes() -> None:
    """Wide as an XL and short as an S: no size is like that."""
    result = single_result(labelled({"M-2": ("24", "28")}), "label", piece="M-2")
    assert result.answer == Answer.FAILS
    assert "none of the sizes" in result.reason


@pytest.mark.parametrize("off", [-1.0, 1.0])
def test_a_lot_half_a_size_off_is_no_wrong_tag(off: float) -> None:
    changed = {
        f"{size}-{n}": (str(18 + 2 * i + off), str(28 + i + off / 2))
        for i, size in enumerate(("S", "M", "L"))
        for n in (1, 2)
    }
    answers = [result.answer for result in labelled(changed).of("label")]
    assert Answer.FAILS not in answers


def test_two_wrong_tags_are_both_named() -> None:
    judged = labelled({"S-2": ("20", "29"), "L-1": ("20 1/8", "29")})
    words = {r.piece: r.word for r in judged.of("label") if r.answer == Answer.FAILS}
    assert words == {"S-2": "measures as M", "L-1": "measures as M"}


def test_a_width_that_is_not_graded_is_no_wrong_tag() -> None:
    changed = {f"L-{n}": ("20", "30") for n in (1, 2)}
    judged = labelled(changed)
    assert judged.explanations[0].key == "not_graded"
    assert Answer.FAILS not in [result.answer for result in judged.of("label")]


def test_chances_add_up_to_one() -> None:
    for ours in labelled({"M-2": ("21", "29 1/2")}).case.posterior.tags.values():
        assert sum(ours.values()) == pytest.approx(1)
