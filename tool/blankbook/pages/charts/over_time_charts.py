"""What the charts of a blank over time show: a point of measure each, with a panel for each size.

Drawn is where there is something to see: a point that the shop decides by, which has limits and can
raise an alarm, and any other where a lot was shown to be outside the tolerance. The rest is read
from the tables: a shop with a dozen points would wait for drawings that say nothing.
The numbers come from `blankbook.results.over_lots.lots_over_time`; here they are only rounded and
named.
"""

import datetime

from blankbook.pages.charts.chart_data import CHART_WIDTH, Data
from blankbook.pages.charts.deviation_chart import tolerance_words
from blankbook.pages.draw.axis_labels import chart_number, printable, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.records.model import Chart, Shop
from blankbook.results.methods.control_charts import ChartPoint
from blankbook.results.over_lots.lots_over_time import (
    ChartPeriod,
    LotsOverTime,
    PointOverTime,
    SizeOfLot,
    SizeOverTime,
)
from blankbook.words.answers import Answer

MOST_LOTS = 20
"""Lots that are drawn, the newest: more cannot be told apart on a phone."""
FEWEST_LOTS = 2
"""With fewer lots of a size there is no panel: one lot is no trend."""
LEFT, RIGHT = 52, 6
"""Pixels beside the marks; the scale's words stand at the left."""
PANEL_GAP = 4
"""Pixels between two panels."""
LEAST = 44
"""Pixels that a panel takes at least."""
HEAD, BEGINS, UPPER, DATES, LANE = 22, 14, 84, 18, 16
"""Pixels of a point: its name, the names of new charts, the panel of all sizes, and below it the
dates and the decisions."""
NAME, LOWER = 18, 56
"""Pixels of a row of sizes: their names, and their marks."""
DECISION_LETTERS = {
    "approved": "A",
    "approved with conditions": "C",
    "hold": "H",
    "rejected": "R",
    "accepted": "A",
}
"""What stands on the axis for a decision."""


def charts_by_point(found: LotsOverTime, key: str, shop: Shop) -> dict[str, ChartSpec]:
    """Return the charts of the blank called *key*, by the point of measure that they show."""
    rows = [row for row in drawn_rows(found) if _is_drawn(found, row)]
    return {row.point: _chart(found, row, key, shop.unit) for row in rows}


def _is_drawn(found: LotsOverTime, row: PointOverTime) -> bool:
    """Say whether a point has a drawing: one that raises alarms, or was outside its tolerance."""
    marks = (mark for panel in row.panels for mark in panel.marks if mark.at >= left_out(found))
    return row.basis is not None or any(mark.answer == Answer.FAILS for mark in marks)


def strip_chart(found: LotsOverTime, key: str, shop: Shop) -> ChartSpec | None:
    """Return the blank in short: a strip for each point that raises alarms; None without any."""
    rows = [row for row in drawn_rows(found) if row.basis]
    if not rows:
        return None
    strips: list[Data] = [_strip(found, row, shop.unit) for row in rows]
    data: Data = {**_days(found), "strips": strips}
    told = "; ".join(_told_lots(found, row, shop.unit) for row in rows)
    alt = f"All sizes together against the chart, in {unit_words(shop.unit)}, lot by lot. {told}."
    height = STRIP * len(strips) + DATES
    return ChartSpec(f"charts/{key}.strip.svg", "strip", data, printable(alt), CHART_WIDTH, height)


STRIP = 40
"""Pixels of a strip."""


def left_out(found: LotsOverTime) -> int:
    """Return how many of the oldest lots are left out."""
    return max(len(found.lots) - MOST_LOTS, 0)


def drawn_rows(found: LotsOverTime) -> list[PointOverTime]:
    """Return the points that a lot which is drawn has readings of."""
    return [row for row in found.rows if any(stand.at >= left_out(found) for stand in row.stands)]


def drawn_panels(
    found: LotsOverTime, row: PointOverTime
) -> list[tuple[SizeOverTime, list[SizeOfLot]]]:
    """Return the sizes that are drawn, each with its lots."""
    first = left_out(found)
    marks = [(panel, [mark for mark in panel.marks if mark.at >= first]) for panel in row.panels]
    return [(panel, some) for panel, some in marks if len(some) >= FEWEST_LOTS]


