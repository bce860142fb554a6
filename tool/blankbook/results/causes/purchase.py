"""What to buy to tell the likeliest causes apart: the cheapest purchase that would.

Each way in which the readings may have come about says where the means of further pieces will lie,
of the same lot or of another, and how surely. Purchases are tried out: what they will show is drawn
from each way by its chance, all ways are weighed again by what was drawn, and it is counted how
often the right one of the two likeliest causes is left with odds of nine to one or better against
the other. Where neither is right, nothing was told. The same draws serve every purchase, and the
same question has the same answer.

Source: preposterior analysis, Raiffa and Schlaifer 1961, Applied Statistical Decision Theory.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from blankbook.results.causes.explanations import likely_causes
from blankbook.results.causes.point_likelihood import Places, log_sum
from blankbook.results.causes.point_readings import Vector
from blankbook.results.causes.weighed_ways import Targets, Weighed
from blankbook.results.result_types import Case, Purchase

SURE_ODDS = 9.0
ENOUGH_CHANCE = 0.75
MOST_EACH, FEWER = 4, (1, 2)
LEAST_CHANCE = 0.1
"""A cause less likely than this is not worth a purchase."""
DRAWS, MOST_WAYS = 100, 10
QUANTILES = np.array([1 / 6, 1 / 2, 5 / 6])
"""The variances that stand for those that single pieces may have."""


@dataclass(frozen=True, slots=True)
class Foretold:
    """What every way expects of the means of further pieces at one point. Shape: ways, variances,
    then targets.
    """

    mean: Vector
    covariance: Vector
    variance: Vector
    """Of single pieces."""


def cheapest_purchase(case: Case) -> Purchase | None:
    """Return the smallest purchase that would tell the two likeliest causes apart.

    None where one cause is as good as certain, or where no purchase of this kind would tell.
    """
    rivals = likely_causes(case)
    if case.round is None or len(rivals) < 2 or rivals[1].odds < LEAST_CHANCE:
        return None
    ways = case.posterior.heavy[:MOST_WAYS]
    measured = {piece.size for piece in case.round.pieces}
    sizes = tuple(size for size in case.blank.style.sizes if size in measured)
    found = []
    for another in (False, True):
        foretold = list(_foretold(case, ways, sizes, another))
        for places in _options(len(sizes)):
            chances = {MOST_EACH: telling(ways, foretold, places, MOST_EACH)}
            if chances[MOST_EACH] >= ENOUGH_CHANCE:  # fewer pieces never tell what more do not
                chances |= {each: telling(ways, foretold, places, each) for each in FEWER}
            each = min((e for e, chance in chances.items() if chance >= ENOUGH_CHANCE), default=0)
            if each:
                chosen = tuple(sizes[at] for at in places)
                cost = (each * len(places), another, len(places))
                found.append((cost, chosen, each, another, chances[each]))
    if not found:
        return None
    _, chosen, each, another, chance = min(found)
    return Purchase(chosen, each, another, chance, (rivals[0].says, rivals[1].says))


def _options(sizes: int) -> list[tuple[int, ...]]:
    """Return which of the sizes might be bought: each alone, or the first three together."""
    found: list[tuple[int, ...]] = [(at,) for at in range(sizes)]
    return found if sizes == 1 else [*found, tuple(range(min(sizes, 3)))]


def _foretold(
    case: Case, ways: Sequence[Weighed], sizes: tuple[str, ...], another: bool
) -> Iterator[Foretold]:
    """Yield what the ways expect of every size, at every point at which they differ."""
    for point, readings in case.posterior.every.items():
        if not any(one.key_at(point) or one.beyond for one in ways):
            continue
        targets = readings.alone(sizes)
        if another:
            targets = tuple(target.in_next_lot for target in targets)
        mean, _, weights = case.posterior.lies(ways, point, targets)
        rows = [
            _of_way(one, point, targets, *row)
            for one, *row in zip(ways, mean, weights, strict=True)
        ]
        yield Foretold(*(np.array(column) for column in zip(*rows, strict=True)))


def _of_way(
    one: Weighed, point: str, targets: Targets, mean: Vector, weights: Vector
) -> tuple[Vector, Vector, Vector]:
    """Return means, covariances and variances of single pieces under one way."""
    fit = one.fit(point)
    at = np.searchsorted(np.cumsum(weights), QUANTILES)
    added = one.added_at(point, targets)
    return mean[:, at].T, fit.covariances(targets, *added, at), fit.variances[at]


def telling(
    ways: Sequence[Weighed], foretold: Sequence[Foretold], places: tuple[int, ...], each: int
) -> float:
    """Return how often the right one of the two likeliest causes is left with `SURE_ODDS`.

    That is of all draws, those in which another cause is right among them. *places* are those of
    the sizes that are bought among those that are foretold.
    """
    chances = np.array([one.chance for one in ways])
    chances = chances / chances.sum()
    causes = np.array([one.cause for one in ways])
    true = np.searchsorted(np.cumsum(chances), (np.arange(DRAWS) + 0.5) / DRAWS)
    logs = np.log(chances) * np.ones((DRAWS, 1))
    count, own = len(places), np.array(places)
    for at, point in enumerate(foretold):
        mean = point.mean[..., own]
        total = point.covariance[..., own[:, None], own[None, :]]
        total = total + (point.variance / each)[..., None, None] * np.eye(count)
        normal, which = _draws(at, count)
        root = np.linalg.cholesky(total)
        seen = mean[true, which] + (root[true, which] * normal[:, None, :]).sum(axis=-1)
        white = np.linalg.inv(root)
        away = ((seen[:, None, None, None] - mean[..., None, :]) * white).sum(axis=-1)
        level = np.log(np.diagonal(root, axis1=-2, axis2=-1)).sum(axis=-1)
        logs += log_sum(-(away**2).sum(axis=-1) / 2 - level)
    shares = np.exp(logs - log_sum(logs)[:, None])
    held = {cause: chances[causes == cause].sum() for cause in causes}
    rivals = np.isin(causes, sorted(held, key=lambda cause: -held[cause])[:2])
    right = (shares * (causes == causes[true][:, None])).sum(axis=1)
    wrong = (shares * (rivals & (causes != causes[true][:, None]))).sum(axis=1)
    return float((rivals[true] & (right >= SURE_ODDS * wrong)).mean())


@lru_cache(maxsize=64)
def _draws(at: int, count: int) -> tuple[Vector, Places]:
    """Return the same normal draws every time, and which of the variances each is made with."""
    rng = np.random.default_rng((at, count))
    return rng.normal(size=(DRAWS, count)), rng.integers(len(QUANTILES), size=DRAWS)
