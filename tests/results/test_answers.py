"""What the checks answer, and what they refuse to answer."""

import random
from dataclasses import replace
from datetime import date

import pytest

from blankbook.records.model import Round, Swatch
from blankbook.results.judge_blank import judge
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice, Answer
from made_blanks import blank, chart, measured, piece, shop, single_result, washed


def sound(*, wash: bool = True) -> Judged:
    """Return a style that is right: three sizes, two pieces each, washed."""
    pieces = [
        washed(
            piece(f"{s}-{n}", s, half_chest=f"{18 + 2 * i} {n}/8", body_length=f"{28 + i} {n}/8"),
            1,
            half_chest=f"{17 + 2 * i} {5 + n}/8",
            body_length=f"{27 + i} {n}/8",
        )
        for i, s in enumerate(("S", "M", "L"))
        for n in (1, 2)
    ]
    if not wash:
        pieces = [replace(piece, washed=()) for piece in pieces]
    return judge(blank(measured(*pieces)), shop())


def test_a_sound_style_is_approved_for_what_was_measured() -> None:
    judged = sound()
    assert judged.verdict.advice == Advice.APPROVED
    assert judged.verdict.orderable == ("S", "M", "L")
    assert any("not measured" in reason and "XL" in reason for reason in judged.verdict.reasons)


def test_not_washed_is_hold_and_says_to_wash() -> None:
    judged = sound(wash=False)
    assert judged.verdict.advice == Advice.HOLD
    assert "wash" in judged.verdict.next_step


def test_one_piece_near_the_border_is_not_shown_and_says_how_many_more() -> None:
    judged = judge(
        blank(measured(piece("M-1", "M", half_chest="20 3/8", body_length="29"))), shop()
    )
    result = single_result(judged, "size_against_chart", size="M", point="half_chest")
    assert result.answer == Answer.NOT_SHOWN
    assert result.more_pieces
    assert str(result.more_pieces) in result.reason


def test_that_many_more_pieces_do_settle_it() -> None:
    """The promise of "n more would settle it" is kept when n more of the same come."""
    first = piece("M-0", "M", half_chest="20 3/8", body_length="29")
    before = judge(blank(measured(first)), shop())
    more = single_result(before, "size_against_chart", size="M", point="half_chest").more_pieces
    assert more
    rest = [replace(first, key=f"M-{n}") for n in range(1, more + 1)]
    after = judge(blank(measured(first, *rest)), shop())
    assert (
        single_result(after, "size_against_chart", size="M", point="half_chest").answer
        == Answer.MEETS
    )


def test_nothing_measured_is_not_tested_everywhere() -> None:
    judged = judge(blank(), shop())
    assert {result.answer for result in judged.results} == {Answer.NOT_TESTED}
    assert judged.verdict.advice == Advice.HOLD
    assert "buy samples" in judged.verdict.next_step
    assert judged.verdict.headline == "Nothing was measured yet."
    assert len(judged.verdict.reasons) == 1


@pytest.mark.parametrize(
    ("chest", "word"),
    [("20", "true"), ("19 1/8", "short"), ("20 7/8", "long"), ("18 1/4", "collapsed"),
     ("17 3/8", "reversed")],
)  # fmt: skip
def test_words_of_a_grade_step(chest: str, word: str) -> None:
    """With four pieces of each size at 18 in and at the given half chest, charted 2 in apart."""
    pieces = [
        piece(f"{size}-{n}", size, half_chest=text, body_length="28" if size == "S" else "29")
        for n in range(4)
        for size, text in (("S", "18"), ("M", chest))
    ]
    result = single_result(
        judge(blank(measured(*pieces)), shop()), "grade_steps", point="half_chest"
    )
    assert result.word == word
    assert result.answer == (Answer.MEETS if word == "true" else Answer.FAILS)


def test_a_mislabelled_piece_is_named() -> None:
    pieces = [
        piece(f"{s}-{n}", s, half_chest=str(18 + 2 * i), body_length=str(28 + i))
        for i, s in enumerate(("S", "M", "L"))
        for n in (1, 2)
    ]
    pieces[3] = piece("M-2", "M", half_chest="22 1/8", body_length="30")
    judged = judge(blank(measured(*pieces)), shop())
    assert judged.explanations[0].key == "mislabelled"
    assert judged.explanations[0].says == "M-2, tagged M, measures as L"
    assert judged.explanations[0].odds > 0.9
    assert judged.verdict.advice == Advice.HOLD


def small_lot(lot: str, key: str, day: date, shift: int) -> Round:
    """Return a round of one lot whose half chest and length are off by *shift* eighths."""
    pieces = [
        piece(
            f"{s}-{n}",
            s,
            lot,
            half_chest=str(18 + 2 * i + shift / 8),
            body_length=str(28 + i + shift / 16),
        )
        for i, s in enumerate(("S", "M", "L"))
        for n in (1, 2)
    ]
    return measured(*pieces, key=key, lot=lot, day=day)


def test_one_lot_cannot_tell_lot_from_style() -> None:
    judged = judge(blank(small_lot("A", "2026-01-20-first", date(2026, 1, 20), -8)), shop())
    odds = {explanation.key: explanation.odds for explanation in judged.explanations}
    assert odds["style_runs"] / odds["lot_off"] == pytest.approx(1)
    assert judged.verdict.advice == Advice.HOLD
    assert "another lot" in judged.verdict.next_step


