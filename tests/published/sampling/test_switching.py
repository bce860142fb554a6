"""Switching over a supplier's deliveries, rule by rule (MIL-STD-105E, 4.7 and 4.8)."""

import random
from typing import NamedTuple

import pytest

from blankbook.results.methods.sampling_plans import Outcome
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.methods.switching_rules import (
    InspectedDelivery,
    SwitchingState,
    state_after,
    state_at_arrival,
)

pytestmark = pytest.mark.published

OUTCOMES = {"a": Outcome.ACCEPTED, "b": Outcome.BETWEEN, "r": Outcome.REJECTED}
WORDS = {
    "N": Severity.NORMAL,
    "T": Severity.TIGHTENED,
    "R": Severity.REDUCED,
    "S": Severity.STOPPED,
}


def read(text: str) -> list[InspectedDelivery]:
    """Return deliveries from letters.

    a accepted, b between the numbers, r rejected, u accepted while the making is unsteady,
    h handed in again and rejected, c accepted after the cause was put right.
    """
    special = {
        "u": InspectedDelivery(Outcome.ACCEPTED, steady=False),
        "h": InspectedDelivery(Outcome.REJECTED, first_inspection=False),
        "c": InspectedDelivery(Outcome.ACCEPTED, corrected=True),
    }
    return [special.get(letter) or InspectedDelivery(OUTCOMES[letter]) for letter in text]


class Step(NamedTuple):
    """How strictly one delivery is inspected, how the next one, and why."""

    severity: Severity
    then: Severity
    reason: str


def follow(deliveries: list[InspectedDelivery], *, reduced_wanted: bool = False) -> list[Step]:
    """Return what the rules make of deliveries, one after the other."""
    state, steps = SwitchingState(), []
    for delivery in deliveries:
        before = state_at_arrival(state, delivery.corrected)
        state, reason = state_after(before, delivery, reduced_wanted)
        steps.append(Step(before.severity, state.severity, reason))
    return steps


def next_severity(steps: list[Step]) -> Severity:
    """Return how strictly the next delivery is inspected."""
    return steps[-1].then if steps else SwitchingState().severity


@pytest.mark.parametrize(
    ("deliveries", "inspected", "then"),
    [
        ("", "", "N"),  # inspection starts normal
        ("aaa", "NNN", "N"),
        ("r", "N", "N"),  # one rejected is not enough
        ("rr", "NN", "T"),  # two of two
        ("raaar", "NNNNN", "T"),  # two of five
        ("raaaar", "NNNNNN", "N"),  # two of six are not two of five
        ("raaaarar", "NNNNNNNN", "T"),  # the window moves on
        ("rrh", "NNT", "T"),
        ("rhhha", "NNNNN", "N"),  # what is handed in again does not count
        ("rraaaa", "NNTTTT", "T"),  # four accepted are not five
        ("rraaaaa", "NNTTTTT", "N"),  # five accepted in a row
        ("rraaaaraaaaa", "NNTTTTTTTTTT", "N"),  # a rejected one starts the row anew
        ("rraaaaar", "NNTTTTTN", "N"),  # and normal starts with a clean sheet
        ("rraaaaarr", "NNTTTTTNN", "T"),
        ("rrrrrr", "NNTTTT", "T"),  # four rejected on tightened
        ("rrrrrrr", "NNTTTTT", "S"),  # the fifth stops acceptance
        ("rrrarararar", "NNTTTTTTTTT", "S"),  # they need not come in a row
        ("rrrrrrraa", "NNTTTTTSS", "S"),  # nothing goes on without a correction
        ("rrrrrrrac", "NNTTTTTST", "T"),  # after one, on tightened
        ("rrrrrrrcaaaa", "NNTTTTTTTTTT", "N"),
        ("rrrrrrrcrrrr", "NNTTTTTTTTTT", "T"),  # the five are counted anew
        ("aaaaaaaaaaaa", "NNNNNNNNNNNN", "N"),  # ten accepted, but reduced is not wanted
    ],
)
def test_normal_tightened_and_stopped(deliveries: str, inspected: str, then: str) -> None:
    """Each row is a scenario of the rules; the comment says which."""
    steps = follow(read(deliveries))
    assert [step.severity for step in steps] == [WORDS[letter] for letter in inspected]
    assert next_severity(steps) == WORDS[then]


