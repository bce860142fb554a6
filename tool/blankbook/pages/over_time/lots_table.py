"""How far each round was from the chart it is judged by: the table beside the chart of lots."""

from dataclasses import dataclass

from blankbook.pages.charts.drawn_history import MOST_ROUNDS, newest_lots
from blankbook.pages.value_words import DASH, change_text, point_name, unit_words
from blankbook.records.model import Round
from blankbook.results.evidence import rounds_and_deliveries
from blankbook.results.number_words import say_list
from blankbook.results.result_types import Judged, Lot


@dataclass(frozen=True, slots=True)
class LotCell:
    """One round at one point: the mean over its pieces, and the least to the most of its sizes."""

    mean: str
    span: str


@dataclass(frozen=True, slots=True)
class LotRow:
    """One round against its chart."""

    date: str
    lot: str
    pieces: int
    alarm: str
    """The points at which it lies beyond the limits for lots."""
    cells: tuple[LotCell, ...]


@dataclass(frozen=True, slots=True)
class LotsTable:
    """Every round against its chart, a column for each deciding point."""

    unit: str
    points: tuple[str, ...]
    rows: tuple[LotRow, ...]
    older: int
    """Rounds that are not listed; the limits rest on them too."""


def lots_table(judged: Judged, unit: str) -> LotsTable | None:
    """Return every round's distance from its chart, newest first; None where there is one only."""
    found = {(lot.round.key, point): lot for point, lots in judged.lots.items() for lot in lots}
    points = [point for point, lots in judged.lots.items() if lots]
    keys = {key for key, _ in found}
    every = reversed(newest_lots(judged))
    rounds = [round_ for round_ in every if round_.key in keys]
    if len(rounds) < 2:
        return None
    return LotsTable(
        unit=unit_words(unit),
        points=tuple(point_name(point) for point in points),
        rows=tuple(
            LotRow(
                date=round_.date.isoformat(),
                lot=round_.lot,
                pieces=len(round_.pieces),
                alarm=say_list(_alarms(judged, round_)),
                cells=tuple(_cells(found.get((round_.key, p)), unit) for p in points),
            )
            for round_ in rounds
        ),
        older=max(len(rounds_and_deliveries(judged.case.blank)) - MOST_ROUNDS, 0),
    )


def _alarms(judged: Judged, round_: Round) -> list[str]:
    """Return the points at which this round's lot lies beyond the limits for lots."""
    return [point_name(r.point) for r in judged.of("lots") if round_.lot in r.alarms]


def _cells(lot: Lot | None, unit: str) -> LotCell:
    if lot is None:
        return LotCell(mean=DASH, span=DASH)
    offs = lot.by_size.values()
    ends = dict.fromkeys(change_text(mm, unit) for mm in (min(offs), max(offs)))
    return LotCell(mean=change_text(lot.off, unit), span=" to ".join(ends))
