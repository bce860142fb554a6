"""Grades against the least that is accepted: what meets, what fails, what is left open."""

from dataclasses import replace
from itertools import combinations_with_replacement
from math import comb, prod

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from blankbook.records.model import Piece, Workmanship, Worn
from blankbook.results.checks.least_grade import answer_at_least, grade_border, grade_limits
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.answers import Advice, Answer
from blankbook.words.grade_scales import GRADE_SCALES, GRADES, nearest_grade, neighbouring_grades
from made_blanks import blank, graded, grades, measured, piece, shop, single_result

VALUES = sorted(GRADES.values())
SIZES = ("S", "M", "L")


def ones(*words: str, part: str = "colour", cycles: int = 5) -> list[Piece]:
    """Return a washed piece for each grade."""
    return [
        graded(piece(f"M-{n}", "M", half_chest="20", body_length="29"), cycles, **{part: word})
        for n, word in enumerate(words)
    ]


def judged(*words: str, part: str = "colour", **rules: object) -> Judged:
    """Return pieces judged that got these grades after five washes."""
    return judge(blank(measured(*ones(*words, part=part))), shop(**rules))


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (("5", "5", "4-5"), Answer.MEETS),
        (("4-5",), Answer.MEETS),
        (("4",), Answer.NOT_SHOWN),
        (("4", "4", "4"), Answer.NOT_SHOWN),
        (("4", "4", "4", "4", "4"), Answer.MEETS),
        (("4", "3-4"), Answer.NOT_SHOWN),
        (("3-4", "3-4", "3-4", "3-4", "3-4"), Answer.FAILS),
        (("3", "3"), Answer.FAILS),
    ],
)
@pytest.mark.parametrize("part", ["colour", "pilling"])
def test_least_grade_is_what_rounds_to_it(
    words: tuple[str, ...], answer: Answer, part: str
) -> None:
    """With 4 asked for, the border is 3.75; one piece of grade 4 does not show it, five do."""
    result = single_result(
        judged(*words, part=part, least_grade={part: 4.0, "staining": 4.0}), part, part=part
    )
    assert (result.answer, result.cycles) == (answer, 5)


def test_what_would_settle_it_does() -> None:
    """The promise of n more pieces is kept when n more of the same come: it is a safe one."""
    more = single_result(judged("4", "4"), "colour", part="colour").more_pieces
    assert more
    assert (
        single_result(judged(*["4"] * (2 + more)), "colour", part="colour").answer == Answer.MEETS
    )


def test_reason_names_the_worst_piece_and_what_good_ones_leave_open() -> None:
    """Three good out of three still allows that up to 63 % are bad."""
    result = single_result(judged("5", "4-5", "5"), "colour", part="colour")
    assert "Worst is M-1 with 4-5" in result.reason
    assert "Three good out of three still allows that up to 63 % are bad" in result.reason
    assert "4 begins at 3.75" in result.reason


def test_one_below_among_good_ones_is_counted() -> None:
    """The mean can meet while a piece does not; the reason says so."""
    result = single_result(judged("5", "5", "5", "5", "3-4"), "colour", part="colour")
    assert result.answer == Answer.MEETS
    assert "One bad out of five" in result.reason
    below = result.number(Quantity.PIECES_BELOW)
    assert below is not None
    assert below.value == 1


def test_staining_has_a_least_grade_of_its_own() -> None:
    """A shop may ask more of one than of the other."""
    pieces = ones("4", "4", "4", "4", "4", part="staining")
    rules = shop(least_grade={"colour": 4.0, "staining": 4.5})
    result = single_result(judge(blank(measured(*pieces)), rules), "colour", part="staining")
    assert result.answer == Answer.FAILS


def test_stages_up_to_fifty_washes_are_shown_and_the_last_decides() -> None:
    """After 1, 3, 5, 10, 25 and 50 washes; the early ones are on the record and do not count."""
    stages = {1: "5", 3: "5", 5: "4-5", 10: "4-5", 25: "4", 50: "2"}
    garment = piece("M-1", "M", half_chest="20", body_length="29")
    two = piece("M-2", "M", half_chest="20", body_length="29")
    for cycles, word in stages.items():
        garment, two = graded(garment, cycles, colour=word), graded(two, cycles, colour=word)
    found = [
        r for r in judge(blank(measured(garment, two)), shop()).of("colour") if r.part == "colour"
    ]
    assert [r.cycles for r in found] == list(stages)
    assert [r.cycles for r in found if r.deciding] == [50]
    assert found[-1].answer == Answer.FAILS
    assert "after 50 washes" in found[-1].reason


def test_workmanship_has_an_answer_for_each_part_that_was_looked_at() -> None:
    """Seams meet, hems fail, nobody looked at the knit."""
    made = Workmanship(grades(seams="5", hems="2"), "hems roll")
    pieces = [replace(piece(f"M-{n}", "M", half_chest="20"), workmanship=made) for n in (1, 2)]
    found = {r.part: r.answer for r in judge(blank(measured(*pieces)), shop()).of("workmanship")}
    assert found == {"seams": Answer.MEETS, "hems": Answer.FAILS}


def test_last_grade_of_a_worn_piece_counts() -> None:
    """Good after five days, worn out after thirty."""
    worn = (Worn(5, 1, grades(shape="5")), Worn(30, 10, grades(shape="2")))
    pieces = [replace(piece(f"M-{n}", "M", half_chest="20"), worn=worn) for n in (1, 2)]
    result = single_result(judge(blank(measured(*pieces)), shop()), "wear", part="shape")
    assert result.answer == Answer.FAILS
    assert "Worn on 30 days or more" in result.reason


