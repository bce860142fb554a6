"""What to buy to tell two causes apart: the cheapest purchase that would, worked out.

Two causes expect different means of further pieces, of the same lot or of another. With n pieces of
some sizes the evidence between them is normal with mean D^2/2 and variance D^2, D^2 being the
squared distance of the two expectations in units of what is uncertain; the purchase is enough where
it leaves the right one with odds of 9 to 1 or better, nine times in ten (Wald 1947 on the log
likelihood ratio of two simple hypotheses).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log
from statistics import fmean

from blankbook.results.causes.explanations import weighted_suppositions
from blankbook.results.causes.likelihood import SIZE_SHARE
from blankbook.results.causes.suppositions import Supposition
from blankbook.results.limits import normal_below
from blankbook.results.result_types import Case, Purchase
from blankbook.words.causes import CAUSES
from blankbook.words.points import POINTS

SURE_ODDS = 9.0
ENOUGH_CHANCE = 0.9
MOST_EACH = 4
LEAST_CHANCE = 0.1
"""A cause less likely than this is not worth a purchase."""

ExpectedShifts = Mapping[tuple[str, str], float]


@dataclass(frozen=True, slots=True)
class Rival:
    """A cause with its likeliest way and its odds."""

    way: Supposition
    odds: float


def cheapest_purchase(case: Case) -> Purchase | None:
    """Return the smallest purchase that would tell the two likeliest causes apart.

    None where one cause is as good as certain, or where no purchase of this kind would tell.
    """
    rivals = likeliest_rivals(case)
    if len(rivals) < 2 or rivals[1].odds < LEAST_CHANCE:
        return None
    first, second = rivals[:2]
    found = [
        option
        for another in (False, True)
        for sizes in _choices(case)
        for each in range(1, MOST_EACH + 1)
        if (option := _option(case, first, second, sizes, each, another))
    ]
    return min(found, key=_cost, default=None)


def likeliest_rivals(case: Case) -> list[Rival]:
    """Return each cause with its likeliest way, the likeliest cause first."""
    best: dict[str, tuple[float, Supposition]] = {}
    odds: dict[str, float] = {}
    for way, share in weighted_suppositions(case):
        odds[way.cause] = odds.get(way.cause, 0.0) + share
        if way.cause not in best or share > best[way.cause][0]:
            best[way.cause] = (share, way)
    rivals = [Rival(best[cause][1], odds[cause]) for cause in best]
    return sorted(rivals, key=lambda rival: (-rival.odds, rival.way.cause))


def _choices(case: Case) -> list[tuple[str, ...]]:
    """Return the sets of one to three sizes that could be bought, of those measured so far."""
    if case.round is None:
        return []
    seen = {piece.size for piece in case.round.pieces}
    sizes = [size for size in case.blank.style.sizes if size in seen]
    return [chosen for count in (1, 2, 3) for chosen in combinations(sizes, count)]


def _option(
    case: Case, first: Rival, second: Rival, sizes: Sequence[str], each: int, another: bool
) -> Purchase | None:
    distances = cause_distances(case, first.way, second.way, sizes, each, another)
    squared = sum(distance.squared for distance in distances)
    chance = telling_chance(squared, first.odds, second.odds)
    if chance < ENOUGH_CHANCE:
        return None
    return Purchase(tuple(sizes), each, another, chance, (first.way.says, second.way.says))


def telling_chance(squared: float, first: float, second: float) -> float:
    """Return the chance that the evidence leaves the right cause with `SURE_ODDS` or better.

    *squared* is the squared distance of what the two expect; *first* and *second* are their odds.
    """
    if squared <= 0:
        return 0.0
    root, lead = squared**0.5, log(first / second)
    need = log(SURE_ODDS)
    if_first = normal_below(root / 2 - (need - lead) / root)
    if_second = normal_below(root / 2 - (need + lead) / root)
    return (first * if_first + second * if_second) / (first + second)


@dataclass(frozen=True, slots=True)
class Distance:
    """How far two causes' expectations of a purchase lie apart at one point."""

    point: str
    offsets: tuple[float, ...]
    """By size, millimetres."""
    own: float
    """Variance of the mean of one size's pieces: their spread, and the size's own cut."""
    lot: float
    """Variance of the lot."""

    @property
    def mean(self) -> float:
        """The mean offset, which lots share."""
        return fmean(self.offsets)

    @property
    def squared(self) -> float:
        """The squared distance, in units of what is uncertain."""
        within = sum((value - self.mean) ** 2 for value in self.offsets) / self.own
        return float(within + self.mean**2 / (self.own / len(self.offsets) + self.lot))


def cause_distances(
    case: Case,
    first: Supposition,
    second: Supposition,
    sizes: Sequence[str],
    each: int,
    another: bool,
) -> list[Distance]:
    """Return, by point, how far apart two causes' expectations of a purchase lie."""
    one, other = _expects(first, another), _expects(second, another)
    found = []
    for point in POINTS:
        offsets = tuple(one.get((s, point), 0.0) - other.get((s, point), 0.0) for s in sizes)
        if any(offsets):
            cut = (SIZE_SHARE * case.shop.tolerance[point]) ** 2
            own = case.spreads[point].deviation ** 2 / each + cut
            found.append(Distance(point, offsets, own, case.spreads[point].between_lots ** 2))
    return found


def _expects(way: Supposition, another: bool) -> ExpectedShifts:
    """Return what a cause expects of further pieces: nothing of another lot, unless it stays."""
    return way.shifts if CAUSES[way.cause].stays or not another else {}


def _cost(option: Purchase) -> tuple[int, bool, int]:
    """Rank purchases: few pieces first, then the lot at hand, then few sizes."""
    return option.each * len(option.sizes), option.another_lot, len(option.sizes)
