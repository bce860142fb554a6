"""How likely a set of readings is under a supposed cause.

At one point of measure the deviations from what is expected are taken as jointly normal, with what
pieces, sizes and lots share; the scale of their spread is itself uncertain, so the density is
averaged over its distribution (scaled inverse chi-square on the degrees of freedom of the moderated
spread). Points are independent.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from blankbook.results.evidence import chart_for, charted_length, newest_first
from blankbook.results.limits import chi_square_above
from blankbook.results.piece_spread import mean_reading
from blankbook.results.result_types import Case, Spread
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Vector = NDArray[float64]

SIZE_SHARE = 0.25
"""Standard deviation of a size's own cut about the chart, as a share of the tolerance."""
UNCHARTED_SHARE = 0.15
"""The same where there is no chart, as a share of the usual step."""
UNKNOWN_BASE = 100.0
"""Standard deviation of the level itself where there is no chart, millimetres."""
MOST_READINGS = 300
"""From so many readings at a point on, no older round is looked at: why the newest looks as it does
is no longer any clearer for it, and the time grows with the cube of their number."""
ODD_SHARE = 1.0
"""Standard deviation of an odd piece's own offset, as a share of the usual step."""


@dataclass(frozen=True, slots=True)
class PieceDeviation:
    """One piece at one point: what was read, less what was expected of its label."""

    piece: str
    """``round/piece``."""
    size: str
    lot: str
    deviation: float
    """Millimetres."""


SPREAD_QUANTILES = (0.1, 0.3, 0.5, 0.7, 0.9)
"""The quantiles of the uncertain spread that the likelihood is averaged over."""


@dataclass(frozen=True)
class PointModel:
    """All pieces at one point, ready to be compared with supposed shifts."""

    point: str
    seen: tuple[PieceDeviation, ...]
    expected: Mapping[str, float]
    """Per size label: the charted length, or a level in usual steps."""
    step: float
    """The usual or mean charted step, millimetres."""
    inverses: "Vector"
    """Shape: scales, readings, readings."""
    levels: "Vector"
    """The constant of the normal log density, one per scale."""

    def fits(self, shifts: Sequence["Vector"]) -> "Vector":
        """Return the log density of the deviations under each of *shifts*.

        Shape: every shift has one entry per reading, millimetres.
        Source: multivariate normal density, averaged over the uncertain scale.
        """
        import numpy as np

        away = self._off[None, :] - np.asarray(shifts)
        squares = ((away @ self.inverses) * away).sum(axis=2)
        return _average(self.levels[:, None] - squares / 2)

    @cached_property
    def still(self) -> float:
        """The log density if every reading is where it was expected."""
        return float(_average(self.levels - self._squares / 2))

    def moved_fits(self, moves: "Vector") -> "Vector":
        """Return the log density if a single reading should have been elsewhere, for each of them.

        Shape, of *moves* and of what is returned: readings, moves of that reading in millimetres.
        The quadratic form changes by what one entry brings; nothing is multiplied out again.
        """
        squares = self._squares[:, None, None] + moves**2 * self._own[:, :, None]
        squares = squares - 2 * moves * self._pulled[:, :, None]
        return _average(self.levels[:, None, None] - squares / 2)

    def odd_fits(self) -> dict[str, float]:
        """Return the log density if one piece were a stray, for each piece.

        A stray's own variance is added to one reading: the rank-one update of Sherman and Morrison.
        """
        import numpy as np

        stray = (ODD_SHARE * self.step) ** 2
        own = 1 + stray * self._own
        squares = self._squares[:, None] - stray * self._pulled**2 / own
        fits = _average(self.levels[:, None] - squares / 2 - np.log(own) / 2)
        return {reading.piece: float(fit) for reading, fit in zip(self.seen, fits, strict=True)}

    @cached_property
    def _off(self) -> "Vector":
        import numpy as np

        return np.array([reading.deviation for reading in self.seen])

    @cached_property
    def _pulled(self) -> "Vector":
        """The inverse covariances times the deviations. Shape: scales, readings."""
        pulled: Vector = self.inverses @ self._off
        return pulled

    @cached_property
    def _squares(self) -> "Vector":
        """The quadratic form of the deviations, one per scale."""
        squares: Vector = self._pulled @ self._off
        return squares

    @cached_property
    def _own(self) -> "Vector":
        """The diagonals of the inverse covariances. Shape: scales, readings."""
        import numpy as np

        return np.diagonal(self.inverses, axis1=1, axis2=2)


