"""All lots of a blank on one axis of time: each size's distance from the chart that held for it.

A lot stands at the day it was bought, else at the day it was measured: that is the day whose chart
it is judged by. So whatever holds at a place of the axis is what the lot there was held to.
"""

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from blankbook.records.model import Chart, Round
from blankbook.results.checks.size_against_chart import answer_inside, off_chart_limits
from blankbook.results.evidence import (
    chart_for,
    chart_tolerance,
    charted_length,
    rounds_and_deliveries,
    size_sample,
)
from blankbook.results.limits import Limits
from blankbook.results.methods.control_charts import Basis, Point
from blankbook.results.over_lots.lot_history import Lot, Watch, lots_of, watch
from blankbook.results.result_types import Case
from blankbook.words.answers import Answer
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class Mark:
    """One size of one lot at one point."""

    at: int
    """The lot's place on the axis, from 0."""
    off: Limits
    """The mean's distance from the chart that held for the lot, millimetres; + is larger."""
    pieces: int
    allowed: float
    """The tolerance of that chart, millimetres."""
    answer: Answer


@dataclass(frozen=True, slots=True)
class Hold:
    """What one chart of the supplier asks of a size at a point, from its date until the next."""

    since: datetime.date
    until: datetime.date | None
    """The day from which another chart holds; None where none does yet."""
    allowed: float
    """Millimetres to either side."""
    moved: float | None = None
    """How far it lies from the chart before it, millimetres; None where that one had no such cell.
    What was as charted before is that much under the chart now."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One size at one point: its lots, and what they are held to."""

    size: str
    marks: tuple[Mark, ...]
    """In the order of the axis; one for each lot that has readings of it."""
    holds: tuple[Hold, ...]


@dataclass(frozen=True, slots=True)
class Stand:
    """One lot at one point, all its pieces together, beside the limits for lots."""

    at: int
    off: float
    """Millimetres."""
    pieces: int
    single: Point | None = None
    """The lot with its limits; None at a point that raises no alarm."""
    average: Point | None = None
    """The moving average with its limits; None, too, for a lot beyond its own limits."""

    @property
    def alarm(self) -> bool:
        """Whether the lot or the average lies beyond its limits."""
        return any(
            point is not None and point.signal is not None for point in (self.single, self.average)
        )


@dataclass(frozen=True, slots=True)
class Row:
    """One point of measure over time."""

    point: str
    stands: tuple[Stand, ...]
    """In the order of the axis."""
    basis: Basis | None
    """Where the limits for lots come from; None at a point that raises no alarm."""
    holds: tuple[Hold, ...]
    """The tolerance at this point, whatever the size."""
    panels: tuple[Panel, ...]
    """Smallest size first; those without readings are left out."""


@dataclass(frozen=True, slots=True)
class Decided:
    """What a person decided on a round or on a delivery."""

    day: datetime.date
    word: str
    by: str
    delivery: bool
    of: str
    """The key of the round or delivery."""


@dataclass(frozen=True, slots=True)
class OverTime:
    """A blank over time."""

    lots: tuple[Round, ...]
    """In the order of the axis: by the day they were bought, else measured."""
    held_by: tuple[datetime.date | None, ...]
    """For each lot, from when the chart held that it is judged by."""
    rows: tuple[Row, ...]
    """The points that two or more lots have readings of, in their usual order."""
    alone: tuple[str, ...]
    """The points that one lot only has readings of."""
    apart: tuple[tuple[str, str], ...]
    """Points with a lot that measured them along another line than the newest, and is left out
    there: the point, and the lot's key."""
    decided: tuple[Decided, ...]
    """In the order of their days."""
    charts: tuple[Chart, ...]
    """Those that held on some day between the first lot and the last, and all that came later."""

    @property
    def out_of_turn(self) -> bool:
        """Whether the lots were measured in another order than they were bought in."""
        days = [round_.date for round_ in self.lots]
        return days != sorted(days)


def has_history(case: Case) -> bool:
    """Say whether two or more lots can be held against a chart, whatever the point."""
    held = (round_ for round_ in rounds_and_deliveries(case.blank) if _is_charted(case, round_))
    return len({_name(round_) for round_ in held}) > 1


def _is_charted(case: Case, round_: Round) -> bool:
    chart = chart_for(case, round_)
    return chart is not None and any(
        charted_length(chart, piece.size, point) is not None
        for piece in round_.pieces
        for point in piece.received
    )


