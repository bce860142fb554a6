"""A heavyweight style knitted as a tube: two labels that share a width.

Source: common practice, no source. Two neighbouring labels each measured 23 in across the half
chest, with body lengths of 30 1/2 in and 32 in; the tube sets the width, so both labels share it.
"""

import pytest

from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice, Answer
from made_blanks import blank, measured, piece, shop, single_result

pytestmark = pytest.mark.published


@pytest.fixture(scope="module")
def tube() -> Judged:
    """Return the style judged with one piece of each label and no chart."""
    return judge(
        blank(
            measured(
                piece("XL-1", "XL", half_chest="23", body_length="30 1/2"),
                piece("2XL-1", "2XL", half_chest="23", body_length="32"),
            ),
            sizes=("XL", "2XL"),
            charts=(),
            construction="tube",
        ),
        shop(),
    )


def test_half_chest_is_not_graded(tube: Judged) -> None:
    result = single_result(tube, "grade_steps", point="half_chest")
    assert (result.answer, result.word) == (Answer.FAILS, "collapsed")
    assert "not graded" in result.reason


def test_length_is_graded_by_one_and_a_half_inches(tube: Judged) -> None:
    result = single_result(tube, "grade_steps", point="body_length")
    step = result.number(Quantity.STEP)
    assert (result.answer, result.word) == (Answer.MEETS, "graded")
    assert step is not None
    assert step.value == pytest.approx(38.1)
    assert "1 1/2 in" in result.reason


def test_one_in_two_is_mixed_up_across_the_chest(tube: Judged) -> None:
    chance = single_result(tube, "mix_up", point="half_chest").number(Quantity.MIX_UP_CHANCE)
    assert chance is not None
    assert chance.value == pytest.approx(0.5)
    assert "1 in 2 " in single_result(tube, "mix_up", point="half_chest").reason


def test_advice_is_not_approval(tube: Judged) -> None:
    assert tube.verdict.advice not in {Advice.APPROVED, Advice.CONDITIONS}


def test_the_tube_is_the_likely_cause(tube: Judged) -> None:
    first = tube.explanations[0]
    assert first.key == "not_graded"
    assert "tube" in first.because
    assert first.odds > 0.5
    assert any("tube" in reason for reason in tube.verdict.reasons)


def test_washing_is_not_tested_and_not_worth_testing_yet(tube: Judged) -> None:
    result = single_result(tube, "washing")
    assert result.answer == Answer.NOT_TESTED
    assert "Not worth testing yet" in result.reason
