"""What the chart of one lot after the other shows."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import (
    FOOT_HEIGHT,
    PLOT_HEIGHT,
    TITLE_HEIGHT,
    blank_chart,
    shop_unit,
    tolerance_of,
    unit_title,
)
from blankbook.pages.charts.chart_types import LotMark, LotsData, LotsPanel, LotsSize
from blankbook.pages.charts.drawn_history import newest_lots
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, unit_words
from blankbook.records.model import Round
from blankbook.results.evidence import chart_for, tolerance
from blankbook.results.result_types import Judged, Lot

LINE = 14
"""Pixels between the names of the sizes at the right."""


def lots_chart(judged: Judged) -> ChartSpec[LotsData] | None:
    """Return how far each lot was from its chart, by size, a panel for each deciding point.

    None where fewer than two rounds can be compared.
    """
    rounds, lots = newest_lots(judged), judged.lots
    if len({lot.round.source.path for at_point in lots.values() for lot in at_point}) < 2:
        return None
    panels = [
        _panel(judged, rounds, point, at_point) for point, at_point in lots.items() if at_point
    ]
    plot = max(PLOT_HEIGHT, LINE * max(len(panel.sizes) for panel in panels))
    data = LotsData(
        plot=plot,
        days=tuple((round_.date - rounds[0].date).days for round_ in rounds),
        dates=tuple(round_.date.isoformat()[:7] for round_ in rounds),
        panels=tuple(panels),
    )
    height = len(panels) * (TITLE_HEIGHT + plot + FOOT_HEIGHT)
    return blank_chart(judged, "lots", data, _alt(judged, rounds, panels), height)


def _panel(judged: Judged, rounds: Sequence[Round], point: str, lots: Sequence[Lot]) -> LotsPanel:
    """Return one point, with the tolerance of the chart that the newest round is judged by."""
    chart, unit = chart_for(judged.case, rounds[-1]), shop_unit(judged)
    return LotsPanel(
        title=unit_title(judged, point),
        tolerance=tolerance_of(tolerance(judged.case, chart, point), unit),
        sizes=_sizes(judged, rounds, lots),
    )


def _sizes(judged: Judged, rounds: Sequence[Round], lots: Sequence[Lot]) -> tuple[LotsSize, ...]:
    """Return the sizes that were ever compared, each with its places and distances."""
    places = {round_.source.path: place for place, round_ in enumerate(rounds)}
    found = []
    for size in judged.blank.style.sizes:
        marks = tuple(
            LotMark(places[lot.round.source.path], chart_number(lot.by_size[size]))
            for lot in lots
            if size in lot.by_size and lot.round.source.path in places
        )
        if marks:
            found.append(LotsSize(short_label(size), marks))
    return tuple(found)


def _alt(judged: Judged, rounds: Sequence[Round], panels: Sequence[LotsPanel]) -> str:
    unit = shop_unit(judged)
    told = [
        f"{panel.title.partition(',')[0]}: {_extremes(panel, rounds, unit)}" for panel in panels
    ]
    return (
        f"Distance from the chart in {unit_words(unit)} over {len(rounds)} rounds, "
        f"least to most of the sizes. {'. '.join(told)}."
    )


def _extremes(panel: LotsPanel, rounds: Sequence[Round], unit: str) -> str:
    """Return the extremes of every round, each with its size."""
    spans = []
    for place, round_ in enumerate(rounds):
        offs = [(m.off, size.label) for size in panel.sizes for m in size.marks if m.at == place]
        if offs:
            ends = [min(offs), max(offs)] if len(offs) > 1 else offs
            span = " to ".join(f"{change_text(mm, unit)} ({size})" for mm, size in ends)
            spans.append(f"{round_.date.isoformat()} {span}")
    return "; ".join(spans)


def day_places(days: Sequence[int], left: float, right: float) -> list[float]:
    """Return the places of the days, to scale; rounds of one day lie on one place, the middle.

    >>> day_places([0, 1, 400], 0.0, 200.0)
    [0.0, 0.5, 200.0]
    """
    span = days[-1] - days[0] if days else 0
    if not span:
        return [(left + right) / 2] * len(days)
    return [left + (right - left) * (day - days[0]) / span for day in days]