def over_time(case: Case) -> OverTime | None:
    """Return the lots of a blank over time; None with fewer than two that a chart speaks of."""
    if not has_history(case):
        return None
    found = {point: held for point in POINTS if (held := lots_of(case, point))}
    keys = {_name(lot.round) for held in found.values() for lot in held}
    lots = sorted((o for o in rounds_and_deliveries(case.blank) if _name(o) in keys), key=_turn)
    places = {_name(round_): at for at, round_ in enumerate(lots)}
    first = lots[0].chart_day
    return OverTime(
        tuple(lots),
        tuple(chart.since if (chart := chart_for(case, round_)) else None for round_ in lots),
        tuple(_row(case, p, of, places) for p, of in found.items() if len(of) > 1),
        tuple(point for point, of in found.items() if len(of) == 1),
        tuple(_apart(case)),
        tuple(sorted(_decided(case), key=lambda decision: (decision.day, decision.of))),
        tuple(c for c, until in _reigns(case) if until is None or until > first),
    )


def _name(round_: Round) -> str:
    """Return the one name of a round or a delivery: the path of its file."""
    return round_.source.path


def _turn(round_: Round) -> tuple[datetime.date, datetime.date, str]:
    return round_.chart_day, round_.date, round_.key


def _reigns(case: Case) -> Iterator[tuple[Chart, datetime.date | None]]:
    """Yield every chart with the day from which it holds no more."""
    charts = case.blank.style.charts
    ends = [*(later.since for later in charts[1:]), None]
    yield from zip(charts, ends, strict=False)


def _row(case: Case, point: str, lots: list[Lot], places: dict[str, int]) -> Row:
    seen = watch(case, point, lots) if point in case.shop.deciding_points else None
    stands = [_stand(places, lot, place, seen) for place, lot in enumerate(lots)]
    panels = (_panel(case, size, point, lots, places) for size in case.blank.style.sizes)
    return Row(
        point,
        tuple(sorted(stands, key=lambda stand: stand.at)),
        seen.single.basis if seen else None,
        tuple(
            Hold(chart.since, until, chart_tolerance(case.shop, chart, point))
            for chart, until in _reigns(case)
            if any(point in row for row in chart.sizes.values())
        ),
        tuple(panel for panel in panels if panel.marks),
    )


def _stand(places: dict[str, int], lot: Lot, place: int, seen: Watch | None) -> Stand:
    single = average = None
    if seen:
        single = seen.single.points[place]
        if place in seen.kept:
            average = seen.average.points[seen.kept.index(place)]
    return Stand(places[_name(lot.round)], lot.off, lot.pieces, single, average)


def _panel(case: Case, size: str, point: str, lots: list[Lot], places: dict[str, int]) -> Panel:
    made = (_mark(case, lot.round, size, point, places[_name(lot.round)]) for lot in lots)
    marks = sorted((mark for mark in made if mark), key=lambda mark: mark.at)
    return Panel(size, tuple(marks), tuple(_holds(case, size, point)))


def _mark(case: Case, round_: Round, size: str, point: str, at: int) -> Mark | None:
    """Return a size of a lot against the chart that held for it, as the check of sizes judges."""
    chart, here = chart_for(case, round_), size_sample(round_, size, point)
    target = charted_length(chart, size, point)
    if here is None or target is None:
        return None
    off = off_chart_limits(here, target, case.spreads[point], case.shop.risk)
    limit = chart_tolerance(case.shop, chart, point)
    return Mark(at, off, len(here.values), limit, answer_inside(off, limit))


def _holds(case: Case, size: str, point: str) -> Iterator[Hold]:
    before: float | None = None
    for chart, until in _reigns(case):
        target = charted_length(chart, size, point)
        if target is not None:
            moved = None if before is None else target - before
            yield Hold(chart.since, until, chart_tolerance(case.shop, chart, point), moved)
        before = target


def _apart(case: Case) -> Iterator[tuple[str, str]]:
    """Yield what was read along another line, and so is not in the case."""
    if case.whole is None:
        return
    kept = {_name(round_): _points_of(round_) for round_ in rounds_and_deliveries(case.blank)}
    for round_ in rounds_and_deliveries(case.whole):
        for point in POINTS:
            if point in _points_of(round_) - kept.get(_name(round_), set()):
                yield point, round_.key


def _points_of(round_: Round) -> set[str]:
    return {point for piece in round_.pieces for point in piece.received}


def _decided(case: Case) -> Iterator[Decided]:
    for round_ in case.blank.rounds:
        if made := round_.decision:
            yield Decided(made.date, made.decision, made.by, False, round_.key)
    for came in case.blank.deliveries:
        if said := came.decision:
            yield Decided(said.date, said.decision, said.by, True, came.key)
