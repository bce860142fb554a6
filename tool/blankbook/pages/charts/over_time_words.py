"""The text alternatives of the charts over time, from the same numbers."""

from collections.abc import Sequence

from blankbook.pages.charts.drawn_history import drawn_panels, first_day, left_out
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.over_lots.lots_over_time import (
    LotsOverTime,
    PointOverTime,
    SizeOfLot,
    SizeOverTime,
)
from blankbook.words.answers import Answer


def strip_alt(found: LotsOverTime, rows: Sequence[PointOverTime], unit: str) -> str:
    """Return what the strips of *rows* show, point by point."""
    by_point = "; ".join(_lots_words(found, row, unit) for row in rows)
    return f"All sizes together against the chart, in {unit_words(unit)}, lot by lot. {by_point}."


def point_alt(found: LotsOverTime, row: PointOverTime, unit: str) -> str:
    """Return what the chart of one point shows: all sizes together, then each."""
    says = [
        f"{point_name(row.point)} against the chart in {unit_words(unit)}, over time. "
        f"All sizes together: {_lots_words(found, row, unit)}"
    ]
    says += [_size_words(found, panel, marks, unit) for panel, marks in drawn_panels(found, row)]
    begun = [c.since.isoformat() for c in found.charts if c.since > first_day(found)]
    says += [f"A new chart began on {', '.join(begun)}"] if begun else []
    return ". ".join(says) + "."


def _lots_words(found: LotsOverTime, row: PointOverTime, unit: str) -> str:
    """Return the least and the most that a lot was off, and the days of the alarms."""
    shown = [stand for stand in row.stands if stand.at >= left_out(found)]
    offs = [(stand.off, stand.at) for stand in shown]
    ends = [min(offs), max(offs)]
    span = " to ".join(f"{change_text(off, unit)} ({_day(found, at)})" for off, at in ends)
    alarms = [_day(found, stand.at) for stand in shown if stand.on_chart.alarm]
    if not row.watched:
        return f"{point_name(row.point)} {span}"
    return f"{point_name(row.point)} {span}, alarm {', '.join(alarms) or 'none'}"


def _size_words(found: LotsOverTime, panel: SizeOverTime, marks: list[SizeOfLot], unit: str) -> str:
    first, last = marks[0], marks[-1]
    fails = [_day(found, mark.at) for mark in marks if mark.answer == Answer.FAILS]
    before, now = change_text(first.off.mean, unit), change_text(last.off.mean, unit)
    says = f"{panel.size} from {before} to {now}"
    return f"{says}, outside {', '.join(fails)}" if fails else says


def _day(found: LotsOverTime, at: int) -> str:
    return found.lots[at].chart_day.isoformat()
