"""How much lots differ, and where the next one may lie.

From five lots on, the lots themselves show it: components of variance, with each size's own level
taken out, and Student's t on the spread of the lots' means for the next lot. With fewer, the shop's
stated spread between lots is used, drawn towards what the few lots show, and the words say so.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, harmonic_mean, stdev

from blankbook.records.model import Prior
from blankbook.results.limits import Limits, deviation_limits, limits
from blankbook.results.methods.control_charts import ENOUGH_LOTS
from blankbook.results.methods.variance_components import analyse_lots, between_limits, components
from blankbook.results.result_types import Lot, Spread


@dataclass(frozen=True, slots=True)
class DeviationLimits:
    """A standard deviation, millimetres, with its one-sided limits where readings give them."""

    value: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class LotForecast:
    """What the lots so far show of all lots, and of the next."""

    between: DeviationLimits
    within: DeviationLimits
    stated: bool
    """Whether the spread between lots is the shop's statement, for lack of lots."""
    next: Limits
    """The next lot's mean distance from the chart, as a sample of ``pieces`` will show it."""
    pieces: float
    """The harmonic mean of the pieces in the lots so far."""


def lot_forecast(lots: Sequence[Lot], spread: Spread, stated: Prior, risk: float) -> LotForecast:
    """Return what one or more lots show of the next; *stated* is the shop's spread between lots."""
    found = _from_lots(lots, risk) if len(lots) >= ENOUGH_LOTS else None
    if found is None:
        return _from_statement(lots, spread, stated, risk)
    return found


def _from_lots(lots: Sequence[Lot], risk: float) -> LotForecast | None:
    """Return what the lots show by themselves; None where sizes and lots cannot be told apart.

    Source: the next of k + 1 alike means lies within t s sqrt(1 + 1/k) of the mean of the others
    (Student 1908); with unequal counts, unweighted means (Burdick and Graybill 1992).
    """
    try:
        found = analyse_lots([lot.values for lot in lots])
    except ValueError:
        return None
    if found.between.freedom < len(lots) - 1:
        return None
    parts = components(found)
    between, within = parts.deviations
    offs = [lot.off for lot in lots]
    error = stdev(offs) * (1 + 1 / len(lots)) ** 0.5
    return LotForecast(
        DeviationLimits(between, *between_limits(found, risk)),
        DeviationLimits(within, *deviation_limits(within, found.within.freedom, risk)),
        False,
        limits(fmean(offs), error, len(lots) - 1, risk),
        harmonic_mean([lot.pieces for lot in lots]),
    )


def _from_statement(lots: Sequence[Lot], spread: Spread, stated: Prior, risk: float) -> LotForecast:
    """Return the forecast from the stated spread between lots, moderated by the few lots.

    Where several people have measured, each lot carries its reader's own difference.
    Source: a weighted mean of normal values and one more of them; its variance is moderated by the
    lots' own squares about that mean, as the spread of pieces is (Smyth 2004).
    """
    pieces = harmonic_mean([lot.pieces for lot in lots])
    several = len({lot.round.by for lot in lots}) > 1
    apart = stated.deviation**2 + (spread.people**2 if several else 0.0)
    weights = [1 / (apart + lot.error(spread) ** 2) for lot in lots]
    mean = fmean([lot.off for lot in lots], weights)
    squares = sum(w * (lot.off - mean) ** 2 for w, lot in zip(weights, lots, strict=True))
    freedom = stated.worth + len(lots) - 1
    variance = apart + spread.deviation**2 / pieces + 1 / sum(weights)
    error = (variance * (stated.worth + squares) / freedom) ** 0.5
    return LotForecast(
        DeviationLimits(stated.deviation),
        DeviationLimits(
            spread.deviation, *deviation_limits(spread.deviation, spread.freedom, risk)
        ),
        True,
        limits(mean, error, freedom, risk),
        pieces,
    )
