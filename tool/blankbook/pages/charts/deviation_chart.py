"""What the chart of the distances from the size chart shows."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import (
    PANEL_HEIGHT,
    blank_chart,
    is_outside,
    joined_labels,
    mean_limits,
    shop_unit,
    tolerance_of,
)
from blankbook.pages.charts.chart_types import DeviationData, DeviationPanel
from blankbook.pages.charts.panel_types import Column
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.points import POINTS


def deviation_chart(judged: Judged) -> ChartSpec[DeviationData] | None:
    """Return every piece's distance from the chart, a panel for each point.

    None where nothing was measured that a chart speaks of.
    """
    results = [r for r in judged.of("size_against_chart") if r.number(Quantity.OFF_THE_CHART)]
    if not results:
        return None
    found = {result.size for result in results}
    sizes = [size for size in judged.blank.style.sizes if size in found]
    points = [p for p in POINTS if any(r.point == p for r in results)]
    panels = [_panel(judged, sizes, [r for r in results if r.point == point]) for point in points]
    data = DeviationData(tuple(panels))
    return blank_chart(judged, "deviation", data, _alt(judged, results), len(panels) * PANEL_HEIGHT)


def _panel(judged: Judged, sizes: Sequence[str], results: Sequence[Result]) -> DeviationPanel:
    """Return the panel of one point, with a column for each of *sizes*."""
    by_size = {result.size: result for result in results}
    missing = [size for size in judged.blank.style.sizes if size not in by_size]
    allowed = max(n.value for r in results if (n := r.number(Quantity.TOLERANCE)))
    return DeviationPanel(
        title=point_name(results[0].point),
        tolerance=tolerance_of(allowed, shop_unit(judged)),
        missing=f"not measured: {joined_labels(missing)}" if missing else "",
        columns=tuple(_column(by_size[s]) if s in by_size else None for s in sizes),
    )


def _column(result: Result) -> Column | None:
    """Return one size: each piece, and their mean against the chart."""
    off, allowed = result.number(Quantity.OFF_THE_CHART), result.number(Quantity.TOLERANCE)
    if not (off and allowed):
        return None
    return Column(
        label=short_label(result.size),
        foot=f"n {len(result.piece_values)}",
        mean=mean_limits(off),
        fails=is_outside(result),
        pieces=tuple(chart_number(value) for value in result.piece_values),
        allowed=chart_number(allowed.value),
    )


def _alt(judged: Judged, results: Sequence[Result]) -> str:
    """Return the extremes, what is shown to be outside, and what was not measured."""
    unit = shop_unit(judged)
    offs = [(number.value, r) for r in results if (number := r.number(Quantity.OFF_THE_CHART))]
    (low, least), (high, most) = min(offs, key=_value), max(offs, key=_value)
    outside = [f"{r.size} {point_name(r.point)}" for r in results if is_outside(r)]
    readings = say_counted(sum(len(result.piece_values) for result in results), "reading")
    says = [
        f"Distance from the chart in {unit_words(unit)}, {len(offs)} means of "
        f"{readings}: from {change_text(low, unit)} "
        f"({least.size} {point_name(least.point)}) to {change_text(high, unit)} "
        f"({most.size} {point_name(most.point)})"
    ]
    says.append(f"Shown outside the tolerance: {say_list(outside) or 'none'}")
    missing = [r for r in judged.of("size_against_chart") if not r.numbers]
    sizes = [s for s in judged.blank.style.sizes if s not in {r.size for r in results}]
    says += [f"Not measured: {say_list(sizes)}"] if missing and sizes else []
    return ". ".join(says) + "."


def _value(off: tuple[float, Result]) -> float:
    return off[0]
