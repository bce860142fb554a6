"""How much lots differ, and where the next one may lie."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from blankbook.results.limits import Limits, deviation_limits
from blankbook.results.over_lots.expected_lots import Believed, expected_lots
from blankbook.results.result_types import Lot


@dataclass(frozen=True, slots=True)
class DeviationLimits:
    """A standard deviation, millimetres, with its one-sided limits."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LotForecast:
    """What the lots so far show of all lots, and of the next."""

    between: DeviationLimits
    within: DeviationLimits
    assumed: float
    """The share of what is known of the spread between lots that these lots did not show."""
    next: Limits
    """The next lot's mean distance from the chart, as a sample like the newest will show it."""


def lot_forecast(lots: Sequence[Lot], believed: Believed, risk: float) -> LotForecast:
    """Return what one or more lots show of the next, whoever of their readers may read it."""
    newest = lots[-1].round
    by = newest.by if {lot.round.by for lot in lots} == {newest.by} else ""
    coming = replace(lots[-1], round=replace(newest, by=by))
    expected = expected_lots([*lots, coming], believed)[-1]
    pieces = believed.pieces
    return LotForecast(
        _with_limits(expected.between, expected.between_freedom, risk),
        _with_limits(pieces.deviation, pieces.freedom, risk),
        min(believed.between.worth / expected.between_freedom, 1.0),
        expected.limits(risk),
    )


def _with_limits(deviation: float, freedom: float, risk: float) -> DeviationLimits:
    return DeviationLimits(deviation, *deviation_limits(deviation, freedom, risk))
