"""The uncertainty of a reading and of a mean, part by part.

Source: the law of propagation for a sum of independent parts, JCGM 100:2008 (GUM), 5.1.2; the
tape's step as step / sqrt(12), 4.3.7; degrees of freedom by Welch and Satterthwaite, G.4.1.
"""

from collections import Counter
from math import hypot

from blankbook.results.evidence import measured_points
from blankbook.results.number_words import say_list
from blankbook.results.piece_spread import coarsest_step, mean_error
from blankbook.results.result_types import Case, Spread, UncertaintyBudget, UncertaintyPart


def uncertainty_budgets(case: Case) -> tuple[UncertaintyBudget, ...]:
    """Return the budget of every deciding point that was measured."""
    seen = measured_points(case)
    return tuple(
        uncertainty_budget(case, point) for point in case.shop.deciding_points if point in seen
    )


def uncertainty_budget(case: Case, point: str) -> UncertaintyBudget:
    """Return the budget at one point, for as many pieces as its newest round has of a size."""
    spread = case.spreads[point]
    pieces = usual_piece_count(case, point)
    mean, freedom = mean_error(spread, pieces)
    return UncertaintyBudget(
        point,
        uncertainty_parts(case, spread),
        pieces,
        of_reading=hypot(spread.reading, spread.people),
        of_piece=mean_error(spread, 1)[0],
        of_mean=mean,
        of_next_lot=hypot(mean, spread.between_lots),
        freedom=freedom,
    )


def usual_piece_count(case: Case, point: str) -> int:
    """Return how many pieces of a size the newest round with this point has, most often."""
    for round_ in reversed(case.blank.rounds):
        counts = Counter(piece.size for piece in round_.pieces if point in piece.received)
        if counts:
            return Counter(counts.values()).most_common(1)[0][0]
    return 1


def uncertainty_parts(case: Case, spread: Spread) -> tuple[UncertaintyPart, ...]:
    """Return the parts, from the tape to the lot."""
    learned = case.learned
    people = spread.people if learned.people else None
    return (
        UncertaintyPart(
            "tape", "step of the tape", spread.tape, averages=True, origin=_tape_origin(case)
        ),
        UncertaintyPart(
            "hand",
            "one hand, again",
            spread.hand,
            averages=True,
            origin=_repeatability_origin(case),
        ),
        UncertaintyPart(
            "pieces", "between pieces", spread.pieces, averages=True, origin=_pieces_origin(spread)
        ),
        UncertaintyPart(
            "people", "between people", people, averages=False, origin=_people_origin(case)
        ),
        UncertaintyPart(
            "lots", "between lots", spread.between_lots, averages=False, origin=_lots_origin(case)
        ),
    )


def _tape_origin(case: Case) -> str:
    coarsest = coarsest_step(case.blank.rounds)
    tapes = {
        f"{round_.tape.reads_to.written} {round_.tape.unit}"
        for round_ in case.blank.rounds
        if round_.tape.reads_to.mm == coarsest
    }
    return f"read to {say_list(sorted(tapes))}: step / √12"


def _repeatability_origin(case: Case) -> str:
    if case.learned.hand_learned:
        return "repeat readings, over the whole ledger"
    return "the shop's assumption, with few repeat readings"


def _pieces_origin(spread: Spread) -> str:
    base = "the other blanks of the ledger" if spread.origin == "ledger" else "the assumption"
    if not spread.seen:
        return f"{base}: no size has a second piece here"
    return f"these pieces, and {base} for {spread.assumed:.0%}"


def _people_origin(case: Case) -> str:
    if case.learned.people:
        return "measuring studies; the same for every piece that one person reads"
    return "not known: the ledger has no measuring study"


def _lots_origin(case: Case) -> str:
    share = f"{case.shop.lot_spread:g}"
    return f"stated as {share} of what pieces differ by; counts for what another lot will be"
