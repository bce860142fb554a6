"""How far one reading, and one piece, can be trusted.

A reading carries the tape's step d as d / sqrt(12) (GUM, JCGM 100:2008, 4.3.7 and F.2.2.1), joined
with the repeatability of the hand. With one to three pieces of a size, no standard deviation can be
trusted by itself: it is pooled within size, colour and lot, and moderated towards an assumption,
s^2 = (nu0 s0^2 + sum of df_i s_i^2) / (nu0 + sum of df_i), on nu0 + sum of df_i degrees of freedom
(Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3(1), article 3).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.lengths import Length
from blankbook.records.model import Blank, Prior, Round, Shop
from blankbook.results.result_types import NOTHING_LEARNED, Learned, Spread


@dataclass(frozen=True, slots=True)
class Pool:
    """Sums of squares about group means, and their degrees of freedom; pools add up."""

    squares: float = 0.0
    freedom: int = 0

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


def piece_groups(rounds: Iterable[Round], point: str) -> Iterator[tuple[str, str, list[float]]]:
    """Yield lot, size and readings of the pieces that share them, round and colour.

    A group of one says nothing of the spread, and is left out.
    """
    for round_ in rounds:
        groups: dict[tuple[str, str, str], list[float]] = {}
        for piece in round_.pieces:
            if point in piece.received:
                key = (piece.lot, piece.size, piece.colour)
                groups.setdefault(key, []).append(mean_reading(piece.received[point]))
        yield from ((lot, size, own) for (lot, size, _), own in groups.items() if len(own) > 1)


def piece_pools(rounds: Iterable[Round], point: str) -> list[Pool]:
    """Return the squares within each group of pieces that share round, lot, size and colour."""
    return [pool([values]) for _, _, values in piece_groups(rounds, point)]


def without_outliers(groups: Iterable[Pool], prior: Prior) -> Iterator[Pool]:
    """Yield the groups without those that no spread explains, such as one with a wrong tag.

    A group is left out where the ratio of its variance to the assumed one passes the 99.9 % point
    of F. Otherwise one exchanged label would hide every other finding.
    """
    from scipy import special

    for group in groups:
        if group.freedom:
            ratio = group.squares / group.freedom / prior.deviation**2
            if ratio > special.fdtri(group.freedom, prior.worth, 0.999):
                continue
        yield group


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


def mean_error(spread: Spread, pieces: int) -> tuple[float, float]:
    """Return the standard error of the mean of *pieces* of one size, and its degrees of freedom.

    What one person reads differently from another is the same in every piece, so it does not
    average out. The freedom is that of Welch and Satterthwaite (JCGM 100:2008, G.4.1).
    """
    own = spread.deviation**2 / pieces
    if not spread.people:
        return float(own**0.5), spread.freedom
    shared = spread.people**2
    freedom = (own + shared) ** 2 / (own**2 / spread.freedom + shared**2 / spread.people_freedom)
    return float((own + shared) ** 0.5), freedom


def point_spread(
    blank: Blank, shop: Shop, point: str, learned: Learned = NOTHING_LEARNED
) -> Spread:
    """Return the moderated spread of single readings of single pieces at *point*.

    The blank's own groups are moderated towards the spread that the whole ledger shows where it has
    enough, else towards the shop's assumption.
    """
    step = coarsest_step(blank.rounds) or shop.tape.reads_to.mm
    tape, hand = (
        resolution_uncertainty(step),
        moderated_repeatability(blank.rounds, shop, learned.hand),
    )
    between = learned.spread.get(point) or shop.spread[point]
    total = (between.deviation**2 + tape**2 + hand.deviation**2) ** 0.5
    prior = Prior(total, between.worth)
    seen = sum(without_outliers(piece_pools(blank.rounds, point), prior), Pool())
    deviation, freedom = moderate(prior, seen)
    return Spread(
        deviation,
        freedom,
        assumed=between.worth / freedom,
        origin="ledger" if point in learned.spread else "shop",
        tape=tape,
        hand=hand.deviation,
        people=learned.people.deviation if learned.people else 0.0,
        people_freedom=learned.people.worth if learned.people else 1.0,
        between_lots=shop.lot_spread * between.deviation,
    )
