"""Is a style the same as it was? Two one-sided tests between two rounds, against a margin.

A difference is the later minus the earlier, in the unit of the means. "unchanged" is only said
where it is shown: the limits of the difference lie wholly within the margin. "moved" is said where
they lie wholly beyond it. Anything else is "not shown", however small the difference looks.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean, stdev

from blankbook.results.limits import limits, t_below

RISK = 0.05
"""The chance of a wrong answer on either side; the limits then form a 90 % interval."""


class MoveAnswer(StrEnum):
    """What two rounds say about a change."""

    UNCHANGED = "unchanged"
    MOVED = "moved"
    NOT_SHOWN = "not shown"


@dataclass(frozen=True, slots=True)
class Sample:
    """The summary of one round: its mean, the deviation of single values, and their count."""

    mean: float
    deviation: float
    count: int

    @property
    def variance_of_mean(self) -> float:
        """The square of the standard error of the mean."""
        return self.deviation**2 / self.count


@dataclass(frozen=True, slots=True)
class Comparison:
    """A difference compared with a margin, and what the answer rests on."""

    answer: MoveAnswer
    difference: float
    error: float
    """Standard error of the difference."""
    freedom: float
    low: float
    high: float
    """One-sided limits of the difference; together they hold it with 1 - 2 * risk."""
    above_low: float
    """t of the test that the difference lies above minus the margin."""
    below_high: float
    """t of the test that the difference lies below the margin; negative when it does."""
    chances: tuple[float, float]
    """p of these two tests."""
    moved: float
    """p of the test that the difference lies beyond the margin, on the side where it is."""

    @property
    def unchanged(self) -> float:
        """The p of the two tests together: the larger one."""
        return max(self.chances)


def sample(values: Sequence[float]) -> Sample:
    """Return the summary of *values*, two or more."""
    if len(values) < 2:
        raise ValueError(f"must be two values or more, found {len(values)}")
    return Sample(fmean(values), stdev(values), len(values))


def compare_with_margin(
    difference: float, error: float, freedom: float, margin: float, risk: float = RISK
) -> Comparison:
    """Return what a *difference* with its standard error says against +/- *margin*.

    This is the way in where the error comes from a moderated deviation on its own degrees of
    freedom, as with one to three pieces a round.
    Units: *difference*, *error* and *margin* share one.
    Raises: ValueError where error or margin is not above zero.
    Source: Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657-680.

    >>> compare_with_margin(1.0, 1.0, 20, margin=6.0).answer
    <MoveAnswer.UNCHANGED: 'unchanged'>
    """
    if error <= 0 or margin <= 0:
        raise ValueError(f"must be an error and a margin above zero, found {error} and {margin}")
    over, under = (difference + margin) / error, (difference - margin) / error
    chances = t_below(-over, freedom), t_below(under, freedom)
    moved = t_below((margin - abs(difference)) / error, freedom)
    found = limits(difference, error, freedom, risk)
    answer = _answer(max(chances), moved, risk)
    return Comparison(
        answer, difference, error, freedom, found.low, found.high, over, under, chances, moved
    )


def _answer(unchanged: float, moved: float, risk: float) -> MoveAnswer:
    if unchanged < risk:
        return MoveAnswer.UNCHANGED
    return MoveAnswer.MOVED if moved < risk else MoveAnswer.NOT_SHOWN


def two_rounds(
    before: Sample, after: Sample, margin: float, risk: float = RISK, *, pooled: bool = False
) -> Comparison:
    """Compare two rounds of different pieces, each with its own deviation or with a pooled one.

    Raises: ValueError where a round has fewer than two values, or neither varies at all.
    Source: Welch 1947, Biometrika 34, 28-35, for unequal deviations; Student 1908 for pooled.
    """
    if min(before.count, after.count) < 2:
        raise ValueError("must be two values or more in each round, found fewer")
    if before.deviation == after.deviation == 0:
        raise ValueError("must be values that vary in one round at least, found none that do")
    error, freedom = _pooled(before, after) if pooled else _welch(before, after)
    return compare_with_margin(after.mean - before.mean, error, freedom, margin, risk)


def paired(
    before: Sequence[float], after: Sequence[float], margin: float, risk: float = RISK
) -> Comparison:
    """Compare two occasions of the same pieces, by the differences of each.

    Raises: ValueError where the two differ in length or every difference is the same.
    """
    changes = sample([later - earlier for earlier, later in zip(before, after, strict=True)])
    return against_target(changes, 0.0, margin, risk)


def against_target(found: Sample, target: float, margin: float, risk: float = RISK) -> Comparison:
    """Compare one round with a fixed target, such as the charted size."""
    error = found.variance_of_mean**0.5
    return compare_with_margin(found.mean - target, error, found.count - 1, margin, risk)


def _pooled(before: Sample, after: Sample) -> tuple[float, float]:
    freedom = before.count + after.count - 2
    squares = (before.count - 1) * before.deviation**2 + (after.count - 1) * after.deviation**2
    return float((squares / freedom * (1 / before.count + 1 / after.count)) ** 0.5), freedom


def _welch(before: Sample, after: Sample) -> tuple[float, float]:
    first, second = before.variance_of_mean, after.variance_of_mean
    whole = first + second
    freedom = whole**2 / (first**2 / (before.count - 1) + second**2 / (after.count - 1))
    return float(whole**0.5), freedom
