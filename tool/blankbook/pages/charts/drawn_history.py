"""Which lots, points, sizes and charts of a blank's history are drawn: those of the newest lots."""

import datetime

from blankbook.records.model import Chart, Round
from blankbook.results.evidence import rounds_and_deliveries
from blankbook.results.over_lots.lots_over_time import (
    LotsOverTime,
    PointOverTime,
    SizeOfLot,
    SizeOverTime,
)
from blankbook.results.result_types import Judged

MOST_LOTS = 20
"""Lots that are drawn, the newest: more cannot be told apart on a phone."""
MOST_ROUNDS = 60
"""Rounds that the chart of lots draws and its table lists, the newest."""
FEWEST_LOTS = 2
"""With fewer lots of a size there is no panel: one lot is no trend."""


def newest_lots(judged: Judged) -> list[Round]:
    """Return the rounds and measured deliveries that are drawn, the newest, the oldest first."""
    return list(rounds_and_deliveries(judged.case.blank))[-MOST_ROUNDS:]


def left_out(found: LotsOverTime) -> int:
    """Return how many of the oldest lots are left out."""
    return max(len(found.lots) - MOST_LOTS, 0)


def drawn_rows(found: LotsOverTime) -> list[PointOverTime]:
    """Return the points at which a drawn lot has readings."""
    return [row for row in found.rows if any(stand.at >= left_out(found) for stand in row.stands)]


def drawn_panels(
    found: LotsOverTime, row: PointOverTime
) -> list[tuple[SizeOverTime, list[SizeOfLot]]]:
    """Return the sizes that are drawn, each with its lots."""
    first = left_out(found)
    marks = [(panel, [mark for mark in panel.marks if mark.at >= first]) for panel in row.panels]
    return [(panel, some) for panel, some in marks if len(some) >= FEWEST_LOTS]


def first_day(found: LotsOverTime) -> datetime.date:
    """Return the day of the first lot that is drawn."""
    return found.lots[left_out(found)].chart_day


def drawn_charts(found: LotsOverTime) -> list[Chart]:
    """Return the charts that hold on some day of the axis that is drawn."""
    charts, begin = found.charts, first_day(found)
    ends = [later.since for later in charts[1:]]
    return [chart for n, chart in enumerate(charts) if n >= len(ends) or ends[n] > begin]
