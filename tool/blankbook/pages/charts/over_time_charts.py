"""What the charts of a blank over time show: a point of measure each, with a panel for each size.

A point is drawn where there is something to see: the shop decides by it, so it has limits and can
raise an alarm, or a lot was shown to be outside its tolerance. The tables have the other points: a
shop with a dozen of them would wait for drawings that say nothing.
The numbers come from `blankbook.results.over_lots.lots_over_time`; here they are only rounded and
named.
"""

from dataclasses import replace

from blankbook.pages.charts.chart_data import CHART_WIDTH, tolerance_of
from blankbook.pages.charts.drawn_history import (
    drawn_charts,
    drawn_panels,
    drawn_rows,
    first_day,
    left_out,
)
from blankbook.pages.charts.over_time_types import (
    AxisDays,
    DecisionLetter,
    LotStand,
    OverTimeData,
    SizeMark,
    SizePanel,
    Strip,
    StripData,
    ToleranceBand,
)
from blankbook.pages.charts.over_time_words import point_alt, strip_alt
from blankbook.pages.charts.panel_types import MeanLimits
from blankbook.pages.draw.axis_labels import chart_number, printable, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import point_name
from blankbook.records.model import Shop
from blankbook.results.methods.control_charts import ChartPoint
from blankbook.results.over_lots.lots_over_time import (
    ChartPeriod,
    LotsOverTime,
    PointOverTime,
    SizeOfLot,
    SizeOverTime,
)
from blankbook.words.answers import Answer

TIME_LEFT, TIME_RIGHT = 52, 6
"""Pixels beside the marks; the scale's words stand at the left."""
PANEL_GAP = 4
"""Pixels between two panels."""
_LEAST = 44
"""Pixels that a panel takes at least."""
HEAD, _BEGINS, UPPER, DATES, LANE = 22, 14, 84, 18, 16
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


def charts_by_point(
    found: LotsOverTime, key: str, shop: Shop
) -> dict[str, ChartSpec[OverTimeData]]:
    """Return the charts of the blank called *key*, by the point of measure that they show."""
    rows = [row for row in drawn_rows(found) if _is_drawn(found, row)]
    return {row.point: _chart(found, row, key, shop.unit) for row in rows}


def _is_drawn(found: LotsOverTime, row: PointOverTime) -> bool:
    """Say whether a point raises alarms, or has a lot that was shown to be outside."""
    marks = (mark for panel in row.panels for mark in panel.marks if mark.at >= left_out(found))
    return row.watched or any(mark.answer == Answer.FAILS for mark in marks)


def strip_chart(found: LotsOverTime, key: str, shop: Shop) -> ChartSpec[StripData] | None:
    """Return the blank in short: a strip for each point that raises alarms; None without any."""
    rows = [row for row in drawn_rows(found) if row.watched]
    if not rows:
        return None
    data = StripData(_days(found), tuple(_strip(found, row, shop.unit) for row in rows))
    alt = strip_alt(found, rows, shop.unit)
    height = STRIP * len(rows) + DATES
    return ChartSpec(f"charts/{key}.strip.svg", data, printable(alt), CHART_WIDTH, height)


STRIP = 40
"""Pixels of a strip."""


def _chart(found: LotsOverTime, row: PointOverTime, key: str, unit: str) -> ChartSpec[OverTimeData]:
    panels = drawn_panels(found, row)
    days = _days(found)
    new_charts = sum(day > 0 for day in days.charts)
    room = CHART_WIDTH - TIME_LEFT - TIME_RIGHT + PANEL_GAP
    events = len(days.lots) + new_charts
    # Each lot and each new chart takes seven pixels, so that neighbours can be told apart.
    most = max(room // (max(_LEAST, 7 * events + 2) + PANEL_GAP), 1)
    rows = -(-len(panels) // most)
    head = HEAD + _BEGINS if new_charts else HEAD
    data = OverTimeData(
        days=days,
        head=head,
        title=point_name(row.point),
        tolerance=tolerance_of(_newest(row), unit),
        bands=_bands(found, row.holds),
        stands=_stands(found, row),
        decided=tuple(
            DecisionLetter((decided.day - first_day(found)).days, DECISION_LETTERS[decided.word])
            for decided in found.decided
            if decided.day >= first_day(found)
        ),
        beside=min(most, -(-len(panels) // rows)) if rows else 0,
        panels=tuple(_panel(found, panel, marks) for panel, marks in panels),
    )
    height = head + UPPER + DATES + LANE + rows * (NAME + LOWER) + 8
    path = f"charts/{key}.time.{row.point}.svg"
    return ChartSpec(path, data, printable(point_alt(found, row, unit)), CHART_WIDTH, height)


def _days(found: LotsOverTime) -> AxisDays:
    """Return the days of the axis, counted from the first lot that is drawn."""
    begin, lots = first_day(found), found.lots[left_out(found) :]
    drawn = drawn_charts(found)
    charts = tuple((chart.since - begin).days for chart in drawn)
    days = tuple((lot.chart_day - begin).days for lot in lots)
    decided = [(decided.day - begin).days for decided in found.decided]
    return AxisDays(
        lots=days,
        charts=charts,
        names=tuple(chart.since.isoformat()[:7] for chart in drawn),
        dates=tuple(lot.chart_day.isoformat()[:7] for lot in lots),
        end=max([1, *days, *charts, *decided]),
    )


def _newest(row: PointOverTime) -> float:
    return row.holds[-1].allowed


def _bands(found: LotsOverTime, holds: tuple[ChartPeriod, ...]) -> tuple[ToleranceBand, ...]:
    """Return what is allowed under each chart, by its place among the charts."""
    places = {chart.since: n for n, chart in enumerate(drawn_charts(found))}
    return tuple(
        ToleranceBand(
            places[hold.since],
            chart_number(hold.allowed),
            None if not hold.moved else chart_number(-hold.moved),
        )
        for hold in holds
        if hold.since in places
    )


def _stands(found: LotsOverTime, row: PointOverTime) -> tuple[LotStand, ...]:
    first = left_out(found)
    return tuple(
        LotStand(
            at=stand.at - first,
            off=chart_number(stand.off),
            alarm=stand.on_chart.alarm,
            limits=_mean_limits(stand.on_chart.single),
            average=_mean_limits(stand.on_chart.average),
        )
        for stand in row.stands
        if stand.at >= first
    )


def _mean_limits(point: ChartPoint | None) -> MeanLimits | None:
    if point is None:
        return None
    return MeanLimits(chart_number(point.value), chart_number(point.low), chart_number(point.high))


def _panel(found: LotsOverTime, panel: SizeOverTime, marks: list[SizeOfLot]) -> SizePanel:
    first = left_out(found)
    return SizePanel(
        label=short_label(panel.size),
        bands=_bands(found, panel.holds),
        marks=tuple(
            SizeMark(mark.at - first, chart_number(mark.off.mean), mark.answer) for mark in marks
        ),
    )


def _strip(found: LotsOverTime, row: PointOverTime, unit: str) -> Strip:
    """Return a point in short: the lots and their alarms, without the limits."""
    return Strip(
        title=point_name(row.point),
        tolerance=tolerance_of(_newest(row), unit),
        bands=_bands(found, row.holds),
        stands=tuple(replace(stand, limits=None, average=None) for stand in _stands(found, row)),
    )
