"""Twist against simulated truth: as often right as the shop's risk says."""

import random
from dataclasses import replace

from blankbook.records.lengths import Length
from blankbook.records.model import Seam, Washed
from blankbook.results.checks import skew
from blankbook.results.make_case import make_case
from blankbook.results.result_types import Case
from blankbook.words.answers import Answer
from made_blanks import EIGHTH, blank, measured, piece, shop

ROUNDS, PIECES, SEED = 3000, 3, 20261125
SIDE = 18 * 25.4
ALLOWED = 0.05 + 3 * (0.05 * 0.95 / ROUNDS) ** 0.5
"""The risk, and three deviations of a share that is counted in so many rounds."""


def answers(true: float) -> list[Answer]:
    """Return what is said of rounds whose body truly twists by *true* percent.

    Pieces spread by what the shop assumes, and a tape in eighths with the shop's own hand reads.
    """
    draw, rules = random.Random(SEED), shop()
    bare = piece("M-1", "M", half_chest="20", body_length="29")
    case = make_case(blank(measured(bare)), rules)
    assert case.round
    return [_answer(case, read_shifts(draw, true, case)) for _ in range(ROUNDS)]


def read_shifts(draw: random.Random, true: float, case: Case) -> list[float]:
    """Return what the tape reads at the hem of each piece, in millimetres."""
    eighth, found = EIGHTH.reads_to.mm, []
    for _ in range(PIECES):
        percent = draw.gauss(true, case.shop.skew_spread.deviation)
        seen = percent / 100 * SIDE + draw.gauss(0, case.shop.repeatability.deviation)
        found.append(max(round(seen / eighth), 0) * eighth)
    return found


def _answer(case: Case, shifts: list[float]) -> Answer:
    assert case.round
    side = Length(EIGHTH.reads_to.exact * 144, SIDE, "18", "in")
    first = case.round.pieces[0]
    pieces = tuple(
        replace(first, key=f"M-{n}", washed=(Washed(5, {}, seam=Seam(shift, "read", "", side)),))
        for n, shift in enumerate(shifts)
    )
    round_ = replace(case.round, pieces=pieces)
    (result,) = skew.judge(replace(case, blank=replace(case.blank, rounds=(round_,)), round=round_))
    return result.answer


def test_body_that_twists_a_little_too_far_seldom_meets() -> None:
    """Just past the limit, where it is hardest to tell."""
    found = answers(5.001)
    assert found.count(Answer.MEETS) / ROUNDS <= ALLOWED


def test_body_that_keeps_the_limit_seldom_fails() -> None:
    """Just inside it."""
    found = answers(4.999)
    assert found.count(Answer.FAILS) / ROUNDS <= ALLOWED


def test_what_is_far_from_the_limit_is_told() -> None:
    """Half the limit meets, and twice the limit fails, nearly always."""
    assert answers(1.5).count(Answer.MEETS) / ROUNDS > 0.95
    assert answers(9.0).count(Answer.FAILS) / ROUNDS > 0.95
