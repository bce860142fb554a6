"""Is the newest lot what the approved one was, and do the lots keep still?"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.model import Round
from blankbook.results.evidence import chart_for, charted, sample, tolerance
from blankbook.results.frame import Case, Check, Number, Result, Spread
from blankbook.results.methods.control_charts import (
    Centre,
    Chart,
    Stated,
    chart_of_lots,
    moving_average,
)
from blankbook.results.methods.equivalence import Change, Comparison, compare
from blankbook.results.saying import say, say_change
from blankbook.words.answers import Advice, Answer
from blankbook.words.checks import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "lots"
MARGIN = 0.5
"""How far a lot may move before it has moved, as a share of the tolerance."""
LETS_THROUGH = (Advice.APPROVED, Advice.CONDITIONS)


@dataclass(frozen=True, slots=True)
class Lot:
    """One round at one point: how far it was from the chart that held for it, millimetres."""

    round: Round
    off: float
    pieces: int

    def error(self, spread: Spread) -> float:
        """Return the standard error of the mean, from the pieces within the lot."""
        return float(spread.deviation / self.pieces**0.5)


def judge(case: Case) -> list[Result]:
    """Return one answer per deciding point, where two rounds or more can be held to a chart."""
    return [_judge_point(case, point) for point in case.shop.deciding_points]


def lots_of(case: Case, point: str) -> list[Lot]:
    """Return the rounds with charted readings at *point*, the oldest first."""
    found = []
    for one in case.blank.rounds:
        chart = chart_for(case, one)
        offs: list[float] = []
        for size in case.blank.style.sizes:
            here, target = sample(one, size, point), charted(chart, size, point)
            if here and target is not None:
                offs += [value - target for value in here.values]
        if offs:
            found.append(Lot(one, fmean(offs), len(offs)))
    return found


def reference(lots: Sequence[Lot]) -> Lot:
    """Return the lot to compare the newest with: the last approved before it, else the first."""
    for lot in reversed(lots[:-1]):
        made = lot.round.decision
        if made and made.decision in LETS_THROUGH:
            return lot
    return lots[0]


@dataclass(frozen=True, slots=True)
class Watch:
    """The charts of all lots at one point."""

    single: Chart
    average: Chart
    """Of the lots that are not beyond the limits by themselves: after an alarm it starts anew."""
    kept: tuple[int, ...]
    """The places of those lots."""

    @property
    def alarms(self) -> tuple[int, ...]:
        """The places of the lots that are beyond the limits, of either chart."""
        drifting = (self.kept[place] for place in self.average.signals)
        return tuple(sorted({*self.single.signals, *drifting}))


def watch(case: Case, point: str, lots: Sequence[Lot]) -> Watch:
    """Return the chart of single lots and that of their moving average, about the reference lot.

    With fewer than five lots the limits come from the stated spread within and between lots.
    """
    spread = case.spreads[point]
    between = case.shop.lot_spread * case.shop.spread[point].deviation
    stated = Stated(tuple(lot.error(spread) for lot in lots), between, spread.freedom)
    before = reference(lots)
    values = [lot.off for lot in lots]
    single = chart_of_lots(values, stated, Centre(before.off, before.error(spread)))
    kept = tuple(place for place in range(len(lots)) if place not in single.signals)
    deviations = [stated.deviations[place] for place in kept]
    steady = [values[place] for place in kept]
    average = moving_average(steady, before.off, deviations, single.basis)
    return Watch(single, average, kept)


def _judge_point(case: Case, point: str) -> Result:
    lots = lots_of(case, point)
    name = POINTS[point].name
    if len(lots) < 2:
        reason = f"{name}: fewer than two lots were held to a chart, so nothing can have moved yet"
        return Result(KEY, Answer.NOT_TESTED, reason, point=point, deciding=False)
    newest, before = lots[-1], reference(lots)
    spread = case.spreads[point]
    margin = MARGIN * tolerance(case, chart_for(case, newest.round), point)
    error = (newest.error(spread) ** 2 + before.error(spread) ** 2) ** 0.5
    moved = compare(newest.off - before.off, error, spread.freedom, margin, case.shop.risk)
    beyond = watch(case, point, lots).alarms
    answer = _answer(moved, beyond, len(lots) - 1)
    return Result(
        KEY,
        answer,
        _reason(case, point, moved, lots, before, margin, beyond),
        word=str(moved.answer),
        point=point,
        lot=newest.round.lot,
        round=newest.round.key,
        numbers=(
            Number("moved by", moved.difference, "mm", moved.low, moved.high),
            Number("margin", margin, "mm"),
            Number("lots", len(lots), "count"),
        ),
        deciding=False,
    )  # fmt: skip


def _answer(moved: Comparison, beyond: Sequence[int], last: int) -> Answer:
    if moved.answer == Change.MOVED or last in beyond:
        return Answer.FAILS
    return Answer.MEETS if moved.answer == Change.UNCHANGED else Answer.NOT_SHOWN


def _reason(
    case: Case,
    point: str,
    moved: Comparison,
    lots: Sequence[Lot],
    before: Lot,
    margin: float,
    beyond: Sequence[int],
) -> str:
    unit = case.shop.unit
    newest = lots[-1].round
    by = say_change(moved.difference, unit)
    span = f"{say_change(moved.low, unit)} to {say_change(moved.high, unit)}"
    against = f"the {before.round.date} round"
    words = {
        Change.UNCHANGED: f"unchanged against {against} ({by}, {span})",
        Change.MOVED: f"moved by {by} against {against} ({span}), more than {say(margin, unit)}",
    }
    says = words.get(moved.answer, f"{by} against {against} ({span}), which settles nothing yet")
    text = f"{POINTS[point].name}: lot {newest.lot} is {says}"
    named = ", ".join(lots[place].round.lot for place in beyond)
    return f"{text}; beyond the limits for lots: {named}" if named else text


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is the newest lot what the approved one was, and do the lots keep still?",
    "The mean distance from the chart of the newest lot is held against that of the last approved "
    "one: two one-sided tests within half the tolerance say unchanged or moved, or neither. Beside "
    "it, each lot and the moving average of all stand on charts whose limits come from the stated "
    "spread within and between lots, and from five lots on from the lots themselves.",
    "two one-sided tests, Schuirmann 1987; individuals and EWMA charts, NIST/SEMATECH e-Handbook "
    "6.3.2.2 and 6.3.2.4",
    judge,
)

__all__ = ["CHECK", "Lot", "Watch", "judge", "lots_of", "reference", "watch"]