@pytest.mark.parametrize(
    "check", ["colour", "pilling", "workmanship", "wear", "decoration", "skew"]
)
def test_nobody_looked_is_said_and_counts_only_where_it_is_required(check: str) -> None:
    """It never turns into a pass, and a shop that does not ask is not held up by it."""
    pieces = [piece(f"{s}-1", s, half_chest=str(18 + 2 * i)) for i, s in enumerate(SIZES)]
    silent = single_result(judge(blank(measured(*pieces)), shop(required=("label",))), check)
    asking = judge(blank(measured(*pieces)), shop(required=(check,)))
    assert (silent.answer, silent.deciding) == (Answer.NOT_TESTED, False)
    assert single_result(asking, check).deciding
    assert asking.verdict.advice == Advice.HOLD
    assert asking.verdict.next_step not in {"", judged("5").verdict.next_step}


STEPS = {
    "colour": "another dye lot",
    "pilling": "from another lot",
}


@pytest.mark.parametrize("check", STEPS)
def test_required_grade_that_fails_holds_and_says_what_next(check: str) -> None:
    """One lot cannot tell a bad lot from the style; a second that fails too can."""
    first = measured(*ones("2", "2", "2", part=check))
    rules = shop(required=(check,))
    once = judge(blank(first), rules).verdict
    assert once.advice == Advice.HOLD
    assert STEPS[check] in once.next_step
    again = measured(
        *(replace(piece, lot="B") for piece in ones("2", "2", "2", part=check)),
        key="2026-03-01-second",
        lot="B",
    )
    assert judge(blank(first, again), rules).verdict.advice == Advice.REJECTED


def test_required_grade_that_is_open_asks_for_more_pieces_of_that_kind() -> None:
    """The step is to wash and grade, not to measure."""
    held = judged("3-4", "3-4", required=("pilling",), part="pilling").verdict
    assert held.advice == Advice.HOLD
    assert held.next_step.startswith("wash and grade")


def test_failing_grade_that_is_not_required_is_a_condition() -> None:
    """The sizes are right; the colour runs; the advice says both."""
    pieces = [
        graded(piece(f"{s}-{n}", s, half_chest=str(18 + 2 * i)), 5, colour="2")
        for i, s in enumerate(SIZES)
        for n in (1, 2)
    ]
    rules = shop(required=("size_against_chart",), deciding_points=("half_chest",))
    assert judge(blank(measured(*pieces)), rules).verdict.advice == Advice.CONDITIONS


def wrong(count: int, true: float, deviation: float, least: float) -> float:
    """Return how often *count* pieces of a mean just under the border are said to meet.

    Every combination of grades is weighed by its chance: nothing is drawn.
    """
    edges = [-99.0, *(value + 0.25 for value in VALUES[:-1]), 99.0]
    below = [float(stats.norm.cdf((edge - true) / deviation)) for edge in edges]
    chances = {v: high - low for v, low, high in zip(VALUES, below, below[1:], strict=False)}
    total = 0.0
    for values in combinations_with_replacement([v for v in VALUES if chances[v] > 1e-9], count):
        if answer_at_least(grade_limits(values, shop())[0], least) == Answer.MEETS:
            ways, left = 1, count
            for value in set(values):
                ways *= comb(left, values.count(value))
                left -= values.count(value)
            total += ways * prod(chances[v] for v in values)
    return total


@pytest.mark.parametrize("deviation", [0.1, 0.25])
@pytest.mark.parametrize("count", range(1, 8))
def test_wrong_meets_is_rarer_than_the_risk(count: int, deviation: float) -> None:
    """At the border itself, where it is hardest, for pieces that differ by up to the assumption."""
    assert wrong(count, grade_border(4.0) - 1e-6, deviation, 4.0) <= 0.05


@given(st.lists(st.sampled_from(VALUES), min_size=1, max_size=12), st.sampled_from(VALUES))
def test_answer_follows_the_mean_and_a_better_piece_never_makes_it_worse(
    values: list[float], least: float
) -> None:
    """Meets only with a mean at or above the border, fails only below it."""
    mean, _ = grade_limits(tuple(values), shop())
    answer = answer_at_least(mean, least)
    assert mean.low < mean.mean < mean.high
    if answer == Answer.MEETS:
        assert mean.mean >= grade_border(least)
    if answer == Answer.FAILS:
        assert mean.mean < grade_border(least)
    assert answer_at_least(grade_limits(tuple(values), shop())[0], 1.0) != Answer.FAILS


@given(st.sampled_from(sorted(GRADES)))
def test_grades_are_written_as_they_are_read(word: str) -> None:
    """Word, value and word again."""
    assert nearest_grade(GRADES[word]) == word
    assert neighbouring_grades(GRADES[word]) == (word,)


def test_every_scale_explains_every_grade() -> None:
    """Whole grades in words, half grades by their neighbours; each names where it comes from."""
    for scale in GRADE_SCALES.values():
        assert set(scale.meanings) == {"5", "4", "3", "2", "1"}
        assert all(scale.meaning(word) for word in GRADES)
        assert scale.source


def test_number_of_each_answer_is_of_one_kind() -> None:
    """Every graded answer carries the same numbers, so that a page has columns for them."""
    found: list[Result] = [
        *judged("5", "4").of("colour"),
        *judged("5", part="pilling").of("pilling"),
    ]
    names = {tuple(n.name for n in result.numbers) for result in found if result.numbers}
    assert len(names) == 1
