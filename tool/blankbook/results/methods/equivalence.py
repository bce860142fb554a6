"""Is a style the same as it was? Two one-sided tests between two rounds, against a margin.

A difference is the later minus the earlier, in the unit of the means. "unchanged" is only said
where it is shown: the limits of the difference lie wholly within the margin. "moved" is said where
they lie wholly beyond it. Anything else is "not shown", however small the difference looks.
"""

from dataclasses import dataclass
from enum import StrEnum

from blankbook.results.limits import limits, t_below


class MoveAnswer(StrEnum):
    """What two rounds say about a change."""

    UNCHANGED = "unchanged"
    MOVED = "moved"
    NOT_SHOWN = "not shown"


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


def compare_with_margin(
    difference: float, error: float, freedom: float, margin: float, risk: float
) -> Comparison:
    """Return what a *difference* with its standard error says against +/- *margin*.

    This is the way in where the error comes from a moderated deviation on its own degrees of
    freedom, as with one to three pieces a round.
    Units: *difference*, *error* and *margin* share one.
    Raises: ValueError where error or margin is not above zero.
    Source: Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657-680.

    >>> compare_with_margin(1.0, 1.0, 20, margin=6.0, risk=0.05).answer
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
