"""How much of the variation lies between lots and how much between the pieces of one lot.

One-way analysis of variance: each group holds the values of one lot. Sums are taken in the kind of
number that is given: floats are quick, fractions are exact, and a column such as 1000000000000.4
needs the latter, because the float nearest to it is already off by more than what is looked for.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from numpy.typing import NDArray

Exact = TypeVar("Exact", float, Fraction)


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
    """A one-way analysis of variance, lots against the pieces within them."""

    mean: float
    """Mean of all values, each weighing the same."""
    between: VarianceRow
    within: VarianceRow
    ratio: float
    """F: the mean square between over the one within; infinite where nothing varies within."""
    size: float
    """Pieces in a lot: the common count, or n0 where the counts differ."""

    @property
    def chance(self) -> float:
        """The chance of so large an F, or a larger one, if the lots did not differ (p)."""
        from scipy import special

        return float(special.fdtrc(self.between.freedom, self.within.freedom, self.ratio))

    @property
    def explained(self) -> float:
        """The share of all squares that lies between the lots (R squared)."""
        return self.between.squares / (self.between.squares + self.within.squares)


@dataclass(frozen=True, slots=True)
class Components:
    """The two variances behind an analysis, in the square of the values' unit."""

    between: float
    """From lot to lot; never below zero."""
    within: float
    """From piece to piece in one lot."""
    raised: bool
    """Whether the estimate between lots came out negative and was set to zero."""

    @property
    def share(self) -> float:
        """The share of the variance that lies between lots (the intraclass correlation), 0 to 1."""
        return self.between / (self.between + self.within)

    @property
    def deviations(self) -> tuple[float, float]:
        """The two standard deviations, between lots and within, in the values' unit."""
        return self.between**0.5, self.within**0.5


@dataclass(frozen=True, slots=True)
class Summary:
    """What is known of a lot where only its summary was kept."""

    count: int
    mean: float
    deviation: float
    """Standard deviation of single values, on count - 1 degrees of freedom."""


def analyse(groups: Sequence[Sequence[Exact]]) -> Analysis:
    """Return the analysis of variance of *groups*, one sequence of values a lot.

    Shape: at least two groups; counts may differ; at least one group of two or more.
    Raises: ValueError where the groups leave nothing to compare.
    Source: NIST/SEMATECH e-Handbook 7.4.3.3.
    """
    counts = [len(group) for group in groups]
    _check(counts)
    # Leading digits that all values share are taken off first, so they cost no precision.
    origin = groups[0][0]
    moved = [[value - origin for value in group] for group in groups]
    means = [_mean(group) for group in moved]
    within = _sum([_squares(group, mean) for group, mean in zip(moved, means, strict=True)])
    return _analysis(counts, means, float(within), float(origin))


def analyse_summaries(groups: Sequence[Summary]) -> Analysis:
    """Return the analysis of variance where each lot is given by count, mean and deviation.

    Raises: ValueError where the groups leave nothing to compare.
    Source: GUM (JCGM 100:2008) H.5.2.
    """
    counts = [group.count for group in groups]
    _check(counts)
    origin = groups[0].mean
    within = sum((group.count - 1) * group.deviation**2 for group in groups)
    return _analysis(counts, [group.mean - origin for group in groups], within, origin)