def _average(logs: "Vector") -> "Vector":
    """Return the log of the mean over the first axis."""
    import numpy as np

    best = logs.max(axis=0)
    result: Vector = best + np.log(np.exp(logs - best).mean(axis=0))
    return result


def point_models(
    case: Case, known: Mapping[str, str] = MappingProxyType({})
) -> tuple[PointModel, ...]:
    """Return a model for every point that grows with the size and was measured.

    *known* names pieces (``round/piece``) whose size is known to be another than the tag says; a
    piece known to be of none (an empty size) is left out.
    """
    models = (_model(case, point, known) for point in POINTS if POINTS[point].step)
    return tuple(model for model in models if model)


def _model(case: Case, point: str, known: Mapping[str, str]) -> PointModel | None:
    order = case.blank.style.sizes
    usual = case.shop.step[point]
    level = {size: index * usual for index, size in enumerate(order)}
    seen: list[PieceDeviation] = []
    uncharted = False
    expected: Mapping[str, float] = level
    for round_ in newest_first(case):
        if len(seen) >= MOST_READINGS:
            break
        chart = chart_for(case, round_)
        targets = {size: charted_length(chart, size, point) for size in order}
        full = {size: value for size, value in targets.items() if value is not None}
        if len(full) == len(order):
            expected = expected if seen else full
        else:
            uncharted, full = True, level
        for piece in round_.pieces:
            key = f"{round_.key}/{piece.key}"
            size = known.get(key, piece.size)
            if point in piece.received and size in full:
                off = mean_reading(piece.received[point]) - full[size]
                seen.append(PieceDeviation(key, size, piece.lot or round_.key, off))
    if not seen:
        return None
    step = _mean_step(expected, order) or usual
    shared = _shared(case, point, seen, uncharted)
    inverses, levels = _densities(case.spreads[point], shared)
    return PointModel(point, tuple(seen), expected, step, inverses, levels)


def _densities(spread: Spread, shared: "Vector") -> "tuple[Vector, Vector]":
    """Return the inverse covariances and the constants of the density, one per scale."""
    import numpy as np

    squares = [
        spread.deviation**2 * spread.freedom / chi_square_above(scale, spread.freedom)
        for scale in SPREAD_QUANTILES
    ]
    own = np.array(squares)[:, None, None] * np.eye(len(shared))
    covariances = shared[None] + own
    determinants = np.linalg.slogdet(covariances)[1].astype(np.float64)
    constant = len(shared) * float(np.log(2 * np.pi))
    levels = np.asarray(-(determinants + constant) / 2, dtype=np.float64)
    inverses = np.asarray(np.linalg.inv(covariances), dtype=np.float64)
    return inverses, levels


def _mean_step(expected: Mapping[str, float], order: Sequence[str]) -> float:
    if len(order) < 2:
        return 0.0
    return abs(expected[order[-1]] - expected[order[0]]) / (len(order) - 1)


def _shared(case: Case, point: str, seen: Sequence[PieceDeviation], uncharted: bool) -> "Vector":
    """Return the covariance that readings share: their size's cut, their lot, an unknown level."""
    import numpy as np

    sizes = np.array([reading.size for reading in seen])
    lots = np.array([reading.lot for reading in seen])
    cut = SIZE_SHARE * case.shop.tolerance[point]
    if uncharted:
        cut = UNCHARTED_SHARE * case.shop.step[point]
    total = (sizes[:, None] == sizes[None, :]) * cut**2
    spread = case.spreads[point]
    lot = spread.between_lots**2 + spread.people**2  # one lot is measured by one person
    total = total + (lots[:, None] == lots[None, :]) * lot
    if uncharted:
        total = total + UNKNOWN_BASE**2
    result: Vector = total
    return result
