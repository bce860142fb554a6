"""All lots of a blank on one axis of time: each size's distance from its chart.

A lot stands at the day it was bought, else measured: the day whose chart it is judged by. So the
chart in force at a place of the axis is the chart of the lots there.
"""

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from blankbook.records.model import Chart, Round
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.checks.size_against_chart import off_chart_limits
from blankbook.results.evidence import chart_for, rounds_and_deliveries, size_sample
from blankbook.results.limits import Limits, answer_inside
from blankbook.results.over_lots.lot_history import LotOnChart, lots_of, lots_on_charts
from blankbook.results.result_types import Case, Lot
from blankbook.words.answers import Answer
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class SizeOfLot:
    """One size of one lot at one point."""

    at: int
    """The lot's place on the axis, from 0."""
    off: Limits
    """The mean's distance from the chart of the lot, millimetres; + is larger."""
    pieces: int
    allowed: float
    """The tolerance of that chart, millimetres."""
    answer: Answer


@dataclass(frozen=True, slots=True)
class ChartPeriod:
    """What one chart asks of a size at a point, from its date until that of the next."""

    since: datetime.date
    until: datetime.date | None
    """The day from which the next chart is in force; None where there is none."""
    allowed: float
    """Millimetres to either side."""
    moved: float | None = None
    """How far it lies from the chart before, millimetres; None where that had no such cell."""


@dataclass(frozen=True, slots=True)
class SizeOverTime:
    """One size at one point: its lots and the charts in force."""

    size: str
    marks: tuple[SizeOfLot, ...]
    """In the order of the axis; one for each lot that has readings of it."""
    holds: tuple[ChartPeriod, ...]


@dataclass(frozen=True, slots=True)
class LotAtPoint:
    """One lot at one point, all its pieces together, with the limits for lots."""

    at: int
    off: float
    """Millimetres."""
    pieces: int
    on_chart: LotOnChart
    """With the limits for lots; without any at a point that raises no alarm."""


@dataclass(frozen=True, slots=True)
class PointOverTime:
    """One point of measure over time."""

    point: str
    stands: tuple[LotAtPoint, ...]
    """In the order of the axis."""
    watched: bool
    """Whether a lot can raise an alarm here: the shop decides by this point."""
    holds: tuple[ChartPeriod, ...]
    """The tolerance at this point, whatever the size."""
    panels: tuple[SizeOverTime, ...]
    """Smallest size first; those without readings are left out."""


@dataclass(frozen=True, slots=True)
class DatedDecision:
    """What a person decided on a round or on a delivery."""

    day: datetime.date
    word: str
    by: str
    delivery: bool
    of: str
    """The key of the round or delivery."""


@dataclass(frozen=True, slots=True)
class LotsOverTime:
    """A blank over time."""

    lots: tuple[Round, ...]
    """In the order of the axis: by the day they were bought, else measured."""
    held_by: tuple[datetime.date | None, ...]
    """For each lot, the date of the chart that it is judged by."""
    rows: tuple[PointOverTime, ...]
    """The points that two or more lots have readings of, in their usual order."""
    alone: tuple[str, ...]
    """The points that one lot only has readings of."""
    apart: tuple[tuple[str, str], ...]
    """The lots left out at a point for another line of measuring: the point, and the lot's key."""
    decided: tuple[DatedDecision, ...]
    """In the order of their days."""
    charts: tuple[Chart, ...]
    """Those in force on some day from the first lot on."""

    @property
    def out_of_turn(self) -> bool:
        """Whether the lots were measured in another order than they were bought in."""
        days = [round_.date for round_ in self.lots]
        return days != sorted(days)


def has_history(case: Case) -> bool:
    """Say whether two or more lots can be compared with a chart, whatever the point."""
    charted = (round_ for round_ in rounds_and_deliveries(case.blank) if _is_charted(case, round_))
    return len({_name(round_) for round_ in charted}) > 1


def _is_charted(case: Case, round_: Round) -> bool:
    chart = chart_for(case, round_)
    return chart is not None and any(
        charted_length(chart, piece.size, point) is not None
        for piece in round_.pieces
        for point in piece.received
    )