TEN = "a" * 10


@pytest.mark.parametrize(
    ("deliveries", "inspected", "then"),
    [
        ("a" * 9, "N" * 9, "N"),
        (TEN, "N" * 10, "R"),  # ten accepted in a row
        ("r" + TEN, "N" * 11, "R"),  # the ten last ones, whatever came before
        ("aaaaaraaaaa", "N" * 11, "N"),  # a rejected one among the last ten
        ("a" * 9 + "u", "N" * 10, "N"),  # the making must be steady
        (TEN + "aaa", "N" * 10 + "RRR", "R"),
        (TEN + "r", "N" * 10 + "R", "N"),  # rejected
        (TEN + "ab", "N" * 10 + "RR", "N"),  # between the numbers: accepted, then normal
        (TEN + "u", "N" * 10 + "R", "N"),  # no longer steady
        (TEN + "h", "N" * 10 + "R", "R"),  # handed in again
        (TEN + "r" + "r", "N" * 10 + "RN", "N"),  # the one on reduced does not count on normal
        (TEN + "b" + TEN, "N" * 10 + "R" + "N" * 10, "R"),
        ("rr" + "a" * 15, "NN" + "TTTTT" + "N" * 10, "R"),  # the five on tightened do not count
    ],
)
def test_reduced_where_wanted(deliveries: str, inspected: str, then: str) -> None:
    """Reduced inspection is allowed and never ordered, so the shop must want it."""
    steps = follow(read(deliveries), reduced_wanted=True)
    assert [step.severity for step in steps] == [WORDS[letter] for letter in inspected]
    assert next_severity(steps) == WORDS[then]


@pytest.mark.parametrize(
    ("deliveries", "says"),
    [
        ("r", "stays normal: the only one was rejected"),
        ("raar", "tightened: 2 of the last 4 deliveries were rejected"),
        ("rrara", "stays tightened: 1 of 5 accepted in a row, 1 of 5 rejected"),
        ("rraaaaa", "normal again: 5 deliveries in a row were accepted"),
        ("rrrrrrr", "stopped: 5 deliveries were rejected on tightened inspection"),
        ("rrrrrrra", "acceptance stays stopped: the supplier has not put the cause right"),
        ("ah", "handed in again after a rejection: it does not count"),
        (TEN, "reduced: the last 10 deliveries were accepted, and the making is steady"),
        (TEN + "a", "stays reduced: accepted"),
        (TEN + "r", "normal again: a delivery was rejected on reduced inspection"),
        (TEN + "u", "normal again: the making is no longer steady"),
        (
            TEN + "b",
            "normal again: this delivery is accepted between the acceptance and the rejection "
            "number",
        ),
    ],
)
def test_reason_in_plain_words(deliveries: str, says: str) -> None:
    """The reason names what was counted."""
    assert follow(read(deliveries), reduced_wanted=True)[-1].reason == says


@pytest.mark.parametrize("seed", range(10))
def test_a_fold_has_no_memory_but_its_list(seed: int) -> None:
    """More deliveries change no earlier step, and each step starts where the last one ended."""
    rng = random.Random(seed)
    deliveries = read("".join(rng.choices("aaaaarbuhc", k=60)))
    steps = follow(deliveries, reduced_wanted=True)
    assert follow(deliveries[:23], reduced_wanted=True) == steps[:23]
    for step, after, delivery in zip(steps, steps[1:], deliveries[1:], strict=False):
        resumed = step.then == Severity.STOPPED and delivery.corrected
        assert after.severity == (Severity.TIGHTENED if resumed else step.then)
