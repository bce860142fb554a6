"""How often a style would be approved, before anything of it is bought: by trying it out.

What the pieces will read is drawn: the spread from what is known of it, the readings as a hand and
a tape give them, the sizes where they are supposed to lie. Every draw is judged as a round would
be, by the limits that each size must keep by itself and what each step must be likelier than not,
with the spread learned from the same draw at every point. Causes are left out: where every size and
step keeps its limits they hold up few more.
The same draws serve every question, so that the same question has the same answer.

Source: simulation with a fixed seed; the rule that is tried is that of the checks.
Units: lengths in millimetres; chances 0 to 1.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from blankbook.results.causes.point_likelihood import PointFit, log_sum
from blankbook.results.causes.point_readings import Group, PointReadings, Vector
from blankbook.results.causes.posterior import wild_prior
from blankbook.results.chart_values import sound_steps
from blankbook.results.result_types import Spread

DRAWS = 800
MOST_PIECES = 12
"""More pieces of a size and colour than anybody buys to settle one question."""
WIDE = (-2.4, 3.6)
"""Logarithms of the least and the largest variance that a draw is judged with, over the usual."""


@dataclass(frozen=True, slots=True)
class PieceCounts:
    """How many pieces are to be bought."""

    sizes: int
    each: int
    """Of every size in every colour."""
    colours: int = 1

    @property
    def pieces(self) -> int:
        """All pieces."""
        return self.sizes * self.each * self.colours


@dataclass(frozen=True, slots=True)
class Required:
    """What is asked of a style at one point of measure."""

    point: str
    spread: Spread
    """As it is known before the purchase."""
    step: float
    """Charted grade step; 0 where the point does not grow."""
    tolerance: float
    step_tolerance: float
    step_of_tape: float


Off = tuple[tuple[float, ...], ...]
"""By point, then by size: how far the style truly is from its chart."""


@lru_cache(maxsize=1024)
def approval_chance(asked: tuple[Required, ...], buy: PieceCounts, off: Off, risk: float) -> float:
    """Return how often every size and step keeps its limits at every point, of `DRAWS` draws."""
    fits = [_fit(one, buy) for one in asked]
    rng = np.random.default_rng(buy.pieces)
    drawn = [_drawn(one, buy, away, rng) for one, away in zip(asked, off, strict=True)]
    logs = [fit.fits_of(readings) for fit, readings in zip(fits, drawn, strict=True)]
    each = [fit.over_variances(own) for fit, own in zip(fits, logs, strict=True)]
    wild = wild_prior(min(one.spread.freedom for one in asked)) + np.sum(each, axis=0)
    wild -= log_sum(wild)[:, None]
    kept = np.ones(DRAWS, dtype=bool)
    for one, fit, own, readings, seen in zip(asked, fits, logs, drawn, each, strict=True):
        shares = np.exp(own[:, None] + fit.log_prior - seen[:, :, None] + wild[:, :, None])
        kept &= _keeps(one, buy, readings, shares.sum(axis=1), fit.variances, risk)
    return float(kept.mean())


def _keeps(
    one: Required,
    buy: PieceCounts,
    readings: Vector,
    weights: Vector,
    variances: Vector,
    risk: float,
) -> Vector:
    """Say of every draw whether all sizes and steps lie where they should.

    A size does but for twice the risk, a step if that is likelier than not, as the checks have it.
    """
    first, second = weights @ (1 / variances), weights @ (1 / variances**2)
    freedom = 2 * first**2 / (second - first**2)
    means = readings.reshape(DRAWS, buy.sizes, -1).mean(axis=2)
    count = readings.shape[1] // buy.sizes
    own = 1 / first / count
    sizes = _between(means, -one.tolerance, one.tolerance, own + one.spread.people**2, freedom)
    least, most = sound_steps(one.step, one.step_tolerance)
    steps = _between(np.diff(means), least - one.step, most - one.step, 2 * own, freedom)
    kept = (sizes >= 1 - 2 * risk).all(axis=1)
    return np.asarray(kept & (steps >= 0.5).all(axis=1) if one.step else kept)


def _between(means: Vector, low: float, high: float, variance: Vector, freedom: Vector) -> Vector:
    """Return the chances that what is measured as *means* lies between. Shape: draws, means."""
    from scipy import special

    ends = ((end - means) / variance[:, None] ** 0.5 for end in (high, low))
    below = [special.stdtr(freedom[:, None], end) for end in ends]
    return np.asarray(below[0] - below[1])


def _fit(one: Required, buy: PieceCounts) -> PointFit:
    """Return the fit of a purchase's pieces, none of which has been read yet."""
    rows = [
        (f"r/{size}-{colour}-{number}", f"{size:02}", Group("A", f"{colour}"))
        for size in range(buy.sizes)
        for colour in range(buy.colours)
        for number in range(buy.each)
    ]
    pieces, tags, groups = zip(*rows, strict=True)
    level = {f"{size:02}": size * one.step for size in range(buy.sizes)}
    charted, nothing = frozenset(level), np.zeros(len(rows))
    readings = PointReadings(
        one.point, pieces, tags, groups, nothing, level, charted, one.tolerance, ()
    )
    return PointFit(readings, one.spread, {}, WIDE)


def _drawn(
    one: Required, buy: PieceCounts, off: tuple[float, ...], rng: np.random.Generator
) -> Vector:
    """Return what the tape reads off the chart. Shape: draws, pieces."""
    spread = one.spread
    total = spread.freedom * spread.deviation**2 / rng.chisquare(spread.freedom, DRAWS)
    own = np.maximum(total - spread.tape**2, 0.0)[:, None] ** 0.5
    there = np.repeat(off, buy.each * buy.colours)
    person = spread.people * rng.normal(size=(DRAWS, 1))
    exact = there + person + own * rng.normal(size=(DRAWS, buy.pieces))
    return np.asarray(np.round(exact / one.step_of_tape) * one.step_of_tape)


def fewest(chance: Callable[[int], float], wanted: float) -> int | None:
    """Return the smallest count up to `MOST_PIECES` with the *wanted* chance, if one has it.

    >>> fewest(lambda each: each / 5, 0.7), fewest(lambda each: 0.0, 0.7)
    (4, None)
    """
    return next((each for each in range(1, MOST_PIECES + 1) if chance(each) >= wanted), None)
