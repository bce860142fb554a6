"""How often a missing step can be found at all, whatever the method.

A check may call a sound size or step wrong no more often than its stated risk, and that holds for
the one at the very border of what is sound, too. By the lemma of Neyman and Pearson no test that
keeps this tells a mean beyond the border from one at the border more often than

    Phi(distance / error - z)        z: the normal quantile of 1 - risk

even with the spread known. A difference of two means of n pieces has the error s sqrt(2 / n), one
mean s / sqrt(n). The tape's rounding is left out of the spread: it can only lose more. Where
nothing is assumed of the spread, Student's t test is the best that there is (uniformly most
powerful among tests that do not depend on the unit), and its power is the noncentral t.

A trial draws spread and cut anew for each round, so the powers are averaged over both, and the risk
need only hold on average over the spreads: it is dealt out between them as helps most. That makes
the bound one for every method, also for one that learns the spread with the help of a belief.

A rule that ranks causes has no border to keep. The bound for being right most often, over causes as
common as believed, is the rule of Bayes: rank by prior times likelihood. That one is what the core
does, with the spread averaged over; `scoring` runs it with the true spread beside it.

Source: Neyman and Pearson 1933, Phil. Trans. R. Soc. A 231, 289-337; Lehmann and Romano, Testing
Statistical Hypotheses, 3rd edition, theorem 3.2.1 and section 5.2.
Units: lengths in millimetres; chances 0 to 1.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from blankbook.records.model import Prior
from blankbook.results.limits import t_quantile

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Grid = NDArray[float64]

SPREADS, CUTS = 200, 80
"""How many equally likely spreads and cuts stand for those that a trial draws."""
_HALVINGS = 45


@dataclass(frozen=True, slots=True)
class Setting:
    """A step that is missing at one point, and what was bought to find it."""

    step: float
    """The charted step."""
    least: float
    """The smallest step that is sound."""
    tolerance: float
    """How far a sound size may be from its chart."""
    cut: float
    """Standard deviation of a size's own cut about the chart."""
    lot: float
    """Standard deviation of what all sizes of a lot share."""
    spread: Prior
    """What is believed of the spread between pieces."""
    hand: float
    """Standard deviation of the hand that reads."""
    reading: float
    """The same with the tape's step: what the believed spread is joined with."""
    pieces: int
    """Of each size."""
    sizes: int = 3


def power_known(distance: "Grid", error: "Grid", risk: float) -> "Grid":
    """Return the chance of the best test to find a mean that lies *distance* past the border."""
    from scipy import special

    found: Grid = special.ndtr(distance / error - special.ndtri(1 - risk))
    return found


def power_on_freedom(distance: "Grid", error: "Grid", freedom: int, risk: float) -> "Grid":
    """Return the same for the t test, which assumes nothing and learns the spread on *freedom*.

    Source: the noncentral t distribution.
    """
    from scipy import special

    found: Grid = 1 - special.nctdtr(freedom, distance / error, t_quantile(1 - risk, freedom))
    return found


def best_share(ratios: "Grid", risk: float) -> float:
    """Return the most that can be found where the risk need only hold on average over spreads.

    *ratios* are distances over errors. Shape: spreads, distances; all equally likely.
    Source: Neyman and Pearson 1933, the likelihood ratio against one border for all spreads: the
    test finds beyond a value of its own for each spread, where the mean ratio is the same.
    """
    from scipy import special

    low, high = -60.0, 60.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        too_often = special.ndtr(-_borders(ratios, middle)).mean() > risk
        low, high = (middle, high) if too_often else (low, middle)
    borders = _borders(ratios, high)
    return float(special.ndtr(ratios - borders[:, None]).mean())


def _borders(ratios: "Grid", level: float) -> "Grid":
    """Return, for each spread, the value where the log of the mean likelihood ratio is *level*."""
    import numpy as np

    low, high = np.full(len(ratios), -40.0), np.full(len(ratios), 40.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        logs = ratios * middle[:, None] - ratios**2 / 2
        best = logs.max(axis=1)
        mean = best + np.log(np.exp(logs - best[:, None]).mean(axis=1))
        low, high = np.where(mean < level, middle, low), np.where(mean < level, high, middle)
    return np.asarray(high)


def step_bound(setting: Setting, risk: float) -> float:
    """Return how often the step itself can be shown to be unsound."""
    distance = setting.least - _drawn(0.0, 2**0.5 * setting.cut, setting.least)
    return best_share(
        distance / (_deviations(setting) * (2 / setting.pieces) ** 0.5)[:, None], risk
    )


def size_bound(setting: Setting, risk: float) -> float:
    """Return how often the size that is a step off its chart can be shown to be off."""
    off = (setting.cut**2 + setting.lot**2) ** 0.5
    distance = -setting.tolerance - _drawn(-setting.step, off, -setting.tolerance)
    return best_share(distance / (_deviations(setting) / setting.pieces**0.5)[:, None], risk)


def bare_share(setting: Setting, risk: float) -> float:
    """Return how often the t test finds the step, had it nothing but these pieces to go by."""
    freedom = setting.sizes * (setting.pieces - 1)
    if not freedom:
        return risk
    distance = setting.least - _drawn(0.0, 2**0.5 * setting.cut, setting.least)
    error = (_deviations(setting) * (2 / setting.pieces) ** 0.5)[:, None]
    return float(power_on_freedom(distance, error, freedom, risk).mean())


def believing_share(setting: Setting, risk: float) -> float:
    """Return how often a missing step can be found by who trusts what is believed of sound ones.

    Such a rule keeps its risk only on average over styles that are as charted, as common as is
    believed, and is wrong far more often about one at the border. It is told which of the two
    sizes would be the one that is off, and the spread.
    """
    own = _deviations(setting) ** 2 / setting.pieces + setting.cut**2
    shared = setting.lot**2 / (own + setting.sizes * setting.lot**2)
    ratio = setting.step * ((1 - shared) / own) ** 0.5
    return best_share(ratio[:, None], risk)


def false_finds(found: float, risk: float, missing: float, sound: float) -> float:
    """Return the share of sound steps among those that a rule calls missing.

    *missing* and *sound* are what is believed of a step beforehand. Source: the rule of Bayes.
    """
    wrong = risk * sound
    return wrong / (wrong + found * missing)


def _middles(count: int) -> "Grid":
    import numpy as np

    return np.asarray((np.arange(count) + 0.5) / count)


def _deviations(setting: Setting) -> "Grid":
    """Return equally likely deviations of one reading of one piece, as the trials draw them."""
    import numpy as np
    from scipy import special

    prior = setting.spread
    square = prior.worth * (prior.deviation**2 + setting.reading**2)
    total = square / special.chdtri(prior.worth, _middles(SPREADS))
    own = np.maximum(total - setting.reading**2, 0.0)
    return np.asarray((own + setting.hand**2) ** 0.5)


def _drawn(mean: float, deviation: float, below: float) -> "Grid":
    """Return equally likely values of a normal variable that is known to be below a border."""
    from scipy import special

    most = special.ndtr((below - mean) / deviation)
    values: Grid = mean + deviation * special.ndtri(most * _middles(CUTS))
    return values