def lots_over_time(case: Case) -> LotsOverTime | None:
    """Return the lots of a blank over time; None with fewer than two that a chart speaks of."""
    if not has_history(case):
        return None
    found = {point: held for point in POINTS if (held := lots_of(case, point))}
    keys = {_name(lot.round) for held in found.values() for lot in held}
    lots = sorted((o for o in rounds_and_deliveries(case.blank) if _name(o) in keys), key=_turn)
    places = {_name(round_): at for at, round_ in enumerate(lots)}
    first = lots[0].chart_day
    return LotsOverTime(
        tuple(lots),
        tuple(chart.since if (chart := chart_for(case, round_)) else None for round_ in lots),
        tuple(_row(case, p, of, places) for p, of in found.items() if len(of) > 1),
        tuple(point for point, of in found.items() if len(of) == 1),
        tuple(_apart(case)),
        tuple(sorted(_decided(case), key=lambda decision: (decision.day, decision.of))),
        tuple(c for c, until in _reigns(case) if until is None or until > first),
    )


def _name(round_: Round) -> str:
    """Return what tells a round or a delivery from all others: the path of its file."""
    return round_.source.path


def _turn(round_: Round) -> tuple[datetime.date, datetime.date, str]:
    return round_.chart_day, round_.date, round_.key


def _reigns(case: Case) -> Iterator[tuple[Chart, datetime.date | None]]:
    """Yield every chart with the day from which the next is in force."""
    charts = case.blank.style.charts
    ends = [*(later.since for later in charts[1:]), None]
    yield from zip(charts, ends, strict=False)


def _row(case: Case, point: str, lots: list[Lot], places: dict[str, int]) -> PointOverTime:
    watched = point in case.shop.deciding_points
    charts = lots_on_charts(case, point, lots) if watched else [LotOnChart()] * len(lots)
    stands = [
        LotAtPoint(places[_name(lot.round)], lot.off, lot.pieces, chart)
        for lot, chart in zip(lots, charts, strict=True)
    ]
    panels = (_panel(case, size, point, lots, places) for size in case.blank.style.sizes)
    return PointOverTime(
        point,
        tuple(sorted(stands, key=lambda stand: stand.at)),
        watched,
        tuple(
            ChartPeriod(chart.since, until, chart_tolerance(case.shop, chart, point))
            for chart, until in _reigns(case)
            if any(point in row for row in chart.sizes.values())
        ),
        tuple(panel for panel in panels if panel.marks),
    )


def _panel(
    case: Case, size: str, point: str, lots: list[Lot], places: dict[str, int]
) -> SizeOverTime:
    made = (_mark(case, lot.round, size, point, places[_name(lot.round)]) for lot in lots)
    marks = sorted((mark for mark in made if mark), key=lambda mark: mark.at)
    return SizeOverTime(size, tuple(marks), tuple(_holds(case, size, point)))


def _mark(case: Case, round_: Round, size: str, point: str, at: int) -> SizeOfLot | None:
    """Return a size of a lot against its chart, judged as the check of sizes does."""
    chart, here = chart_for(case, round_), size_sample(round_, size, point, case.posterior.aside)
    target = charted_length(chart, size, point)
    if here is None or target is None:
        return None
    off = off_chart_limits(here, target, case.spreads[point], case.shop.risk)
    limit = chart_tolerance(case.shop, chart, point)
    return SizeOfLot(at, off, len(here.values), limit, answer_inside(off, limit))


def _holds(case: Case, size: str, point: str) -> Iterator[ChartPeriod]:
    before: float | None = None
    for chart, until in _reigns(case):
        target = charted_length(chart, size, point)
        if target is not None:
            moved = None if before is None else target - before
            yield ChartPeriod(chart.since, until, chart_tolerance(case.shop, chart, point), moved)
        before = target


def _apart(case: Case) -> Iterator[tuple[str, str]]:
    """Yield the points and lots that the case leaves out, for they run along another line."""
    if case.whole is None:
        return
    kept = {_name(round_): _points_of(round_) for round_ in rounds_and_deliveries(case.blank)}
    for round_ in rounds_and_deliveries(case.whole):
        for point in POINTS:
            if point in _points_of(round_) - kept.get(_name(round_), set()):
                yield point, round_.key


def _points_of(round_: Round) -> set[str]:
    return {point for piece in round_.pieces for point in piece.received}


def _decided(case: Case) -> Iterator[DatedDecision]:
    for round_ in case.blank.rounds:
        if made := round_.decision:
            yield DatedDecision(made.date, made.decision, made.by, False, round_.key)
    for came in case.blank.deliveries:
        if said := came.decision:
            yield DatedDecision(said.date, said.decision, said.by, True, came.key)
