"""What the uncertainty of a reading and of a mean is made of, part by part.

Source: the law of propagation for a sum of independent parts, JCGM 100:2008 (GUM), 5.1.2; the
tape's step as step / sqrt(12), 4.3.7; degrees of freedom by Welch and Satterthwaite, G.4.1.
"""

from collections import Counter
from math import hypot

from blankbook.results.evidence import measured_points
from blankbook.results.number_words import say_list
from blankbook.results.piece_spread import coarsest_step, mean_error
from blankbook.results.result_types import Budget, Case, Part, Spread


def budgets(case: Case) -> tuple[Budget, ...]:
    """Return the budget of every deciding point that was measured."""
    seen = measured_points(case)
    return tuple(budget(case, point) for point in case.shop.deciding_points if point in seen)


def budget(case: Case, point: str) -> Budget:
    """Return what the uncertainty at one point is made of, for the judged round's pieces."""
    spread = case.spreads[point]
    pieces = usual_pieces(case, point)
    mean, freedom = mean_error(spread, pieces)
    return Budget(
        point,
        parts(case, spread),
        pieces,
        of_reading=hypot(spread.reading, spread.people),
        of_piece=mean_error(spread, 1)[0],
        of_mean=mean,
        of_next_lot=hypot(mean, spread.between_lots),
        freedom=freedom,
    )


def usual_pieces(case: Case, point: str) -> int:
    """Return how many pieces of a size the newest round with this point has, most often."""
    for round_ in reversed(case.blank.rounds):
        counts = Counter(piece.size for piece in round_.pieces if point in piece.received)
        if counts:
            return Counter(counts.values()).most_common(1)[0][0]
    return 1


def parts(case: Case, spread: Spread) -> tuple[Part, ...]:
    """Return the parts, from the tape to the lot."""
    learned = case.learned
    people = spread.people if learned.people else None
    return (
        Part("tape", "step of the tape", spread.tape, averages=True, origin=_tape(case)),
        Part("hand", "one hand, again", spread.hand, averages=True, origin=_hand(case)),
        Part("pieces", "between pieces", spread.pieces, averages=True, origin=_between(spread)),
        Part("people", "between people", people, averages=False, origin=_people(case)),
        Part("lots", "between lots", spread.between_lots, averages=False, origin=_lots(case)),
    )


def _tape(case: Case) -> str:
    coarsest = coarsest_step(case.blank.rounds)
    tapes = {
        f"{round_.tape.reads_to.written} {round_.tape.unit}"
        for round_ in case.blank.rounds
        if round_.tape.reads_to.mm == coarsest
    }
    return f"read to {say_list(sorted(tapes))}: step / √12"


def _hand(case: Case) -> str:
    if case.learned.hand_learned:
        return "repeat readings, over the whole ledger"
    return "the shop's assumption, with few repeat readings"


def _between(spread: Spread) -> str:
    base = "the other blanks of the ledger" if spread.origin == "ledger" else "the assumption"
    if spread.assumed == 1.0:
        return f"{base}: no two pieces here share size, lot and colour"
    return f"these pieces, and {base} for {spread.assumed:.0%}"


def _people(case: Case) -> str:
    if case.learned.people:
        return "measuring studies; the same for every piece that one person reads"
    return "not known: the ledger has no measuring study"


def _lots(case: Case) -> str:
    share = f"{case.shop.lot_spread:g}"
    return f"stated as {share} of what pieces differ by; counts for what another lot will be"
