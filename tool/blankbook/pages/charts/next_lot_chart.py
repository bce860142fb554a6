"""What the chart of the next lot shows: the lots so far, and where the next one may lie."""

from blankbook.pages.charts.chart_data import Data, blank_chart, shop_unit, with_limits
from blankbook.pages.charts.deviation_chart import tolerance_words
from blankbook.pages.draw.axis_labels import chart_number
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.evidence import chart_for, tolerance
from blankbook.results.over_lots.lot_history import lots_of
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result

LANES = 92
"""Pixels of a point: its name, the two rows of marks, and the scale."""


def next_lot_chart(judged: Judged) -> ChartSpec | None:
    """Return, for each deciding point, the lots so far and the next one with its limits.

    None where nothing can be said of the next lot.
    """
    results = [result for result in judged.of("lots") if result.number(Quantity.NEXT_LOT)]
    if not results:
        return None
    data: Data = {"panels": [_panel(judged, result) for result in results]}
    return blank_chart(judged, "next_lot", data, _alt(judged, results), LANES * len(results))


def _panel(judged: Judged, result: Result) -> Data:
    lots = lots_of(judged.case, result.point)
    ahead = result.number(Quantity.NEXT_LOT)
    assert ahead
    held = chart_for(judged.case, lots[-1].round)
    return {
        "title": point_name(result.point),
        "tolerance": tolerance_words(tolerance(judged.case, held, result.point), shop_unit(judged)),
        "lots": [chart_number(lot.off) for lot in lots],
        "next": with_limits(ahead),
    }


def _alt(judged: Judged, results: list[Result]) -> str:
    told = "; ".join(_told(judged, result) for result in results)
    return (
        f"Where the next lot may lie against the chart, in {unit_words(shop_unit(judged))}, "
        f"beside the lots so far: {told}."
    )


def _told(judged: Judged, result: Result) -> str:
    unit, data = shop_unit(judged), _panel(judged, result)
    seen = ", ".join(change_text(off, unit) for off in data["lots"])
    ahead = data["next"]
    low, high = change_text(ahead["low"], unit), change_text(ahead["high"], unit)
    return (
        f"{data['title']} so far {seen}, next {change_text(ahead['mean'], unit)} "
        f"({low} to {high}), allowed {data['tolerance']['both']}"
    )
