"""What the chart of the next lot shows: the lots so far, and where the next one may lie."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import (
    blank_chart,
    mean_limits,
    shop_unit,
    tolerance_of,
    unit_title,
)
from blankbook.pages.charts.chart_types import NextLotData, NextLotPanel
from blankbook.pages.charts.drawn_history import MOST_ROUNDS
from blankbook.pages.draw.axis_labels import chart_number
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, unit_words
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged

LANES = 92
"""Pixels of a point: its name, the two rows of marks, and the scale."""


def next_lot_chart(judged: Judged) -> ChartSpec[NextLotData] | None:
    """Return, for each deciding point, the lots so far and the next one with its limits.

    None where nothing can be said of the next lot.
    """
    unit, lots = shop_unit(judged), judged.lots
    panels = [
        NextLotPanel(
            title=unit_title(judged, result.point),
            tolerance=tolerance_of(lots[result.point][-1].allowed, unit),
            lots=tuple(chart_number(lot.off) for lot in lots[result.point][-MOST_ROUNDS:]),
            next=mean_limits(ahead),
        )
        for result in judged.of("lots")
        if (ahead := result.number(Quantity.NEXT_LOT))
    ]
    if not panels:
        return None
    data = NextLotData(tuple(panels))
    return blank_chart(judged, "next_lot", data, _alt(panels, unit), LANES * len(panels))


def _alt(panels: Sequence[NextLotPanel], unit: str) -> str:
    by_point = "; ".join(_panel_words(panel, unit) for panel in panels)
    return (
        f"Where the next lot may lie against the chart, in {unit_words(unit)}, "
        f"beside the lots so far: {by_point}."
    )


def _panel_words(panel: NextLotPanel, unit: str) -> str:
    seen = ", ".join(change_text(off, unit) for off in panel.lots)
    low, high = change_text(panel.next.low, unit), change_text(panel.next.high, unit)
    return (
        f"{panel.title.partition(',')[0]} so far {seen}, next {change_text(panel.next.mean, unit)} "
        f"({low} to {high}), allowed {panel.tolerance.both}"
    )
