"""What the next lot will be: its sizes and tags, and how it may change in the wash."""

from dataclasses import dataclass
from math import hypot

from blankbook.results.over_lots.next_lot_sizes import NextLotSizes, next_lot_sizes
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS

UNWASHED = {"along": (-4.0, 2.0), "across": (-2.0, 2.0)}
"""Assumed change of a style that was never washed, percent: mean and standard deviation (common
practice for cotton jersey, no source)."""


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

    measures: NextLotSizes
    washes: tuple[ComingWash, ...]


def coming_lot(judged: Judged) -> ComingLot:
    """Return what all that was measured says of the next lot."""
    washes = tuple(_wash(judged, direction) for direction in UNWASHED)
    return ComingLot(next_lot_sizes(judged.case), washes)


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
    return ComingWash(
        direction, value, hypot(error, shop.lot_spread * spread), spread, limit, pieces
    )