def analyse_lots(groups: Sequence[Sequence[tuple[str, float]]]) -> Analysis:
    """Return the analysis of lots where each value carries a label that has a level of its own.

    The labels' levels (the sizes of a style, which are cut as they are cut in every lot) are fitted
    first, and what they explain is no part of either row. With one label it is `analyse`.
    Raises: ValueError where lots and labels cannot be told apart, or nothing is left within.
    Source: fitting constants, Henderson 1953 (method 3), Biometrics 9, 226-252.
    """
    import numpy as np

    values = np.array([value for group in groups for _, value in group])
    names = np.array([name for group in groups for name, _ in group])
    lots = np.repeat(np.arange(len(groups)), [len(group) for group in groups])
    levels = np.array([names == name for name in dict.fromkeys(names.tolist())], float).T
    members = np.equal.outer(lots, np.arange(len(groups))).astype(float)
    # Digits that all values share are taken off first, so that they cost no precision.
    own, left = (_residual(levels, columns) for columns in (members, values - values[0]))
    fit, _, freedom, _ = np.linalg.lstsq(own, left, rcond=None)
    inside = len(values) - levels.shape[1] - freedom
    if freedom < 1 or inside < 1:
        raise ValueError("must be lots that can be told apart from their sizes, found none")
    fitted = own @ fit
    between = VarianceRow(float(fitted @ fitted), int(freedom))
    within = VarianceRow(float(((left - fitted) ** 2).sum()), inside)
    ratio = between.mean_square / within.mean_square if within.squares else float("inf")
    return Analysis(float(values.mean()), between, within, ratio, float((own**2).sum()) / freedom)


def _residual(levels: "NDArray[Any]", columns: "NDArray[Any]") -> "NDArray[Any]":
    """Return *columns* less what *levels* explain of them."""
    import numpy as np

    return np.asarray(columns - levels @ np.linalg.lstsq(levels, columns, rcond=None)[0])


def between_limits(analysis: Analysis, risk: float) -> tuple[float, float]:
    """Return the one-sided limits of the standard deviation between lots.

    Source: Williams 1962, Biometrika 49, 278-281 (and Tukey 1951); each limit is wrong at most
    with the stated risk, a little less often than that.
    """
    from scipy import special

    freedom, rest = analysis.between.freedom, analysis.within.freedom
    each = []
    for chance in (1 - risk, risk):
        noise = special.fdtri(freedom, rest, chance) * freedom * analysis.within.mean_square
        square = (analysis.between.squares - noise) / special.chdtri(freedom, 1 - chance)
        each.append(float(max(square / analysis.size, 0.0) ** 0.5))
    return each[0], each[1]


def components(analysis: Analysis) -> Components:
    """Return the variance between lots and within them, by the method of moments.

    The estimate between lots, (MS between - MS within) / n0, is set to zero where it is negative.
    Source: Searle, Casella and McCulloch 1992, Variance Components; balanced data give the
    restricted maximum-likelihood estimates.
    """
    within = analysis.within.mean_square
    between = (analysis.between.mean_square - within) / analysis.size
    return Components(max(between, 0.0), within, between < 0)


def _check(counts: Sequence[int]) -> None:
    if len(counts) < 2 or min(counts) < 1 or max(counts) < 2:
        raise ValueError(
            f"must be two lots or more, one of them with two pieces or more, found {list(counts)}"
        )


def _sum(values: Sequence[Exact]) -> Exact:
    return sum(values[1:], values[0])  # starts from a value, so that fractions stay fractions


def _mean(values: Sequence[Exact]) -> Exact:
    return _sum(values) / len(values)


def _squares(values: Sequence[Exact], mean: Exact) -> Exact:
    return _sum([(value - mean) ** 2 for value in values])


def _analysis(
    counts: Sequence[int], means: Sequence[Exact], within: float, origin: float
) -> Analysis:
    total = sum(counts)
    weighted = [mean * count for mean, count in zip(means, counts, strict=True)]
    mean = _sum(weighted) / total
    spread = [count * (own - mean) ** 2 for own, count in zip(means, counts, strict=True)]
    between = VarianceRow(float(_sum(spread)), len(counts) - 1)
    inside = VarianceRow(within, total - len(counts))
    ratio = between.mean_square / inside.mean_square if within else float("inf")
    return Analysis(origin + float(mean), between, inside, ratio, _usual_size(counts))


def _usual_size(counts: Sequence[int]) -> float:
    """Return n0, which stands in for the count where lots have different ones."""
    total = sum(counts)
    return (total - sum(count**2 for count in counts) / total) / (len(counts) - 1)
