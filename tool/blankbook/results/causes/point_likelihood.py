"""How likely the readings at one point are, whatever is supposed, and what they say of the sizes.

A reading lies where its size is expected, moved by what its size, its lot and its colour have of
their own, and by its piece, the hand and the tape. All parts are normal. The standard deviation of
single pieces is unknown: every density is worked out over a grid of variances, so that it can be
averaged over them. What a supposition adds is a known shift or a further normal part, and costs a
product with the covariance that is taken apart once.

Source: multivariate normal densities and conditional moments, rank-one updates (Sherman and
Morrison 1950); a grid over the variance, as in Gelman and others, Bayesian Data Analysis, 3rd
edition, chapter 10.
Units: millimetres.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from blankbook.results.causes.point_readings import Group, PointReadings, Target, Vector
from blankbook.results.spread_types import Spread

CUT_SHARE = 0.25
"""Standard deviation of a size's own cut about the chart, as a share of the tolerance."""
UNCHARTED_SHARE = 0.15
"""The same where there is no chart, as a share of the usual step."""
UNKNOWN_BASE = 100.0
"""Standard deviation of the level itself where there is no chart."""
ODD_SHARE = 1.0
"""Standard deviation of an odd piece's own offset, as a share of the usual step."""
COLOUR_SHARE = 0.7
"""Standard deviation between colours of one lot, as a share of that between lots."""
VARIANCES = 18
"""Points of the grid over the variance of single pieces."""
WILDNESS = np.linspace(-1.5, 3.0, 10)
"""Logarithms of how many times the usual variance a whole style may have, at every point."""
SHARED_WORTH, OWN_WORTH = 4 / 3, 2.0
"""Degrees of freedom for what a style's points share of their spread, and for what each has of its
own, as multiples of what the usual spread is worth. Together they are a little wider than that."""


Places = NDArray[np.integer[Any]]
Of = Callable[[str, Group], float]
"""What is added, by size and group."""


@dataclass(frozen=True, slots=True)
class Effect:
    """What a supposition adds to the readings at one point."""

    of: Of
    """Millimetres, or the share of the unknown part."""
    variance: float = 0.0
    """Of the unknown part; 0 where the shift is known."""


