"""Every way with its likelihood at every point, some tags being taken for granted as wrong."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from blankbook.results.causes.point_likelihood import WILDNESS, Effect, PointFit
from blankbook.results.causes.point_readings import NEXT_LOT, PointReadings, Target, Vector
from blankbook.results.causes.suppositions import (
    AS_IT_IS,
    EACH_BY_ITSELF,
    OWN_SHARE,
    Key,
    Seen,
    Way,
    effects_at,
)
from blankbook.results.spread_types import Spread
from blankbook.words.causes import CAUSES

Tags = Mapping[str, str]
"""By piece: the size that it really is of, "" for a stray."""
Targets = tuple[Target, ...]


class Settled:
    """The likelihood of everything, with some tags taken for granted."""

    def __init__(
        self,
        every: Mapping[str, PointReadings],
        priors: Mapping[str, Spread],
        seen: Seen,
        tags: Tags,
    ) -> None:
        """Work it out at every point, for all that may be added there."""
        self.tags = tags
        self.fits = {p: PointFit(readings, priors[p], tags) for p, readings in every.items()}
        self.loose = {
            p: PointFit(readings, priors[p], tags, loose=(OWN_SHARE * readings.tolerance) ** 2)
            for p, readings in every.items()
        }
        self.effects: dict[str, dict[Key, Effect]] = {}
        self.rows: dict[str, dict[Key, Vector]] = {}
        self.logs: dict[str, dict[Key, Vector]] = {}
        self._gains: dict[str, dict[Key, Vector]] = {}
        self.still = np.zeros(len(WILDNESS))
        for point, fit in self.fits.items():
            own = self.effects[point] = effects_at(every[point], seen)
            rows = fit.rows([*own.values()])
            logs = fit.fits(rows, np.array([effect.variance for effect in own.values()]))
            scaled = fit.over_variances(logs)
            loose = self.loose[point]
            logs[-1], scaled[-1] = loose.still, loose.over_variances(loose.still)
            self.rows[point] = dict(zip(own, rows, strict=True))
            self.logs[point] = dict(zip(own, logs, strict=True))
            self._gains[point] = dict(zip(own, scaled - scaled[0], strict=True))
            self.still += scaled[0]

    def of_way(self, way: Way) -> Vector:
        """Return the log likelihood of all readings, for each wildness."""
        return sum((self._gains[point][way.key] for point in way.points), self.still)

    def of_pieces(self, labels: Tags, sizes: int) -> Vector:
        """Return the same if one piece were of another size, or a stray, which comes last.

        Shape: pieces, sizes and one, wildness.
        """
        row = {piece: at for at, piece in enumerate(labels)}
        found = np.tile(self.still, (len(labels), sizes + 1, 1))
        for fit in self.fits.values():
            here = [row[piece] for piece in fit.readings.pieces]
            found[here] += fit.over_variances(fit.piece_fits) - fit.over_variances(fit.still)
        return found


@dataclass(slots=True)
class Weighed:
    """A way, with what is wrong with single tags beside it."""

    way: Way
    tags: Tags
    settled: Settled
    """What was taken for granted: of the wrong tags, all or all but one."""
    prior: float
    log_fit: float
    """Log likelihood of all readings."""
    beyond: tuple[str, str] | None = None
    """The piece, and its size, that is wrong beside what was taken for granted."""
    chance: float = 0.0

    @property
    def cause(self) -> str:
        """The cause that it counts for."""
        if self.way.cause != "as_charted" or not self.tags:
            return self.way.cause
        return "mislabelled" if any(self.tags.values()) else "odd_piece"

    def says(self, labels: Tags) -> str:
        """Return what it says, in words."""
        own = [_wrong(piece, labels[piece], size) for piece, size in sorted(self.tags.items())]
        if self.way.cause != "as_charted" or not own:
            own.insert(0, self.way.says)
        return ", and ".join(own)

    def really(self, labels: Tags) -> Tags:
        """Return the true size of every piece with a wrong tag, an exchange of labels included."""
        low, high = self.way.swaps or ("", "")
        swap = {low: high, high: low} if self.way.swaps else {}
        return {p: swap[tag] for p, tag in labels.items() if tag in swap} | dict(self.tags)

    def key_at(self, point: str) -> Key:
        """Return what is added at a point."""
        return self.way.key if point in self.way.points else AS_IT_IS

    def fit(self, point: str) -> PointFit:
        """Return the fit of the readings at a point."""
        loose = not self.beyond and self.key_at(point) == EACH_BY_ITSELF
        return (self.settled.loose if loose else self.settled.fits)[point]

    def log_fit_at(self, point: str) -> Vector:
        """Return the log density of the readings at a point, for each variance of the grid."""
        fit = self.fit(point)
        if not self.beyond:
            return self.settled.logs[point][self.key_at(point)]
        piece, size = self.beyond
        if piece not in fit.readings.pieces:
            return fit.still
        place = [*fit.readings.expected, ""].index(size)
        return np.asarray(fit.piece_fits[fit.readings.pieces.index(piece), place])

    def added_at(self, point: str, targets: Targets) -> tuple[Vector, Vector, float]:
        """Return what is added to the readings, and to the targets, and how unknown it is."""
        fit = self.fit(point)
        if self.beyond:
            row, unknown = fit.of_piece(*self.beyond)
            return row, np.zeros(len(targets)), unknown
        key = self.key_at(point)
        effect = self.settled.effects[point][key]
        added = fit.of_targets(targets, effect)
        if not CAUSES[self.way.cause].stays:
            added *= [all(group.lot != NEXT_LOT for group in one.groups) for one in targets]
        return self.settled.rows[point][key], added, effect.variance


def _wrong(piece: str, tag: str, size: str) -> str:
    name = piece.rpartition("/")[2]
    return f"{name}, tagged {tag}, measures as {size}" if size else f"{name} is odd in itself"