def test_a_second_lot_tells_them_apart() -> None:
    good = small_lot("A", "2026-01-20-first", date(2026, 1, 20), 0)
    bad = small_lot("B", "2026-03-20-again", date(2026, 3, 20), -8)
    judged = judge(blank(good, bad), shop())
    assert judged.explanations[0].key == "lot_off"
    assert judged.explanations[0].odds > 0.9


def test_two_lots_that_fail_alike_are_rejected() -> None:
    rounds = [
        small_lot(lot, f"2026-0{m}-20-{lot.lower()}", date(2026, m, 20), -8)
        for m, lot in ((1, "A"), (3, "B"))
    ]
    judged = judge(blank(*rounds), shop())
    assert judged.verdict.advice == Advice.REJECTED


def test_light_fabric_fails_the_claim() -> None:
    swatches = tuple(Swatch(10_000.0, mass) for mass in (1.83, 1.85, 1.82))
    judged = judge(blank(measured(swatches=swatches), mass=207.0), shop())
    result = single_result(judged, "fabric")
    assert (result.answer, result.word) == (Answer.FAILS, "light")


def test_a_failing_check_that_is_not_required_makes_a_condition() -> None:
    round_ = sound().blank.rounds[0]
    light = replace(round_, swatches=tuple(Swatch(10_000.0, mass) for mass in (1.83, 1.85, 1.82)))
    judged = judge(blank(light, mass=207.0), shop())
    assert judged.verdict.advice == Advice.CONDITIONS


@pytest.mark.parametrize("seed", range(5))
def test_order_of_pieces_does_not_matter(seed: int) -> None:
    round_ = sound().blank.rounds[0]
    pieces = list(round_.pieces)
    random.Random(seed).shuffle(pieces)
    shuffled = judge(blank(replace(round_, pieces=tuple(pieces))), shop())
    assert shuffled.verdict == sound().verdict
    assert [r.answer for r in shuffled.of("grade_steps")] == [
        r.answer for r in sound().of("grade_steps")
    ]


def test_a_wider_tolerance_never_turns_meets_into_something_else() -> None:
    for chest in ("19 3/4", "20", "20 1/4", "20 1/2", "21"):
        round_ = measured(piece("M-1", "M", half_chest=chest), piece("M-2", "M", half_chest=chest))
        answers = [
            single_result(
                judge(blank(round_), shop(tolerance={**shop().tolerance, "half_chest": wide})),
                "size_against_chart",
                size="M",
                point="half_chest",
            ).answer
            for wide in (6.0, 9.0, 12.7, 19.0, 30.0)
        ]
        met = [answer == Answer.MEETS for answer in answers]
        assert met == sorted(met)


def test_sizes_in_centimetres_are_the_same_answers() -> None:
    """The shop's unit changes the words, never an answer or a number."""
    inches, metric = sound(), judge(sound().blank, shop(unit="cm"))
    assert [r.answer for r in inches.results] == [r.answer for r in metric.results]
    assert [r.numbers for r in inches.results] == [r.numbers for r in metric.results]
    assert any(" cm" in r.reason for r in metric.results)


def test_a_chart_without_the_point_is_not_held_against_it() -> None:
    bare = chart({"S": {"half_chest": "18"}, "M": {"half_chest": "20"}})
    round_ = measured(piece("S-1", "S", half_chest="18", body_length="28"))
    judged = judge(blank(round_, sizes=("S", "M"), charts=(bare,)), shop())
    result = single_result(judged, "size_against_chart", size="S", point="body_length")
    assert result.answer == Answer.NOT_TESTED
    assert "no chart" in result.reason


@pytest.mark.parametrize("seed", range(8))
def test_every_answer_that_is_not_shown_says_what_would_settle_it(seed: int) -> None:
    """Pieces, readings or a finer tape: each open answer names it, or that none would do."""
    rng = random.Random(seed)
    pieces = [
        piece(
            f"{size}-{n}",
            size,
            half_chest=f"{18 + 2 * i + rng.randint(-4, 5) / 8}",
            body_length=f"{28 + i + rng.randint(-4, 5) / 8}",
        )
        for i, size in enumerate(("S", "M", "L"))
        for n in range(rng.randint(1, 2))
    ]
    judged = judge(blank(measured(*pieces)), shop())
    still_open = [r for r in judged.results if r.answer == Answer.NOT_SHOWN and r.check != "label"]
    assert all("would settle it" in r.reason or "not settle it" in r.reason for r in still_open)
    counted = {"size_against_chart", "grade_steps", "mix_up", "spread"}
    for result in still_open:
        if result.check in counted and "not settle it" not in result.reason:
            assert result.more_pieces
            assert f"{result.more_pieces} more piece" in result.reason


@pytest.mark.parametrize(("risk", "quantile"), [(0.05, 1.645), (0.01, 2.326), (0.10, 1.282)])
def test_the_limits_of_a_piece_follow_the_shops_risk(risk: float, quantile: float) -> None:
    """Normal quantiles as printed in any table of the normal distribution, to three decimals."""
    round_ = measured(piece("M-1", "M", half_chest="20 1/4"))
    result = single_result(
        judge(blank(round_), shop(risk=risk)), "piece_against_chart", point="half_chest"
    )
    off, error = result.number(Quantity.OFF_THE_CHART), result.number(Quantity.READING_UNCERTAINTY)
    assert off is not None
    assert error is not None
    assert off.high is not None
    assert (off.high - off.value) / error.value == pytest.approx(quantile, abs=0.0005)
