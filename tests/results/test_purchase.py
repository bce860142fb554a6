"""The cheapest purchase that would tell two causes apart."""

import math
import random

import pytest

from blankbook.records.model import Round
from blankbook.results.judge import judge
from blankbook.results.purchase import SURE_ODDS, separation
from judging import DAY, blank, measured, piece, shop


def small_lot() -> Round:
    """Return one lot, two pieces a size, that runs half a size small."""
    pieces = [
        piece(f"{size}-{n}", size, half_chest=str(17 + 2 * i + n / 8), body_length=str(27.5 + i))
        for i, size in enumerate(("S", "M", "L"))
        for n in (0, 1)
    ]
    return measured(*pieces, day=DAY)


def test_lot_against_style_asks_for_another_lot() -> None:
    judged = judge(blank(small_lot()), shop())
    assert {one.key for one in judged.explanations[:2]} == {"style_runs", "lot_off"}
    assert judged.purchase is not None
    assert judged.purchase.another_lot
    assert judged.purchase.chance >= 0.9
    assert "from another lot" in judged.verdict.next_step
    assert "runs half a size small" in judged.verdict.next_step


def test_no_smaller_purchase_would_do() -> None:
    """It is the cheapest: fewer pieces are not enough."""
    purchase = judge(blank(small_lot()), shop()).purchase
    assert purchase is not None
    assert len(purchase.sizes) * purchase.each <= 3


def test_a_sure_cause_needs_no_purchase() -> None:
    pieces = [
        piece(f"{size}-{n}", size, half_chest=str(18 + 2 * i), body_length=str(28 + i))
        for i, size in enumerate(("S", "M", "L"))
        for n in (1, 2)
    ]
    pieces[3] = piece("M-2", "M", half_chest="22 1/8", body_length="30")
    assert judge(blank(measured(*pieces)), shop()).purchase is None


@pytest.mark.parametrize(
    ("squared", "first", "second"), [(6, 0.5, 0.5), (12, 0.6, 0.4), (20, 0.8, 0.2)]
)
def test_separation_against_drawn_evidence(squared: float, first: float, second: float) -> None:
    """The log likelihood ratio of two normal means, drawn 40,000 times under either.

    Source: Wald 1947; under the first its mean is D^2/2, under the second -D^2/2, variance D^2.
    """
    rng = random.Random(11)
    lead, right = math.log(first / second), 0
    draws = 40_000
    for _ in range(draws):
        is_first = rng.random() < first / (first + second)
        ratio = lead + rng.gauss(squared / 2 * (1 if is_first else -1), math.sqrt(squared))
        right += ratio >= math.log(SURE_ODDS) if is_first else ratio <= -math.log(SURE_ODDS)
    assert separation(squared, first, second) == pytest.approx(right / draws, abs=0.01)


def test_causes_that_expect_the_same_are_never_told_apart() -> None:
    assert separation(0.0, 0.5, 0.5) == 0.0
