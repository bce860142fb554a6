"""Where each lot is expected by those before it, whatever sizes of it were measured.

The mean of a size of a lot lies where the style lies, moved by what its size, its lot and the
colours of its lot have of their own, by who read it, and by its pieces. All parts are normal. How
far lots differ, and pieces, is uncertain: both are averaged over a grid, by what the lots before
show of them.

Source: prediction from a model with random effects, Gelman and others, Bayesian Data Analysis, 3rd
edition, chapter 5; a chart that starts by itself, Hawkins 1987, The Statistician 36, 439-451.
Units: millimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from blankbook.records.model import Prior
from blankbook.results.causes.point_likelihood import (
    COLOUR_SHARE,
    CUT_SHARE,
    UNKNOWN_BASE,
    log_sum,
)
from blankbook.results.limits import Limits, limits
from blankbook.results.methods.variance_prior import gamma_matched, log_inverse_chi_square
from blankbook.results.result_types import Lot, Spread

Array = NDArray[np.float64]

TIMES = np.linspace(-2.6, 3.9, 11)
"""Logarithms of how many times the variance that is believed lots may differ by."""
CHANCES = np.array([1 / 6, 1 / 2, 5 / 6])
"""Quantiles that stand for what the variance of single pieces may be."""


@dataclass(frozen=True, slots=True)
class Believed:
    """What is believed at one point before its lots are compared."""

    pieces: Spread
    between: Prior
    """How far lots differ, a standard deviation."""


@dataclass(frozen=True, slots=True)
class Expected:
    """Where a lot's mean distance from the chart is expected, and how far lots differ so far."""

    mean: float
    deviation: float
    freedom: float
    between: float
    """Standard deviation from lot to lot."""
    between_freedom: float
    first: bool
    """Whether there is no lot before it: then nothing is expected of it."""

    def limits(self, risk: float) -> Limits:
        """Return where it is expected, each limit missing with chance *risk*."""
        return limits(self.mean, self.deviation, self.freedom, risk)


def expected_lots(lots: Sequence[Lot], believed: Believed) -> list[Expected]:
    """Return where each lot is expected by all before it in *lots*."""
    cells = [(at, size) for at, lot in enumerate(lots) for size in lot.by_size]
    counts = np.array([float(lots[at].count(size)) for at, size in cells])
    offs = np.array([lots[at].by_size[size] for at, size in cells])
    weights, covariances = _covariances(lots, cells, counts, believed)
    # With the readings as one more row, what is left of them comes out of the same factor.
    whole = np.pad(covariances, ((0, 0), (0, 1), (0, 1)))
    whole[:, -1, :-1] = whole[:, :-1, -1] = offs
    whole[:, -1, -1] = 1e12
    root = np.linalg.cholesky(whole)
    left = root[:, -1, :-1]
    found, end = [], 0
    for at, lot in enumerate(lots):
        begin, end = end, end + len(lot.by_size)
        share = counts[begin:end] / counts[begin:end].sum()
        across = share @ root[:, begin:end, begin:end]
        beyond = (across * left[:, begin:end]).sum(axis=1)
        found.append(_expected(lot.off - beyond, (across**2).sum(axis=1), weights, believed, at))
        levels = np.log(np.diagonal(root, axis1=1, axis2=2)[:, begin:end])
        weights = weights - (left[:, begin:end] ** 2 / 2 + levels).sum(axis=1)
    return found


def _expected(means: Array, variances: Array, logs: Array, believed: Believed, at: int) -> Expected:
    shares = np.exp(logs - log_sum(logs))
    mean = float(shares @ means)
    deviation, freedom = gamma_matched(variances + (means - mean) ** 2, shares)
    apart = np.repeat(np.exp(TIMES), len(CHANCES)) * believed.between.deviation**2
    return Expected(mean, deviation, freedom, *gamma_matched(apart, shares), at == 0)


def _covariances(
    lots: Sequence[Lot], cells: Sequence[tuple[int, str]], counts: Array, believed: Believed
) -> tuple[Array, Array]:
    """Return the log chances of the grid before any lot, and the covariance of all means there."""
    of_lot = np.array([at for at, _ in cells])
    cuts = np.array([CUT_SHARE * lots[at].allowed for at, _ in cells])
    spread = believed.pieces
    fixed = UNKNOWN_BASE**2 + np.outer(cuts, cuts) * _alike([size for _, size in cells])
    fixed = fixed + spread.people**2 * _alike([lots[at].round.by for at, _ in cells])
    own = np.array([1 + COLOUR_SHARE**2 / lot.colours for lot in lots])[of_lot]
    between = believed.between.deviation**2 * np.exp(TIMES)
    pieces = spread.deviation**2 * spread.freedom / _chi_squares(spread.freedom)
    apart = between[:, None, None] * (_alike(of_lot.tolist()) * own)
    within = pieces[:, None, None] * np.diag(1 / counts)
    every = fixed + apart[:, None] + within[None, :]
    logs = np.repeat(log_inverse_chi_square(TIMES, believed.between.worth), len(CHANCES))
    return logs, every.reshape(-1, len(cells), len(cells))


def _chi_squares(freedom: float) -> Array:
    from scipy import special

    return np.asarray(special.chdtri(freedom, CHANCES))


def _alike(names: Sequence[Any]) -> Array:
    """Return ones where two names are the same. Shape: names, names."""
    found = np.array(names)
    return np.asarray(found[:, None] == found, dtype=float)
