"""One model of all readings of a blank: what is likely, and how likely all of it is sound.

Every way in which the readings may have come about is weighed by its stated weight times the
likelihood of all readings, averaged over the spread between pieces, which is learned from the same
readings. Tags are settled together with the rest: what may well be wrong with a tag is taken for
granted in turn, and everything is weighed again beside it.

Under each way the sizes and steps at a point are normal for each variance of single pieces; their
chances are averaged over the variances and over the ways. That several hold at once is taken as at
least one less the sum of the chances that each does not (Boole's inequality).

Source: Bayes' theorem with stated priors; averaging over what is not negligible, Madigan and
Raftery 1994, Journal of the American Statistical Association 89, 1535-1546; the scales of several
points tied together as in Gelman and others, Bayesian Data Analysis, 3rd edition, chapter 5.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from math import factorial, log
from typing import Any, cast

import numpy as np

from blankbook.records.model import Blank, Shop
from blankbook.results.causes.point_likelihood import (
    SHARED_WORTH,
    VARIANCES,
    WILDNESS,
    PointFit,
    log_sum,
)
from blankbook.results.causes.point_readings import PointReadings, Target, Vector, by_point
from blankbook.results.causes.suppositions import Seen, ways
from blankbook.results.causes.target_moments import TargetMoments
from blankbook.results.causes.weighed_ways import Settled, Tags, Targets, Weighed
from blankbook.results.limits import Limits, limits
from blankbook.results.methods.variance_prior import gamma_matched, log_inverse_chi_square
from blankbook.results.spread_types import Spread
from blankbook.words.causes import CAUSES

AGAIN = 0.2
"""How likely one more tag is wrong, once some are: the slip that made one may have made two."""
LIKELY = 0.02
"""From this chance on, what is wrong with a tag is taken for granted in turn."""
TURNS, AT_A_TURN = 4, 3
NEGLIGIBLE = 1e-3
"""A way with less chance than this is left out of what follows for the sizes."""


class Posterior:
    """What the readings of a blank say, all together."""

    def __init__(self, blank: Blank, shop: Shop, priors: Mapping[str, Spread]) -> None:
        """Weigh everything; *priors* are the spreads as they are known before this blank."""
        self.sizes = blank.style.sizes
        self.every = by_point(blank, shop)
        self.labels: Tags = {
            piece: tag
            for readings in self.every.values()
            for piece, tag in zip(readings.pieces, readings.tags, strict=True)
        }
        self._priors, self._seen = priors, _seen(blank, self.every)
        self._ways = list(ways(self.every, self._seen)) if self.every else []
        self._wild = wild_prior(min(prior.freedom for prior in priors.values()))
        self._known: dict[Any, Any] = {}
        self.weighed = self._settle() if self.every else []

    def _settle(self) -> list[Weighed]:
        """Weigh with all tags as they are, then with the wrong ones that are likely, and again."""
        found: dict[tuple[int, frozenset[tuple[str, str]]], Weighed] = {}
        granted: list[Tags] = []
        fresh: list[Tags] = [{}]
        for _ in range(TURNS):
            granted += fresh[:AT_A_TURN]
            for tags in fresh[:AT_A_TURN]:
                for one in self._weigh(tags):
                    if one.tags == tags or one.tags not in granted:
                        found[id(one.way), frozenset(one.tags.items())] = one
            shared = _shared_out(list(found.values()))
            fresh = [one.tags for one in shared if one.chance >= LIKELY and one.tags not in granted]
            if not fresh:
                break
        return shared

    def _weigh(self, tags: Tags) -> Iterator[Weighed]:
        """Yield every way, and every further tag as wrong, beside what is taken for granted."""
        settled = Settled(self.every, self._priors, self._seen, tags)
        beside = self._tags_prior(tags)
        logs = log_sum(np.array([settled.of_way(way) for way in self._ways]) + self._wild)
        for way, fit in zip(self._ways, logs.tolist(), strict=True):
            yield Weighed(way, tags, settled, beside * way.weight, fit)
        if len(tags) >= max(1, len(self.labels) // 2):
            return
        usual = self._ways[0]
        alone = log_sum(settled.of_pieces(self.labels, len(self.sizes)) + self._wild).tolist()
        for (piece, label), fits in zip(self.labels.items(), alone, strict=True):
            for size, fit in zip((*self.sizes, ""), fits, strict=True):
                if piece not in tags and size != label:
                    more = {**tags, piece: size}
                    prior = self._tags_prior(more) * usual.weight
                    yield Weighed(usual, more, settled, prior, fit, (piece, size))

    def _tags_prior(self, tags: Tags) -> float:
        """Return how likely just these tags are wrong, against all being right."""
        if not tags:
            return 1.0
        wrong, odd = (CAUSES[key].weight for key in ("mislabelled", "odd_piece"))
        share = (wrong + odd) * AGAIN ** (len(tags) - 1) * factorial(len(tags))
        for at, size in enumerate(tags.values()):
            kind = wrong / max(len(self.sizes) - 1, 1) if size else odd
            share *= kind / (wrong + odd) / (len(self.labels) - at)
        return share / CAUSES["as_charted"].weight

    @cached_property
    def heavy(self) -> list[Weighed]:
        """The ways that are not negligible."""
        return [one for one in self.weighed if one.chance >= NEGLIGIBLE]

    @cached_property
    def _chances(self) -> Vector:
        """The chances of those, adding up to one."""
        chances = np.array([one.chance for one in self.heavy])
        return np.asarray(chances / chances.sum())

    @cached_property
    def _wildness(self) -> Vector:
        """The log chance of how wild the style's spread is, all ways together."""
        sure = [one for one in self.heavy if not one.beyond]
        logs = np.array([one.settled.of_way(one.way) + self._wild for one in sure])
        logs += np.log([[one.chance] for one in sure]) - log_sum(logs)[:, None]
        found = log_sum(logs.T)
        return found - log_sum(found)

    @cached_property
    def aside(self) -> frozenset[str]:
        """The pieces whose own tag is likelier wrong than right, an exchange of labels apart."""
        wrong = dict.fromkeys(self.labels, 0.0)
        for one in self.weighed:
            for piece in one.tags:
                wrong[piece] += one.chance
        return frozenset(piece for piece, chance in wrong.items() if chance > 0.5)

    @cached_property
    def tags(self) -> dict[str, dict[str, float]]:
        """By piece: the chance of each size, and under "" of none of them."""
        found = {piece: dict.fromkeys([*self.sizes, ""], 0.0) for piece in self.labels}
        for one in self.weighed:
            for piece, size in one.really(self.labels).items():
                found[piece][size] += one.chance
        for piece, label in self.labels.items():
            found[piece][label] += max(1 - sum(found[piece].values()), 0.0)
        return found

    @cached_property
    def _tags_before(self) -> dict[str, dict[str, float]]:
        """What `tags` was before anything was read: the weights, not scaled."""
        total = sum(one.prior for one in self.weighed)
        found = {piece: dict.fromkeys([*self.sizes, ""], 0.0) for piece in self.labels}
        for one in self.weighed:
            for piece, size in one.really(self.labels).items():
                found[piece][size] += one.prior
        for piece, label in self.labels.items():
            found[piece][label] += total - sum(found[piece].values())
        return found

    def also_like(self, piece: str, risk: float) -> tuple[str, ...]:
        """Return the other sizes that a piece's readings do not rule out, whatever is believed.

        They are those against which the readings speak less than (1 - risk) / risk times more for
        the tag: what the chances have become, over what they were.
        """
        label, before = self.labels[piece], self._tags_before[piece]
        gains = {s: now / before[s] for s, now in self.tags[piece].items() if s and before[s]}
        least = gains[label] * risk / (1 - risk)
        return tuple(size for size, gain in gains.items() if size != label and gain > least)

    def spread(self, point: str) -> Spread:
        """Return the spread of single readings of single pieces, as all readings say it.

        1 / variance is taken as gamma, with the mean and the variance that it has over all ways.
        """
        if ("spread", point) in self._known:
            return cast("Spread", self._known["spread", point])
        variances = [one.fit(point).variances for one in self.heavy]
        weights = [self._weights(one, point) for one in self.heavy]
        chances = self._chances[:, None] * np.array(weights)
        deviation, freedom = gamma_matched(np.concatenate(variances), chances.ravel())
        prior, seen = self._priors[point], self.weighed[0].settled.fits[point].left
        assumed = min(prior.freedom / freedom, 1.0)
        spread = replace(prior, deviation=deviation, freedom=freedom, assumed=assumed, seen=seen)
        self._known["spread", point] = spread
        return spread

    @cached_property
    def sound(self) -> dict[tuple[str, str, str], float]:
        """The chance that a size, or a step, is what is asked; by point, size and next size."""
        return {
            (point, one.size, one.next_size): chance
            for point, readings in self.every.items()
            for one, chance in self.chances(point, readings.targets).items()
        }

    @cached_property
    def shares(self) -> dict[tuple[str, str, str], float]:
        """The share of further pieces, as the tape reads them, that is expected where asked."""
        return {
            (point, one.size, one.next_size): chance
            for point, readings in self.every.items()
            for one, chance in self.chances(point, readings.targets, pieces=1).items()
        }

    def chances(self, point: str, targets: Targets, *, pieces: int = 0) -> dict[Target, float]:
        """Return the chance that each target, or a mean of so many pieces, lies where it should."""
        if not targets:
            return {}
        told = self._told(point, targets)
        inside = told.inside(targets, pieces) @ told.weights[:, :, None]
        return dict(zip(targets, (told.chances @ inside[..., 0]).tolist(), strict=True))

    def limits(self, point: str, size: str, next_size: str, risk: float) -> Limits:
        """Return where all readings together place a size, or a step, in millimetres."""
        readings = self.every[point]
        names = [(one.size, one.next_size) for one in readings.targets]
        mean, error = self.off(point, readings.targets)[names.index((size, next_size))]
        level = readings.expected
        expected = level[next_size] - level[size] if next_size else level[size]
        return limits(expected + mean, error, self.spread(point).freedom, risk)

    def off(self, point: str, targets: Targets) -> list[tuple[float, float]]:
        """Return how far targets lie from what is expected: mean and deviation, all ways told."""
        told = self._told(point, targets)
        shares = (told.chances[:, None] * told.weights)[:, None]
        mean = (shares * told.mean).sum(axis=(0, 2))
        square = (shares * (told.variance + told.mean**2)).sum(axis=(0, 2))
        error = np.maximum(square - mean**2, 0.0) ** 0.5
        return list(zip(mean.tolist(), error.tolist(), strict=True))

    def together(self, asked: Mapping[str, Targets]) -> float:
        """Return the chance that all targets of all points lie where they should, at least."""
        shares = self._chances.copy()
        for point, targets in asked.items():
            told = self._told(point, targets)
            every = np.maximum(1 - (1 - told.inside(targets)).sum(axis=1), 0.0)
            shares *= (every * told.weights).sum(axis=1)[told.places]
        return round(float(shares.sum()), 9)  # the order of the pieces moves what lies behind

    def _told(self, point: str, targets: Targets) -> TargetMoments:
        """Return what the ways that are not negligible say of the targets at a point."""
        if (point, targets) not in self._known:
            keys = [self._key(one, point) for one in self.heavy]
            by_key = dict(zip(keys, self.heavy, strict=True))
            places = {key: at for at, key in enumerate(by_key)}
            own = np.array([places[key] for key in keys])
            chances = np.bincount(own, self._chances).astype(float)
            single = np.array([one.fit(point).variances for one in by_key.values()])
            moments = self.lies([*by_key.values()], point, targets)
            self._known[point, targets] = TargetMoments(own, chances, single, *moments)
        return cast("TargetMoments", self._known[point, targets])

    def lies(
        self, ways: Sequence[Weighed], point: str, targets: Targets
    ) -> tuple[Vector, Vector, Vector]:
        """Return means and variances of the targets, and the chances of the spread's variances.

        Shape: ways, targets where they come in, variances.
        """
        fits = [one.fit(point) for one in ways]
        added = [one.added_at(point, targets) for one in ways]
        mean, variance = np.empty((2, len(ways), len(targets), VARIANCES))
        for fit in dict.fromkeys(fits):
            own = [at for at, other in enumerate(fits) if other is fit]
            columns = zip(*(added[at] for at in own), strict=True)
            mean[own], variance[own] = fit.moments(targets, *(np.array(c) for c in columns))
        return mean, variance, np.array([self._weights(one, point) for one in ways])

    def _weights(self, one: Weighed, point: str) -> Vector:
        """Return the chance of each variance of single pieces at a point, under one way."""
        key = self._key(one, point)
        if key not in self._known:
            logs = one.log_fit_at(point) + self._prior_at(one.fit(point))
            self._known[key] = np.exp(logs - log_sum(logs))
        return np.asarray(self._known[key])

    def _prior_at(self, fit: PointFit) -> Vector:
        """Return the log chance of each variance before the readings at a point."""
        if fit not in self._known:
            self._known[fit] = log_sum((fit.log_prior + self._wildness[:, None]).T)
        return np.asarray(self._known[fit])

    def _key(self, one: Weighed, point: str) -> tuple[Any, ...]:
        """Return what ways share that say the same at a point."""
        return id(one.settled), point, one.beyond or one.key_at(point)


def _shared_out(found: list[Weighed]) -> list[Weighed]:
    """Return the ways with their chances, which add up to one, the likeliest first."""
    logs = np.array([one.log_fit + log(one.prior) for one in found])
    shares = np.exp(logs - logs.max())
    for one, share in zip(found, (shares / shares.sum()).tolist(), strict=True):
        one.chance = share
    return sorted(found, key=lambda one: -one.chance)


def _seen(blank: Blank, every: Mapping[str, PointReadings]) -> Seen:
    tags = {tag for readings in every.values() for tag in readings.tags}
    groups = dict.fromkeys(group for readings in every.values() for group in readings.groups)
    return Seen(
        blank.style.sizes,
        tuple(size for size in blank.style.sizes if size in tags),
        tuple(dict.fromkeys(group.lot for group in groups)),
        tuple(dict.fromkeys(group.colour for group in groups)),
        blank.style.construction == "tube",
    )


def wild_prior(worth: float) -> Vector:
    """Return the log chance of each wildness, which is about one."""
    return np.asarray(log_inverse_chi_square(WILDNESS, SHARED_WORTH * worth))
