"""What the chart of the distances from the size chart shows."""

from blankbook.pages.charts.chart_data import (
    PANEL,
    Data,
    blank_chart,
    is_outside,
    joined_labels,
    shop_unit,
    with_limits,
)
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.evidence import measured_points, newest_sample
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result


def deviation_chart(judged: Judged) -> ChartSpec | None:
    """Return every piece's distance from the chart, a panel for each point."""
    results = [r for r in judged.of("size_against_chart") if r.number(Quantity.OFF_THE_CHART)]
    found = {result.size for result in results}
    sizes = [size for size in judged.blank.style.sizes if size in found]
    points = [p for p in measured_points(judged.case) if any(r.point == p for r in results)]
    if not points:
        return None
    panels = [_panel(judged, sizes, [r for r in results if r.point == point]) for point in points]
    data: Data = {"sizes": [short_label(size) for size in sizes], "panels": panels}
    return blank_chart(judged, "deviation", data, _alt(judged, results), len(panels) * PANEL)


def tolerance_words(mm: float, unit: str) -> Data:
    """Return how far from the chart is allowed, and the three ways to write it beside a scale."""
    words = change_text(mm, unit)
    return {
        "mm": chart_number(mm),
        "above": words,
        "below": change_text(-mm, unit),
        "both": f"±{words.removeprefix('+')}",
    }


def _panel(judged: Judged, sizes: list[str], results: list[Result]) -> Data:
    by_size = {result.size: result for result in results}
    columns = [_column(judged, by_size[s]) if s in by_size else None for s in sizes]
    missing = [size for size in judged.blank.style.sizes if size not in by_size]
    allowed = max(n.value for r in results if (n := r.number(Quantity.TOLERANCE)))
    return {
        "title": point_name(results[0].point),
        "tolerance": tolerance_words(allowed, shop_unit(judged)),
        "missing": f"not measured: {joined_labels(missing)}" if missing else "",
        "columns": columns,
    }


def _column(judged: Judged, result: Result) -> Data | None:
    off, target = result.number(Quantity.OFF_THE_CHART), result.number(Quantity.CHART)
    here = newest_sample(judged.case, result.size, result.point)
    allowed = result.number(Quantity.TOLERANCE)
    if not (off and target and here and allowed):
        return None
    return {
        **with_limits(off),
        "dots": [chart_number(value - target.value) for value in here.values],
        "allowed": chart_number(allowed.value),
        "fails": is_outside(result),
        "foot": f"n {len(here.values)}",
    }


def _alt(judged: Judged, results: list[Result]) -> str:
    unit = shop_unit(judged)
    offs = [(number.value, r) for r in results if (number := r.number(Quantity.OFF_THE_CHART))]
    (low, least), (high, most) = min(offs, key=_first), max(offs, key=_first)
    outside = [f"{r.size} {point_name(r.point)}" for r in results if is_outside(r)]
    pieces = sum(round(n.value) for r in results if (n := r.number(Quantity.PIECES)))
    says = [
        f"Distance from the chart in {unit_words(unit)}, {len(offs)} means of "
        f"{say_counted(pieces, 'reading')}: from {change_text(low, unit)} "
        f"({least.size} {point_name(least.point)}) to {change_text(high, unit)} "
        f"({most.size} {point_name(most.point)})"
    ]
    says.append(f"Shown outside the tolerance: {say_list(outside) or 'none'}")
    missing = [r for r in judged.of("size_against_chart") if not r.numbers]
    sizes = [s for s in judged.blank.style.sizes if s not in {r.size for r in results}]
    says += [f"Not measured: {say_list(sizes)}"] if missing and sizes else []
    return ". ".join(says) + "."


def _first(pair: tuple[float, Result]) -> float:
    return pair[0]
