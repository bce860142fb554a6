"""What the next lot will be: the little that an order asks of the judging core.

Today it is filled from the lots so far. Each size has its own lasting distance from the chart, each
lot its own shift of all sizes, and each measured piece its own spread. All are normal; the spreads
are those that the checks use, and the lasting distance of a size is assumed before it is measured.
Source of the arithmetic: conjugate normal linear model (Raiffa and Schlaifer 1961).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.evidence import rounds_and_deliveries
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Lot
from blankbook.words.answers import Answer
from blankbook.words.points import POINTS

Floats = NDArray[np.float64]
USUAL_DISTANCE = 0.5
"""Assumed standard deviation of a size's lasting distance from its chart, in tolerances: a style
that nobody has measured is inside the tolerance at a point 19 times in 20 (common practice, no
source)."""
ODD_LOT = (0.5, 15.0)
"""Assumed before any lot: half an odd lot in 15, one that was cut or shrunk otherwise (common
practice, no source)."""
ODD_DISTANCE = 2.0
"""Assumed standard deviation of an odd lot's shift, in tolerances (common practice, no source)."""
WRONG_TAG = (0.5, 200.0)
"""Assumed before any piece: half a wrong tag in 200 pieces (common practice, no source)."""
UNWASHED = {"along": (-4.0, 2.0), "across": (-2.0, 2.0)}
"""Assumed change of a style that was never washed, percent: mean and standard deviation (common
practice for cotton jersey, no source)."""


@dataclass(frozen=True, slots=True)
class ComingPoint:
    """The next lot at one point of measure, by size; millimetres."""

    point: str
    mean: tuple[float, ...]
    """Expected distance of each size's mean from its chart, + is larger."""
    covariance: tuple[tuple[float, ...], ...]
    """Of those distances, for the lot that will come."""
    lot_variance: float
    """The part of it that another lot would not share."""
    odd_variance: float
    """What an odd lot adds to it, the same in every size."""
    piece_variance: float
    """Of one measured piece about its size's mean."""
    allowed: float
    """The tolerance to either side."""
    steps: tuple[float, ...]
    """The charted step from each size to the next; one fewer than there are sizes."""


@dataclass(frozen=True, slots=True)
class ComingWash:
    """How the next lot may change in the wash, in one direction; percent."""

    direction: str
    mean: float
    deviation: float
    piece_deviation: float
    limit: float
    pieces: int
    """How many were washed; 0 where all of it is assumed."""


@dataclass(frozen=True, slots=True)
class ComingLot:
    """What is expected of the next lot, and how sure that is."""

    sizes: tuple[str, ...]
    points: tuple[ComingPoint, ...]
    washes: tuple[ComingWash, ...]
    wrong_tag: float
    """The chance that a piece's tag is wrong."""
    tags_seen: int
    """How many pieces that rests on."""
    lots: int
    """How many lots were measured."""
    odd_lot: float
    """The chance that the lot is an odd one."""


def coming_lot(judged: Judged) -> ComingLot:
    """Return what the lots so far say of the next one."""
    case = judged.case
    sizes = case.blank.style.sizes
    odd = _odd_lots(judged)
    points = [_point(judged, point, odd) for point in case.shop.deciding_points]
    measured = {round_.lot for round_ in rounds_and_deliveries(case.blank)}
    seen, wrong = _tags(judged)
    return ComingLot(
        sizes,
        tuple(point for point in points if point is not None),
        tuple(_wash(judged, direction) for direction in UNWASHED),
        (WRONG_TAG[0] + wrong) / (WRONG_TAG[1] + seen),
        seen,
        len(measured),
        (ODD_LOT[0] + len(odd)) / (ODD_LOT[1] + len(measured)),
    )


def _odd_lots(judged: Judged) -> set[str]:
    """Return the lots that lie beyond the limits of what lots usually do."""
    return {lot for result in judged.of("lots") for lot in result.alarms}