class PointFit:
    """The readings at one point, their sizes being what is supposed of their tags.

    Shape of all log densities: suppositions, variances of the grid.
    """

    def __init__(
        self,
        readings: PointReadings,
        prior: Spread,
        known: Mapping[str, str],
        span: tuple[float, float] | None = None,
        loose: float = 0.0,
    ) -> None:
        """Take the covariance apart; *known* has pieces of another size, "" for a stray.

        The grid spans what the readings let be, or *span*, logarithms over the usual variance.
        Each size of each lot may have the variance *loose* of its own.
        """
        self.readings, self.prior, self.loose = readings, prior, loose
        pairs = list(zip(readings.pieces, readings.tags, strict=True))
        self.sizes = [known.get(piece) or tag for piece, tag in pairs]
        level = readings.expected
        moves = [level[tag] - level[size] for (_, tag), size in zip(pairs, self.sizes, strict=True)]
        off = readings.off + np.array(moves)
        lots = [group.lot for group in readings.groups] if loose else []
        self._cells = list(dict.fromkeys(zip(self.sizes, lots, strict=False)))
        self._parts = self._own_parts()
        self._design = np.array(
            [self._row(*one) for one in zip(self.sizes, readings.groups, strict=True)]
        )
        self.stray = (ODD_SHARE * readings.step) ** 2
        odd = [self.stray * (known.get(piece) == "") for piece, _ in pairs]
        shared = (self._design * self._parts) @ self._design.T + np.diag(odd)
        values, self._turn = np.linalg.eigh(shared)
        self._values = np.maximum(values, 0.0)
        self._off = self._turn.T @ off
        self.variances, self.log_prior = self._grid(off, self._design[:, 1:], span)
        self._weights = 1 / (self.variances + self._values[:, None])
        constant = np.log(self._weights).sum(axis=0) - len(off) * np.log(2 * np.pi)
        self._constant = constant / 2
        self.still: Vector = self._constant - self._off**2 @ self._weights / 2
        self._joint: dict[Sequence[Target], Vector] = {}
        self._seen: dict[Sequence[Target], tuple[Vector, Vector, Vector]] = {}

    def _own_parts(self) -> Vector:
        """Return the variance of each part: level, sizes, lots, groups, sizes of lots."""
        readings, spread = self.readings, self.prior
        self._lots = list(dict.fromkeys(group.lot for group in readings.groups))
        self._groups = list(dict.fromkeys(readings.groups))
        lot = spread.between_lots**2
        cuts = [_cut(readings, size) ** 2 for size in readings.expected]
        return np.array(
            [
                0.0 if readings.charted else UNKNOWN_BASE**2,
                *cuts,
                *[lot + spread.people**2] * len(self._lots),  # one lot is measured by one person
                *[COLOUR_SHARE**2 * lot] * len(self._groups),
                *[self.loose] * len(self._cells),
            ]
        )

    def _row(self, size: str, *groups: Group) -> Vector:
        """Return the share that each part has in a size of some groups, each counting alike."""
        sizes = list(self.readings.expected)
        row = np.zeros(len(self._parts))
        row[0] = row[1 + sizes.index(size)] = 1.0
        for group in groups:
            if group in self._groups:
                lot = 1 + len(sizes) + self._lots.index(group.lot)
                own = 1 + len(sizes) + len(self._lots) + self._groups.index(group)
                row[[lot, own]] += 1 / len(groups)
            if (size, group.lot) in self._cells:
                row[self._cells.index((size, group.lot)) - len(self._cells)] += 1 / len(groups)
        return row

    def _grid(
        self, off: Vector, parts: Vector, span: tuple[float, float] | None
    ) -> tuple[Vector, Vector]:
        """Return variances that hold what may be, and their log density for each wildness.

        They lie about what an additive model of sizes, lots and colours leaves, with all readings
        and without the two that lie farthest off: one of them may have a wrong tag.
        """
        from scipy import special

        rest = off - parts @ np.linalg.lstsq(parts, off, rcond=None)[0]
        squares = np.sort(rest**2)
        worth, usual = self.prior.freedom, self.prior.deviation**2
        self.left = len(off) - int(np.linalg.matrix_rank(parts))
        freedom = worth + self.left
        least = np.log((0.7 * worth * usual + squares[:-2].sum()) / freedom)
        most = np.log((1.3 * worth * usual + squares.sum()) / freedom)
        wide = (2 / freedom) ** 0.5
        logs = np.linspace(least - 3.2 * wide, most + 5.5 * wide, VARIANCES)
        if span:
            logs = np.log(usual) + np.linspace(*span, 2 * VARIANCES)
        half = OWN_WORTH * worth / 2
        beyond = logs - np.log(usual) - WILDNESS[:, None]
        heights = half * (1 - beyond - np.exp(-beyond))
        scale = half * np.log(half) - half - special.gammaln(half) + np.log(logs[1] - logs[0])
        return np.exp(logs), heights + scale

    def fits_of(self, offs: Vector) -> Vector:
        """Return the log density of other readings of the same pieces. Shape: draws, readings."""
        return np.asarray(self._constant - (offs @ self._turn) ** 2 @ self._weights / 2)

    def rows(self, effects: Sequence[Effect]) -> Vector:
        """Return what each effect adds to every reading, along the axes of the covariance."""
        pieces = list(zip(self.sizes, self.readings.groups, strict=True))
        added = np.array([[effect.of(*piece) for piece in pieces] for effect in effects])
        return np.asarray(added @ self._turn)

    def fits(self, rows: Vector, unknown: Vector) -> Vector:
        """Return the log density of the readings under effects: their `rows`, their variances."""
        unknown = unknown[:, None]
        pull, own = (rows * self._off) @ self._weights, rows**2 @ self._weights
        shifted = self.still + pull - own / 2
        spread = 1 + unknown * own
        return np.where(unknown, self.still + _freed(unknown, pull, spread), shifted)

    @cached_property
    def piece_fits(self) -> Vector:
        """The log density if one piece were of another size, or a stray, which comes last.

        Shape: pieces, sizes and one, variances.
        """
        level = self.readings.expected
        own = self._turn**2 @ self._weights
        pull = self._turn @ (self._off[:, None] * self._weights)
        moves = np.array([[level[to] - level[size] for to in level] for size in self.sizes])
        moves = moves[:, :, None]
        moved = self.still + moves * pull[:, None] - moves**2 * own[:, None] / 2
        stray = self.still + _freed(self.stray, pull, 1 + self.stray * own)
        return np.concatenate([moved, stray[:, None]], axis=1)

    def over_variances(self, logs: Vector) -> Vector:
        """Return log densities averaged over the grid, for each wildness: the last axis."""
        return log_sum(logs[..., None, :] + self.log_prior)

    def moments(
        self, targets: Sequence[Target], rows: Vector, added: Vector, unknown: Vector
    ) -> tuple[Vector, Vector]:
        """Return mean and variance of what the targets lie off, given the readings.

        Shape: suppositions, targets, variances of the grid. *rows* are what suppositions add to the
        readings, along the axes of the covariance, and *added* what they add to the targets.
        """
        across, mean, variance = self._known(targets)
        unknown = unknown[:, None]
        gain = unknown / (1 + unknown * (rows**2 @ self._weights))
        moved = np.where(unknown, gain * ((rows * self._off) @ self._weights), 1.0)
        reach = added[:, :, None] - (across * rows[:, None]) @ self._weights
        return mean + reach * moved[:, None], variance + reach**2 * gain[:, None]

    def covariances(
        self, targets: Sequence[Target], row: Vector, added: Vector, unknown: float, at: Places
    ) -> Vector:
        """Return the covariances of the targets, for some variances of the grid, by their places.

        Shape: places, targets, targets.
        """
        across = self._known(targets)[0]
        if targets not in self._joint:
            rows = np.array([self._target_row(one) for one in targets])
            fresh = [[self._fresh(one, other) for other in targets] for one in targets]
            seen = (across * self._weights.T[:, None, :]) @ across.T
            self._joint[targets] = (rows * self._parts) @ rows.T + np.array(fresh) - seen
        weights = self._weights[:, at]
        gain = unknown / (1 + unknown * (row**2 @ weights))
        reach = (added[:, None] - across @ (weights * row[:, None])).T
        more = gain[:, None, None] * reach[:, :, None] * reach[:, None, :]
        return np.asarray(self._joint[targets][at] + more)

    def _known(self, targets: Sequence[Target]) -> tuple[Vector, Vector, Vector]:
        """Return the targets' covariance with the readings, their means and their variances."""
        if targets not in self._seen:
            rows = np.array([self._target_row(one) for one in targets])
            fresh = np.array([self._fresh(one, one) for one in targets])
            across = (rows * self._parts) @ self._design.T @ self._turn
            own = (rows**2 * self._parts).sum(axis=1) + fresh
            mean = across @ (self._weights * self._off[:, None])
            variance = np.maximum(own[:, None] - across**2 @ self._weights, 1e-9)
            self._seen[targets] = across, mean, variance
        return self._seen[targets]

    def of_targets(self, targets: Sequence[Target], effect: Effect) -> Vector:
        """Return what an effect adds to each target."""
        return np.array([_of_target(effect, one) for one in targets])

    def of_piece(self, piece: str, size: str) -> tuple[Vector, float]:
        """Return what another *size* adds to one reading, "" being a stray, and its variance."""
        if piece not in self.readings.pieces:
            return np.zeros(len(self._off)), 0.0
        at, level = self.readings.pieces.index(piece), self.readings.expected
        if not size:
            return self._turn[at], self.stray
        return self._turn[at] * (level[size] - level[self.sizes[at]]), 0.0

    def _target_row(self, one: Target) -> Vector:
        row = self._row(one.size, *one.groups)
        return self._row(one.next_size, *one.groups) - row if one.next_size else row

    def _fresh(self, one: Target, other: Target) -> float:
        """Return what two sizes share of a lot that nobody has seen; no step has any of it."""
        if {*one.groups, *other.groups} <= {*self._groups}:
            return 0.0
        own = self.loose * (one == other)
        if one.next_size or other.next_size:
            return 2 * own
        lot = self.prior.between_lots**2
        return float(lot + COLOUR_SHARE**2 * lot / len(one.groups) + own)


def log_sum(logs: Vector) -> Vector:
    """Return the logarithm of a sum over the last axis."""
    best = logs.max(axis=-1, keepdims=True)
    return np.asarray(best[..., 0] + np.log(np.exp(logs - best).sum(axis=-1)))


def _of_target(effect: Effect, one: Target) -> float:
    ends = [(one.next_size, 1.0), (one.size, -1.0)] if one.next_size else [(one.size, 1.0)]
    parts = [sign * effect.of(size, group) for size, sign in ends for group in one.groups]
    return sum(parts) / len(one.groups)


def _freed(unknown: Vector | float, pull: Vector, spread: Vector) -> Vector:
    """Return what an unknown normal part adds to a log density."""
    return np.asarray(unknown * pull**2 / spread / 2 - np.log(spread) / 2)


def _cut(readings: PointReadings, size: str) -> float:
    """Return the standard deviation of a size's own cut about what is expected of it."""
    if not readings.charted:
        return UNCHARTED_SHARE * readings.step
    return CUT_SHARE * readings.tolerance if size in readings.charted else readings.step
