"""How much of the variation lies between lots and how much between the pieces of one lot."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class VarianceRow:
    """One line of an analysis of variance."""

    squares: float
    """Sum of squares, in the square of the values' unit."""
    freedom: int

    @property
    def mean_square(self) -> float:
        """The sum of squares over its degrees of freedom."""
        return self.squares / self.freedom


@dataclass(frozen=True, slots=True)
class Analysis:
    """An analysis of variance, lots against the pieces within them."""

    between: VarianceRow
    within: VarianceRow
    size: float
    """Pieces in a lot: the common count, or n0 where the counts differ."""


@dataclass(frozen=True, slots=True)
class Components:
    """The two variances behind an analysis, in the square of the values' unit."""

    between: float
    """From lot to lot; never below zero."""
    within: float
    """From piece to piece in one lot."""

    @property
    def deviations(self) -> tuple[float, float]:
        """The two standard deviations, between lots and within, in the values' unit."""
        return self.between**0.5, self.within**0.5


def analyse_lots(groups: Sequence[Sequence[tuple[str, float]]]) -> Analysis:
    """Return the analysis of lots where each value carries a label that has a level of its own.

    The labels' levels (the sizes of a style, which are cut as they are cut in every lot) are fitted
    first, and what they explain is no part of either row. With one label it is the one-way analysis
    of variance.
    The levels of the lots are taken off by their means and never solved for: a blank may have
    thousands of lots, and few labels.
    Raises: ValueError where lots and labels cannot be told apart, or nothing is left within.
    Source: fitting constants, Henderson 1953 (method 3), Biometrics 9, 226-252.
    """
    import numpy as np

    values = np.array([value for group in groups for _, value in group])
    names = np.array([name for group in groups for name, _ in group])
    lots = np.repeat(np.arange(len(groups)), [len(group) for group in groups])
    levels = np.array([names == name for name in dict.fromkeys(names.tolist())], float).T
    # Digits that all values share are taken off first, so that they cost no precision.
    alone = values - values[0]
    left = alone - levels @ np.linalg.lstsq(levels, alone, rcond=None)[0]
    cut, inner = _about_means(levels, lots), _about_means(alone[:, None], lots)[:, 0]
    fit, _, told, _ = np.linalg.lstsq(cut, inner, rcond=None)
    rest = inner - cut @ fit
    freedom = len(groups) + int(told) - levels.shape[1]
    inside = len(values) - len(groups) - int(told)
    if freedom < 1 or inside < 1:
        raise ValueError("must be lots that can be told apart from their sizes, found none")
    fitted = left - rest
    between = VarianceRow(float(fitted @ fitted), freedom)
    within = VarianceRow(float(rest @ rest), inside)
    counts = _sums(levels, lots)
    size = (len(values) - float((counts**2 / levels.sum(axis=0)).sum())) / freedom
    return Analysis(between, within, size)


def _sums(columns: "NDArray[Any]", lots: "NDArray[Any]") -> "NDArray[Any]":
    """Return the sums of each column by lot. Shape: lots, columns."""
    import numpy as np

    return np.array([np.bincount(lots, weights=column) for column in columns.T]).T


def _about_means(columns: "NDArray[Any]", lots: "NDArray[Any]") -> "NDArray[Any]":
    """Return *columns* less their means of each lot."""
    import numpy as np

    means = _sums(columns, lots) / np.bincount(lots)[:, None]
    return np.asarray(columns - means[lots])


def between_limits(analysis: Analysis, risk: float) -> tuple[float, float]:
    """Return the one-sided limits of the standard deviation between lots.

    Source: Williams 1962, Biometrika 49, 278-281 (and Tukey 1951); each limit is wrong at most
    with the stated risk, a little less often than that.
    """
    from scipy import special

    freedom, rest = analysis.between.freedom, analysis.within.freedom
    ends = []
    for chance in (1 - risk, risk):
        noise = special.fdtri(freedom, rest, chance) * freedom * analysis.within.mean_square
        square = (analysis.between.squares - noise) / special.chdtri(freedom, 1 - chance)
        ends.append(float(max(square / analysis.size, 0.0) ** 0.5))
    return ends[0], ends[1]


def components(analysis: Analysis) -> Components:
    """Return the variance between lots and within them, by the method of moments.

    The estimate between lots, (MS between - MS within) / n0, is set to zero where it is negative.
    Source: Searle, Casella and McCulloch 1992, Variance Components; balanced data give the
    restricted maximum-likelihood estimates.
    """
    within = analysis.within.mean_square
    between = (analysis.between.mean_square - within) / analysis.size
    return Components(max(between, 0.0), within)
