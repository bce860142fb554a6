"""Rounds and deliveries of a blank as lots: how far each is off its chart, and which alarm."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.model import Prior
from blankbook.results.evidence import (
    chart_for,
    charted_length,
    rounds_and_deliveries,
    size_sample,
    tolerance,
)
from blankbook.results.methods.control_charts import (
    CentreLine,
    ControlChart,
    StatedSpread,
    chart_of_lots,
    moving_average_chart,
)
from blankbook.results.result_types import Case, Lot
from blankbook.words.answers import Advice

ACCEPTING_DECISIONS = (Advice.APPROVED, Advice.CONDITIONS)
MOVE_MARGIN = 0.5
"""How far a lot may lie from an approved one and count as unchanged: a share of the tolerance."""


def lots_of(case: Case, point: str) -> list[Lot]:
    """Return rounds and deliveries with charted readings at *point*, the oldest first."""
    found = []
    for round_ in rounds_and_deliveries(case.blank):
        chart = chart_for(case, round_)
        values: list[tuple[str, float]] = []
        by_size: dict[str, float] = {}
        for size in case.blank.style.sizes:
            here, target = size_sample(round_, size, point), charted_length(chart, size, point)
            if here and target is not None:
                values += [(size, value - target) for value in here.values]
                by_size[size] = here.mean - target
        if values:
            off, allowed = fmean(off for _, off in values), tolerance(case, chart, point)
            found.append(Lot(round_, off, len(values), tuple(values), by_size, allowed))
    return found


def deciding_lots(case: Case) -> dict[str, list[Lot]]:
    """Return the lots at each point that the shop decides by."""
    return {point: lots_of(case, point) for point in case.shop.deciding_points}


def reference_lot(lots: Sequence[Lot]) -> Lot:
    """Return the lot to compare the newest with: the last approved before it, else the first."""
    for lot in reversed(lots[:-1]):
        made = lot.round.decision
        if made and made.decision in ACCEPTING_DECISIONS:
            return lot
    return lots[0]


@dataclass(frozen=True, slots=True)
class LotCharts:
    """The control charts of all lots at one point."""

    single: ControlChart
    average: ControlChart
    """Of the lots that are inside the limits by themselves: a lot beyond them is left out."""
    kept: tuple[int, ...]
    """The places of those lots."""

    @property
    def alarms(self) -> tuple[int, ...]:
        """The places of the lots that are beyond the limits, of either chart."""
        drifting = (self.kept[place] for place in self.average.signals)
        return tuple(sorted({*self.single.signals, *drifting}))


def stated_between(case: Case, point: str) -> Prior:
    """Return the spread between lots that the shop states; it weighs as much as that of pieces."""
    return Prior(case.spreads[point].between_lots, case.shop.spread[point].worth)


def lot_charts(case: Case, point: str, lots: Sequence[Lot]) -> LotCharts:
    """Return the chart of single lots and that of their moving average, about the reference lot.

    With fewer than five lots the limits come from the stated spread within and between lots.
    """
    spread = case.spreads[point]
    errors = tuple(lot.error(spread) for lot in lots)
    stated = StatedSpread(errors, stated_between(case, point).deviation, spread.freedom)
    before = reference_lot(lots)
    values = [lot.off for lot in lots]
    single = chart_of_lots(values, stated, CentreLine(before.off, before.error(spread)))
    beyond = set(single.signals)
    kept = tuple(place for place in range(len(lots)) if place not in beyond)
    each = stated.deviations
    deviations = [each[place] for place in kept]
    steady = [values[place] for place in kept]
    average = moving_average_chart(steady, before.off, deviations, single.basis)
    return LotCharts(single, average, kept)
