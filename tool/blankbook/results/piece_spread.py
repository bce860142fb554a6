"""How far one reading, and one piece, can be trusted before a blank's own readings are looked at.

A reading carries the tape's step d / sqrt(12) (GUM, JCGM 100:2008, 4.3.7 and F.2.2.1), joined with
the repeatability of the hand. A standard deviation from few values is moderated towards an
assumption, s^2 = (nu0 s0^2 + sum of df_i s_i^2) / (nu0 + sum of df_i), on nu0 + sum of df_i degrees
of freedom (Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3(1), article 3).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.lengths import Length
from blankbook.records.model import Blank, Prior, Round, Shop
from blankbook.results.spread_types import NOTHING_LEARNED, Learned, Spread


@dataclass(frozen=True, slots=True)
class Pool:
    """Sums of squares about group means, and their degrees of freedom; pools add up."""

    squares: float = 0.0
    freedom: float = 0

    def __add__(self, other: "Pool") -> "Pool":
        return Pool(self.squares + other.squares, self.freedom + other.freedom)


def pool(groups: Iterable[Sequence[float]]) -> Pool:
    """Return the squares within *groups*; a group of one adds nothing."""
    total = Pool()
    for group in groups:
        if len(group) > 1:
            mean = fmean(group)
            total += Pool(sum((value - mean) ** 2 for value in group), len(group) - 1)
    return total


def moderate(prior: Prior, seen: Pool) -> tuple[float, float]:
    """Return the moderated standard deviation and its degrees of freedom.

    >>> deviation, freedom = moderate(Prior(2.0, 4.0), Pool(squares=18.0, freedom=2))
    >>> round(deviation ** 2, 4), freedom
    (5.6667, 6.0)
    """
    freedom = prior.worth + seen.freedom
    square = (prior.worth * prior.deviation**2 + seen.squares) / freedom
    return float(square**0.5), freedom


def resolution_uncertainty(step: float) -> float:
    """Return the standard uncertainty that a tape read to *step* brings: step / sqrt(12)."""
    return float(step / 12**0.5)


def reading_uncertainty(step: float, repeatability: float, repeats: int = 1) -> float:
    """Return the standard uncertainty of the mean of *repeats* readings of one piece.

    The tape's step is the same each time, so only the hand's part averages out.
    """
    return float((resolution_uncertainty(step) ** 2 + repeatability**2 / repeats) ** 0.5)


def repeat_groups(rounds: Iterable[Round]) -> Iterator[list[float]]:
    """Yield the repeat readings of each piece at each point that was read more than once."""
    for round_ in rounds:
        for piece in round_.pieces:
            stages = (piece.received, *(washed.readings for washed in piece.washed))
            for readings in stages:
                yield from (
                    [r.mm for r in repeats] for repeats in readings.values() if len(repeats) > 1
                )


def mean_reading(repeats: Sequence[Length]) -> float:
    """Return the mean of repeat readings, in millimetres."""
    return repeats[0].mm if len(repeats) == 1 else fmean(reading.mm for reading in repeats)


def coarsest_step(rounds: Iterable[Round]) -> float:
    """Return the coarsest step that a tape was read to, in millimetres; 0 without rounds."""
    return max((round_.tape.reads_to.mm for round_ in rounds), default=0.0)


def moderated_repeatability(
    rounds: Iterable[Round], shop: Shop, learned: Prior | None = None
) -> Prior:
    """Return the repeatability, a standard deviation with its degrees of freedom.

    It is pooled over the whole ledger where that was read, else over these rounds, and moderated
    towards the shop's assumption.
    """
    if learned:
        return learned
    return Prior(*moderate(shop.repeatability, pool(repeat_groups(rounds))))


def mean_error(spread: Spread, pieces: int, apart: float = 0.0) -> tuple[float, float]:
    """Return the standard error of the mean of *pieces* of one size, and its degrees of freedom.

    *apart* says how unevenly they come from lots and colours, as `evidence.Sample` has it. What one
    person reads differently from another is the same in every piece, so it does not average out.
    The freedom is that of Welch and Satterthwaite (JCGM 100:2008, G.4.1).
    """
    own = spread.deviation**2 / pieces + apart * spread.between_lots**2
    if not spread.people:
        return float(own**0.5), spread.freedom
    shared = spread.people**2
    freedom = (own + shared) ** 2 / (own**2 / spread.freedom + shared**2 / spread.people_freedom)
    return float((own + shared) ** 0.5), freedom


def usual_spread(
    blank: Blank, shop: Shop, point: str, learned: Learned = NOTHING_LEARNED
) -> Spread:
    """Return the spread of single readings of single pieces at *point*, before this blank's own.

    It comes from the whole ledger where that has enough, else from the shop's assumption; joined
    with what a reading brings.
    """
    step = coarsest_step(blank.rounds) or shop.tape.reads_to.mm
    hand = moderated_repeatability(blank.rounds, shop, learned.hand)
    tape, between = resolution_uncertainty(step), learned.spread.get(point) or shop.spread[point]
    return Spread(
        (between.deviation**2 + tape**2 + hand.deviation**2) ** 0.5,
        between.worth,
        assumed=1.0,
        origin="ledger" if point in learned.spread else "shop",
        tape=tape,
        hand=hand.deviation,
        people=learned.people.deviation if learned.people else 0.0,
        people_freedom=learned.people.worth if learned.people else 1.0,
        between_lots=learned.between_lots.get(point, shop.lot_spread * between.deviation),
    )
