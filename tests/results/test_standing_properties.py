"""Evidence that speaks against a blank never makes its standing better."""

from collections.abc import Callable
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from blankbook.records.model import Blank, ClaimChange, Decision
from blankbook.results.standing.standing_types import Standing
from blankbook.words.answers import MayOrder
from made_histories import (
    DECISIONS,
    FACTORS,
    SIZES,
    came,
    day,
    history,
    lot_round,
    newer_chart,
    standing_of,
)
from pairwise_rows import pairwise_rows
from shares import examples

Event = Callable[[Blank], Blank]


def with_lot(inches: float, sizes: tuple[str, ...]) -> Event:
    """Return what adds a round of another lot in September, of some sizes, each off its chart."""

    def measure(blank: Blank) -> Blank:
        whole = lot_round(9, "Z", off_chart(blank, inches))
        only = tuple(piece for piece in whole.pieces if piece.size in sizes)
        return replace(blank, rounds=(*blank.rounds, replace(whole, pieces=only)))

    return measure


def off_chart(blank: Blank, inches: float) -> dict[str, float]:
    """Return how much narrower than the first chart each size is, to be off the newest."""
    newest = blank.style.charts[-1].sizes
    return {
        size: 18 + 2 * i - newest[size]["half_chest"].mm / 25.4 + inches
        for i, size in enumerate(SIZES)
    }


def with_delivery(bad: int, decided: str, inches: float = 0.0) -> Event:
    """Return what adds a delivery of September; its taped pieces are so many inches off."""

    def receive(blank: Blank) -> Blank:
        came_in = came(9, bad, decided)
        if inches:
            taped = lot_round(9, came_in.lot, off_chart(blank, inches))
            came_in = replace(came_in, tape=taped.tape, pieces=taped.pieces)
        return replace(blank, deliveries=(*blank.deliveries, came_in))

    return receive


def with_chart(inches: float, sizes: tuple[str, ...]) -> Event:
    """Return what adds a chart of September that moves some sizes of the newest."""

    def publish(blank: Blank) -> Blank:
        wider = {size: -by for size, by in off_chart(blank, 0.0).items()}
        wider |= {size: wider[size] + inches for size in sizes}
        moved = replace(newer_chart(wider), since=day(9, 1))
        return replace(blank, style=replace(blank.style, charts=(*blank.style.charts, moved)))

    return publish


def with_claim(what: str) -> Event:
    """Return what adds a change of claim in September."""
    change = ClaimChange(day(9, 1), what)
    return lambda blank: replace(
        blank, style=replace(blank.style, changed=(*blank.style.changed, change))
    )


def with_decision(word: str) -> Event:
    """Return what a person decides in September against the blank, in its newest round."""

    def decide(blank: Blank) -> Blank:
        newest = replace(blank.rounds[-1], decision=Decision(word, day(9, 20), "mo"))
        return replace(blank, rounds=(*blank.rounds[:-1], newest))

    return decide


decided = st.sampled_from(("rejected", "accepted", ""))
some_sizes = st.sets(st.sampled_from(SIZES), min_size=1).map(lambda s: tuple(sorted(s)))
off = st.sampled_from((0.75, 1.0, 1.5, -1.0))
against = st.one_of(
    st.builds(with_lot, off, some_sizes),
    st.builds(
        with_delivery, st.sampled_from((2, 5)), st.sampled_from(("rejected", "accepted", ""))
    ),
    st.builds(with_delivery, st.just(8), st.just("rejected"), off),
    st.builds(with_chart, st.sampled_from((1.0, -0.5)), some_sizes),
    st.builds(with_claim, st.sampled_from(("fabric", "construction"))),
    st.builds(with_decision, st.just("rejected")),
)
told = st.builds(
    lambda decided, row: history(decided, **row),
    st.sampled_from(DECISIONS),
    st.sampled_from(pairwise_rows(FACTORS)),
)


def freedom(standing: Standing) -> int:
    """Return how freely a blank may be ordered: 3 freely, 0 not at all."""
    return len(MayOrder) - 1 - list(MayOrder).index(standing.kind)


@settings(max_examples=examples(day=60, night=400), deadline=None)
@given(told, against)
def test_nothing_against_a_blank_makes_it_greener(blank: Blank, event: Event) -> None:
    """Whatever its history: the kind falls or stays, and no size is added."""
    before, after = standing_of(blank).standing, standing_of(event(blank)).standing
    assert freedom(after) <= freedom(before), (before.sentence, after.sentence)
    assert set(after.sizes) <= set(before.sizes)


@settings(max_examples=examples(day=25, night=200), deadline=None)
@given(told, st.booleans())
def test_age_and_a_second_look_change_nothing_for_the_better(blank: Blank, expired: bool) -> None:
    """Evidence that is too old opens every size; the same records give the same standing."""
    first = standing_of(blank).standing
    old = standing_of(blank, expired=expired).standing
    assert freedom(old) <= freedom(first)
    assert old == first or expired
    assert not (expired and old.sizes)


@settings(max_examples=examples(day=25, night=200), deadline=None)
@given(told)
def test_a_rejection_is_never_orderable(blank: Blank) -> None:
    """Once a person rejects it, after all else, no size may be ordered."""
    standing = standing_of(with_decision("rejected")(blank)).standing
    assert (standing.kind, standing.sizes) == (MayOrder.NO, ())
