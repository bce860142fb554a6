"""What the lot that comes next will be: each size, its tags, and sizes that are one.

What belongs to one lot or to single pieces of it (a wrong tag, an odd piece, a lot that is off) is
left behind; how far lots differ is added.
Units: millimetres; chances 0 to 1.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import inf

from blankbook.results.causes.point_readings import PointReadings, Target
from blankbook.results.result_types import Case
from blankbook.words.points import POINTS

WRONG_TAGS, TAGS_WORTH = 0.01, 24.0
"""How many tags are wrong, and how many pieces that belief is worth: one piece in a round of six
has a wrong tag in 6 rounds of 100, and a second one in a fifth of those (stated beliefs of ours,
as in `words.causes` and `posterior.AGAIN`), which is a beta distribution of about this worth."""


@dataclass(frozen=True, slots=True)
class SizeOfNextLot:
    """One size at one point, as the next lot will have it."""

    size: str
    point: str
    off: float
    """The lot's mean, as far as it is expected to lie from the chart; + is larger."""
    deviation: float
    """Standard deviation of that mean: what is unknown of the style, and from lot to lot."""
    pieces: float
    """Standard deviation of single pieces about it, tape and hand left out."""


@dataclass(frozen=True, slots=True)
class StepOfNextLot:
    """Two neighbouring sizes at one point."""

    size: str
    next_size: str
    point: str
    alike: float
    """The chance that they cannot be told apart: less than half the expected step lies between."""


@dataclass(frozen=True, slots=True)
class NextLotSizes:
    """The next lot of a blank."""

    sizes: tuple[SizeOfNextLot, ...]
    steps: tuple[StepOfNextLot, ...]
    wrong_tag: float
    """The chance that any one piece carries a wrong tag."""


def next_lot_sizes(case: Case) -> NextLotSizes | None:
    """Return what is expected of the next lot; None where nothing was measured."""
    every = case.posterior.every
    if not every:
        return None
    sizes = [size for readings in every.values() for size in _sizes(case, readings)]
    steps = [step for readings in every.values() for step in _steps(case, readings)]
    return NextLotSizes(tuple(sizes), tuple(steps), _wrong_tag(case))


def _measured(case: Case, readings: PointReadings) -> tuple[Target, ...]:
    tagged = set(readings.tags)
    every = readings.alone([size for size in case.blank.style.sizes if size in tagged])
    return tuple(target.in_next_lot for target in every)


def _sizes(case: Case, readings: PointReadings) -> Iterator[SizeOfNextLot]:
    point, targets = readings.point, _measured(case, readings)
    pieces = case.posterior.spread(point).pieces
    for target, (off, deviation) in zip(targets, case.posterior.off(point, targets), strict=True):
        yield SizeOfNextLot(target.size, point, off, deviation, pieces)


def _steps(case: Case, readings: PointReadings) -> Iterator[StepOfNextLot]:
    """Yield neighbours that were both measured, where the point grows from size to size."""
    order, level = case.blank.style.sizes, readings.expected
    targets = tuple(
        Target(low.size, high.size, low.groups, -inf, -abs(level[high.size] - level[low.size]) / 2)
        for low, high in pairwise(_measured(case, readings))
        if POINTS[readings.point].step and order.index(high.size) == order.index(low.size) + 1
    )
    for target, chance in case.posterior.chances(readings.point, targets).items():
        yield StepOfNextLot(target.size, target.next_size, readings.point, chance)


def _wrong_tag(case: Case) -> float:
    """Return the share of wrong tags that all tags so far let be expected: beta and binomial."""
    tags, labels = case.posterior.tags, case.posterior.labels
    wrong = sum(1 - tags[piece][label] - tags[piece][""] for piece, label in labels.items())
    return (WRONG_TAGS * TAGS_WORTH + wrong) / (TAGS_WORTH + len(labels))
