"""Rounds and deliveries of a blank as lots: how far each is off its chart, and which alarm."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.model import Prior
from blankbook.results.causes.point_likelihood import CUT_SHARE
from blankbook.results.chart_values import charted_length
from blankbook.results.evidence import chart_for, rounds_and_deliveries, size_sample, tolerance
from blankbook.results.limits import normal_quantile, t_below, t_quantile
from blankbook.results.methods.control_charts import ChartPoint, moving_average
from blankbook.results.over_lots.expected_lots import Believed, Expected, expected_lots
from blankbook.results.result_types import Case, Lot
from blankbook.words.answers import Advice

ACCEPTING_DECISIONS = (Advice.APPROVED, Advice.CONDITIONS)
MOVE_MARGIN = 0.5
"""How far a lot may lie from an approved one and count as unchanged: a share of the tolerance."""
MOST_LOTS = 60
"""So many lots say what there is to say of the next; the time grows with the cube of them."""
STABLE_LOTS, FALSE_ALARMS = 20, 0.05
"""Of so many lots of a style that keeps still, this is the chance that any raises an alarm."""
EACH_ALARM = FALSE_ALARMS / STABLE_LOTS / 4
"""Of one lot on either side of either chart (Bonferroni's inequality)."""


def lots_of(case: Case, point: str) -> list[Lot]:
    """Return rounds and deliveries with charted readings at *point*, the oldest first."""
    found = []
    for round_ in rounds_and_deliveries(case.blank):
        chart = chart_for(case, round_)
        values: list[tuple[str, float]] = []
        by_size: dict[str, float] = {}
        colours = set()
        for size in case.blank.style.sizes:
            here, target = (
                size_sample(round_, size, point, case.posterior.aside),
                charted_length(chart, size, point),
            )
            if here and target is not None:
                values += [(size, value - target) for value in here.values]
                by_size[size] = here.mean - target
                colours |= {piece.colour for piece in here.pieces}
        if values:
            off, allowed = fmean(off for _, off in values), tolerance(case, chart, point)
            found.append(
                Lot(round_, off, len(values), tuple(values), by_size, allowed, len(colours))
            )
    return found


def deciding_lots(case: Case) -> dict[str, list[Lot]]:
    """Return the lots at each point that the shop decides by."""
    return {point: lots_of(case, point) for point in case.shop.deciding_points}


def reference_lot(lots: Sequence[Lot]) -> Lot:
    """Return the lot to compare the newest with: the last approved before it, else the first."""
    return next((lot for lot in reversed(lots[:-1]) if _decided(lot, True)), lots[0])


def matched_difference(case: Case, point: str, before: Lot, newest: Lot) -> tuple[float, float]:
    """Return how far one lot lies from another, and its variance, by the sizes that both have.

    Each size weighs by its pieces, which leaves the least error. Where no size is in both, what
    sizes have of their own is in the difference.
    """
    spread = case.spreads[point]
    both = [size for size in before.by_size if size in newest.by_size]
    weights = [1 / (1 / before.count(size) + 1 / newest.count(size)) for size in both]
    if both:
        apart = [newest.by_size[size] - before.by_size[size] for size in both]
        difference, square = fmean(apart, weights), spread.deviation**2 / sum(weights)
    else:
        difference = newest.off - before.off
        square = newest.error(spread) ** 2 + before.error(spread) ** 2
        square += 2 * (CUT_SHARE * newest.allowed) ** 2
    people = 2 * spread.people**2 if newest.round.by != before.round.by else 0.0
    return difference, square + people  # two people, each with their own hand


def _decided(lot: Lot, accepted: bool) -> bool:
    """Say whether a person accepted a lot, or rejected it."""
    made = lot.round.decision
    return made is not None and (made.decision in ACCEPTING_DECISIONS) == accepted


@dataclass(frozen=True, slots=True)
class LotOnChart:
    """One lot on the charts of lots; a first lot has nothing before it, and no limits."""

    single: ChartPoint | None = None
    average: ChartPoint | None = None
    """The moving average; None, too, for a lot that lies beyond its own limits."""
    expected: Expected | None = None

    @property
    def alarm(self) -> bool:
        """Whether the lot, or the average, lies beyond its limits."""
        return any(point is not None and point.signal for point in (self.single, self.average))


def believed_of_lots(case: Case, point: str) -> Believed:
    """Return what is believed of the lots; how far they differ weighs as much as how pieces do."""
    spread = case.spreads[point]
    return Believed(spread, Prior(spread.between_lots, case.shop.spread[point].worth))


def lots_on_charts(case: Case, point: str, lots: Sequence[Lot]) -> list[LotOnChart]:
    """Return every lot with the limits that those before it give.

    Lots before the last `MOST_LOTS` have none. A lot beyond its limits says nothing of those after
    it, unless a person has accepted it; neither does one that was rejected.
    """
    believed = believed_of_lots(case, point)
    old = max(len(lots) - MOST_LOTS, 0)
    lots = lots[old:]
    left_out: set[int] = set()
    found: dict[int, LotOnChart] = {}
    steps: list[float] = []
    while len(found) < len(lots):
        kept = [at for at in range(len(lots)) if at not in left_out]
        expected = expected_lots([lots[at] for at in kept], believed)
        for at, own in zip(kept, expected, strict=True):
            if at not in found:
                found[at] = _on_chart(lots[at], own, steps)
                if _decided(lots[at], False) or (
                    _is_beyond(found[at]) and not _decided(lots[at], True)
                ):
                    left_out.add(at)
                    break
    return [LotOnChart()] * old + [found[at] for at in range(len(lots))]


def _is_beyond(lot: LotOnChart) -> bool:
    return lot.single is not None and lot.single.signal is not None


def _on_chart(lot: Lot, expected: Expected, steps: list[float]) -> LotOnChart:
    """Return a lot on both charts; *steps* of those inside, in normal deviations, are added to."""
    if expected.first:
        return LotOnChart()
    width = t_quantile(1 - EACH_ALARM, expected.freedom) * expected.deviation
    single = ChartPoint(lot.off, expected.mean - width, expected.mean + width)
    if single.signal:
        return LotOnChart(single, None, expected)
    below = t_below((lot.off - expected.mean) / expected.deviation, expected.freedom)
    steps.append(normal_quantile(below))
    wide = normal_quantile(1 - EACH_ALARM)
    last = moving_average(steps, wide)[-1]
    scale = width / wide
    ends = (expected.mean + scale * value for value in (last.value, last.low, last.high))
    return LotOnChart(single, ChartPoint(*ends), expected)
