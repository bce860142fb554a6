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

from blankbook.results.explanations import weighed
from blankbook.results.frame import Case, Purchase
from blankbook.results.likelihood import SIZE_SHARE
from blankbook.results.limits import normal_below
from blankbook.results.suppositions import Supposition
from blankbook.words.causes import CAUSES

SURE_ODDS = 9.0
WANTED = 0.9
MOST_EACH = 4
LEAST_CHANCE = 0.1
"""A cause less likely than this is not worth a purchase."""

Expected = Mapping[tuple[str, str], float]


@dataclass(frozen=True, slots=True)
class Rival:
    """A cause with its likeliest way and its odds."""

    way: Supposition
    odds: float


def cheapest(case: Case) -> Purchase | None:
    """Return the smallest purchase that would tell the two likeliest causes apart.

    None where one cause is as good as certain, or where no purchase of this kind would tell.
    """
    rivals = likeliest(case)
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


def likeliest(case: Case) -> list[Rival]:
    """Return each cause with its likeliest way, the likeliest cause first."""
    best: dict[str, tuple[float, Supposition]] = {}
    odds: dict[str, float] = {}
    for way, share in weighed(case):
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
    distance = _distance(case, first.way, second.way, sizes, each, another)
    chance = separation(distance, first.odds, second.odds)
    if chance < WANTED:
        return None
    return Purchase(tuple(sizes), each, another, chance, (first.way.says, second.way.says))


def separation(squared: float, first: float, second: float) -> float:
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


def _distance(
    case: Case,
    first: Supposition,
    second: Supposition,
    sizes: Sequence[str],
    each: int,
    another: bool,
) -> float:
    """Return the squared distance of what two causes expect of a purchase."""
    one, other = _expects(first, another), _expects(second, another)
    total = 0.0
    for point in {point for _, point in (*one, *other)}:
        apart = [one.get((size, point), 0.0) - other.get((size, point), 0.0) for size in sizes]
        mean = sum(apart) / len(apart)
        spread = case.spreads[point].deviation ** 2 / each
        cut = (SIZE_SHARE * case.shop.tolerance[point]) ** 2
        lot = case.spreads[point].between_lots ** 2
        own = spread + cut
        within = sum((value - mean) ** 2 for value in apart) / own
        total += within + mean**2 / (own / len(apart) + lot)
    return total


def _expects(way: Supposition, another: bool) -> Expected:
    """Return what a cause expects of further pieces: nothing of another lot, unless it stays."""
    return way.shifts if CAUSES[way.cause].stays or not another else {}


def _cost(option: Purchase) -> tuple[int, bool, int]:
    """Rank purchases: few pieces first, then the lot at hand, then few sizes."""
    return option.each * len(option.sizes), option.another_lot, len(option.sizes)
