"""What a purchase of n pieces of each size can show, before a single one is bought.

A check answers "meets" or "fails" once the one-sided limits of a mean lie wholly on one side of a
border. Those limits rest on a moderated spread, so the chance of an answer is worked out the way
the answer itself is: the mean is normal, the squares within groups are chi-square, and the limits
are Student's on the freedom that assumption and pieces have together. The spread itself is known on
a few degrees of freedom only; unless a true deviation is given, the chance is averaged over what it
may be. Everything is integrated on a fixed grid: the same question, the same number.

Source: noncentral t (known freedom, nothing assumed) and Student's t (one piece each) are the two
borders of the rule; moderated variance, Smyth 2004; two one-sided tests, Schuirmann 1987.
Units: lengths in millimetres; chances and shares 0 to 1.
"""

from bisect import bisect_left
from collections.abc import Callable

from blankbook.results.methods.planning_grid import (
    FINE,
    KnownSpread,
    PieceCounts,
    PlanningGrid,
    below_chance,
    grid_mean,
    inside_chance,
    reader_offsets,
    spread_worlds,
)
from blankbook.results.methods.proportions import chance_at_most

MOST_PIECES = 50
"""No shop buys more pieces of one size to settle one question."""


def chance_missing_step(
    known: KnownSpread,
    buy: PieceCounts,
    step: float,
    risk: float,
    true_deviation: float | None = None,
    grid: PlanningGrid = FINE,
) -> float:
    """Return the chance that a step which is missing altogether is shown to be missing.

    Shown: the upper limit of the step lies under half of the charted *step*.
    """
    found = spread_worlds(known, buy, 2, risk, true_deviation, grid)
    return grid_mean(found, below_chance((step / 2 - found.half) / found.error))


def chance_step_true(
    known: KnownSpread,
    buy: PieceCounts,
    allowed: float,
    risk: float,
    true_deviation: float | None = None,
    under: float | None = None,
    grid: PlanningGrid = FINE,
) -> float:
    """Return the chance that a step which is just as charted is shown to be true.

    Shown: both limits of the step lie within *allowed* of the charted one, or within *under* where
    less is allowed below it than above.
    """
    found = spread_worlds(known, buy, 2, risk, true_deviation, grid)
    least = allowed if under is None else under
    return grid_mean(found, inside_chance(found, (least - allowed) / 2, (least + allowed) / 2))


def chance_meets(
    known: KnownSpread,
    buy: PieceCounts,
    tolerance: float,
    risk: float,
    off: float = 0.0,
    in_sizes: int = 1,
    true_deviation: float | None = None,
    grid: PlanningGrid = FINE,
) -> float:
    """Return the chance that sizes which are *off* the chart by so much are all shown to meet it.

    Shown: both limits of the mean's distance from the chart lie inside the tolerance.
    """
    found = spread_worlds(known, buy, 1, risk, true_deviation, grid)
    return sum(
        weight * grid_mean(found, inside_chance(found, off + read, tolerance) ** in_sizes)
        for weight, read in reader_offsets(known.shared)
    )


def chance_fails(
    known: KnownSpread,
    buy: PieceCounts,
    tolerance: float,
    risk: float,
    off: float,
    in_sizes: int = 1,
    true_deviation: float | None = None,
    grid: PlanningGrid = FINE,
) -> float:
    """Return the chance that at least one of the sizes, all *off* by so much, is shown to fail.

    Shown: both limits of the mean's distance from the chart lie outside the tolerance.
    Sign: + is larger than charted; the chance is the same either way.
    """
    turned_out = spread_worlds(known, buy, 1, risk, true_deviation, grid)
    border = tolerance + turned_out.half
    found = 0.0
    for weight, read in reader_offsets(known.shared):
        large = below_chance((off + read - border) / turned_out.error)
        small = below_chance((-off - read - border) / turned_out.error)
        found += weight * grid_mean(turned_out, 1 - (1 - large - small) ** in_sizes)
    return found


def chance_wrong_label(pieces: int, share: float) -> float:
    """Return the chance to see at least one wrong label where *share* of the making is wrong.

    Source: the binomial distribution.
    """
    return 1 - chance_at_most(0, pieces, share)


def fewest_pieces(chance: Callable[[int], float], wanted: float) -> int | None:
    """Return the smallest count whose *chance* reaches what is *wanted*; None above `MOST_PIECES`.

    The chance must not fall as the count grows.

    >>> fewest_pieces(lambda pieces: chance_wrong_label(pieces, 0.10), 0.90)
    22
    """
    if chance(MOST_PIECES) < wanted:
        return None
    return bisect_left(range(1, MOST_PIECES + 1), wanted, key=chance) + 1