def _chart(found: LotsOverTime, row: PointOverTime, key: str, unit: str) -> ChartSpec:
    panels = drawn_panels(found, row)
    days = _days(found)
    room = CHART_WIDTH - LEFT - RIGHT + PANEL_GAP
    events = len(days["lots"]) + sum(day > 0 for day in days["charts"])
    most = max(room // (max(LEAST, 7 * events + 2) + PANEL_GAP), 1)
    rows = -(-len(panels) // most)
    beside = min(most, -(-len(panels) // rows)) if rows else 0
    head = HEAD + BEGINS if any(day > 0 for day in days["charts"]) else HEAD
    data: Data = {
        **days,
        "head": head,
        "title": point_name(row.point),
        "tolerance": tolerance_words(_newest(row), unit),
        "bands": _bands(found, row.holds),
        "stands": _stands(found, row),
        "decided": [
            {"day": (decided.day - _begin(found)).days, "letter": DECISION_LETTERS[decided.word]}
            for decided in found.decided
            if decided.day >= _begin(found)
        ],
        "beside": beside,
        "panels": [_panel(found, panel, marks) for panel, marks in panels],
    }
    height = head + UPPER + DATES + LANE + rows * (NAME + LOWER) + 8
    path = f"charts/{key}.time.{row.point}.svg"
    return ChartSpec(
        path, "over_time", data, printable(_alt(found, row, unit)), CHART_WIDTH, height
    )


def _begin(found: LotsOverTime) -> datetime.date:
    return found.lots[left_out(found)].chart_day


def drawn_charts(found: LotsOverTime) -> list[Chart]:
    """Return the charts that hold on some day of the axis that is drawn."""
    charts, begin = found.charts, _begin(found)
    ends = [later.since for later in charts[1:]]
    return [chart for n, chart in enumerate(charts) if n >= len(ends) or ends[n] > begin]


def _days(found: LotsOverTime) -> Data:
    """Return the days of the axis, counted from the first lot that is drawn."""
    begin, lots = _begin(found), found.lots[left_out(found) :]
    held = drawn_charts(found)
    charts = [(chart.since - begin).days for chart in held]
    days = [(lot.chart_day - begin).days for lot in lots]
    decided = [(decided.day - begin).days for decided in found.decided]
    return {
        "lots": days,
        "charts": charts,
        "names": [chart.since.isoformat()[:7] for chart in held],
        "dates": [lot.chart_day.isoformat()[:7] for lot in lots],
        "end": max(*days, *charts, *decided, 1),
    }


def _newest(row: PointOverTime) -> float:
    return row.holds[-1].allowed


def _bands(found: LotsOverTime, holds: tuple[ChartPeriod, ...]) -> list[Data]:
    """Return what is allowed under each chart, by its place among the charts."""
    places = {chart.since: n for n, chart in enumerate(drawn_charts(found))}
    return [
        {
            "chart": places[hold.since],
            "allowed": chart_number(hold.allowed),
            "was": None if not hold.moved else chart_number(-hold.moved),
        }
        for hold in holds
        if hold.since in places
    ]


def _stands(found: LotsOverTime, row: PointOverTime) -> list[Data]:
    first = left_out(found)
    return [
        {
            "at": stand.at - first,
            "off": chart_number(stand.off),
            "limits": _ends(stand.single),
            "average": None if stand.average is None else chart_number(stand.average.value),
            "averages": _ends(stand.average),
            "alarm": stand.alarm,
        }
        for stand in row.stands
        if stand.at >= first
    ]


def _ends(point: ChartPoint | None) -> list[float] | None:
    return None if point is None else [chart_number(point.low), chart_number(point.high)]


def _panel(found: LotsOverTime, panel: SizeOverTime, marks: list[SizeOfLot]) -> Data:
    first = left_out(found)
    return {
        "label": short_label(panel.size),
        "bands": _bands(found, panel.holds),
        "marks": [
            {"at": mark.at - first, "off": chart_number(mark.off.mean), "answer": str(mark.answer)}
            for mark in marks
        ],
    }


def _strip(found: LotsOverTime, row: PointOverTime, unit: str) -> Data:
    stands = _stands(found, row)
    return {
        "title": point_name(row.point),
        "bands": _bands(found, row.holds),
        "stands": [
            {**stand, "limits": None, "average": None, "averages": None} for stand in stands
        ],
        "tolerance": tolerance_words(_newest(row), unit),
    }


def _alt(found: LotsOverTime, row: PointOverTime, unit: str) -> str:
    says = [
        f"{point_name(row.point)} against the chart in {unit_words(unit)}, over time. "
        f"All sizes together: {_told_lots(found, row, unit)}"
    ]
    says += [_told_size(found, panel, marks, unit) for panel, marks in drawn_panels(found, row)]
    begun = [c.since.isoformat() for c in found.charts if c.since > _begin(found)]
    says += [f"A new chart began on {', '.join(begun)}"] if begun else []
    return ". ".join(says) + "."


def _told_lots(found: LotsOverTime, row: PointOverTime, unit: str) -> str:
    shown = [stand for stand in row.stands if stand.at >= left_out(found)]
    offs = [(stand.off, stand.at) for stand in shown]
    ends = [min(offs), max(offs)]
    told = " to ".join(f"{change_text(off, unit)} ({_day(found, at)})" for off, at in ends)
    alarms = [_day(found, stand.at) for stand in shown if stand.alarm]
    if row.basis is None:
        return f"{point_name(row.point)} {told}"
    return f"{point_name(row.point)} {told}, alarm {', '.join(alarms) or 'none'}"


def _told_size(found: LotsOverTime, panel: SizeOverTime, marks: list[SizeOfLot], unit: str) -> str:
    first, last = marks[0], marks[-1]
    fails = [_day(found, mark.at) for mark in marks if mark.answer == Answer.FAILS]
    before, now = change_text(first.off.mean, unit), change_text(last.off.mean, unit)
    says = f"{panel.size} from {before} to {now}"
    return f"{says}, outside {', '.join(fails)}" if fails else says


def _day(found: LotsOverTime, at: int) -> str:
    return found.lots[at].chart_day.isoformat()