def _point(judged: Judged, point: str, odd: set[str]) -> ComingPoint | None:
    """Return one point; None where no chart speaks of it."""
    case = judged.case
    sizes = case.blank.style.sizes
    chart = case.blank.style.charts[-1] if case.blank.style.charts else None
    lengths = [charted_length(chart, size, point) for size in sizes]
    if chart is None or any(length is None for length in lengths):
        return None
    charted = [length for length in lengths if length is not None]
    allowed = chart_tolerance(case.shop, chart, point)
    spread, between = case.spreads[point].deviation ** 2, case.spreads[point].between_lots ** 2
    lots = judged.lots.get(point, ())
    strange = (ODD_DISTANCE * allowed) ** 2
    shifts = [between + strange * (lot.round.lot in odd) for lot in lots]
    lasting = (USUAL_DISTANCE * allowed) ** 2
    mean, covariance = next_lot_normal(sizes, lots, lasting, shifts, between, spread)
    steps = tuple(large - small for small, large in pairwise(charted))
    rows = tuple(tuple(float(value) for value in row) for row in covariance)
    return ComingPoint(
        point, tuple(map(float, mean)), rows, between, strange, spread, allowed, steps
    )


def next_lot_normal(
    sizes: Sequence[str],
    lots: Sequence[Lot],
    lasting: float,
    shifts: Sequence[float],
    between: float,
    piece: float,
) -> tuple[Floats, Floats]:
    """Return mean and covariance of the next lot's distances from the chart.

    Unknown are each size's lasting distance and each lot's shift; a lot shows their sum. All else
    are variances: of the *lasting* distance, of the lots' *shifts*, of the next lot's (*between*),
    and of one *piece*.
    """
    counts = [
        (place, at, sum(1 for own, _ in lot.values if own == size), lot.by_size[size])
        for place, lot in enumerate(lots)
        for at, size in enumerate(sizes)
        if size in lot.by_size
    ]
    prior = np.diag([*([lasting] * len(sizes)), *shifts])
    shows = np.zeros((len(counts), len(prior)))
    for row, (place, at, _, _) in enumerate(counts):
        shows[row, at] = shows[row, len(sizes) + place] = 1.0
    seen = np.array([off for _, _, _, off in counts])
    noise = np.diag([piece / pieces for _, _, pieces, _ in counts])
    mean, covariance = np.zeros(len(prior)), prior
    if counts:
        gain = np.linalg.solve(shows @ prior @ shows.T + noise, shows @ prior).T
        mean, covariance = gain @ seen, prior - gain @ shows @ prior
    own = slice(0, len(sizes))
    return mean[own], covariance[own, own] + between


def _tags(judged: Judged) -> tuple[int, int]:
    """Return how many pieces' tags were looked at, and how many of them are wrong."""
    blank = judged.case.blank
    seen = sum(len(round_.pieces) for round_ in blank.rounds)
    wrong = sum(result.answer == Answer.FAILS for result in judged.of("label") if result.piece)
    for delivery in blank.deliveries:
        seen += delivery.inspected
        wrong += sum(flaw.count for flaw in delivery.flaws if flaw.fault == "wrong_label")
    return seen, wrong


def _wash(judged: Judged, direction: str) -> ComingWash:
    """Return the change in one direction, by the check of washing."""
    shop = judged.case.shop
    limit, spread = shop.wash_limit[direction], shop.wash_spread.deviation
    measured = [
        (number.value, number.low, number.high, len(result.piece_values))
        for result in judged.of("washing")
        if result.point in shop.deciding_points
        and POINTS[result.point].direction == direction
        and (number := result.number(Quantity.CHANGE))
    ]
    if not measured:
        mean, deviation = UNWASHED[direction]
        return ComingWash(direction, mean, deviation, spread, limit, 0)
    value, low, high, pieces = max(measured, key=lambda found: abs(found[0]))
    # The limits are those of the mean, one-sided; 1.645 deviations of a normal to either side.
    error = (high - low) / 3.29 if low is not None and high is not None else spread
    own = shop.lot_spread * spread
    return ComingWash(direction, value, float(np.hypot(error, own)), spread, limit, pieces)
