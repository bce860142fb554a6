"""What the chart of one lot after the other shows."""

from itertools import pairwise

from blankbook.pages.charts.chart_data import (
    FOOT,
    PLOT,
    TITLE,
    Data,
    blank_chart,
    shop_unit,
)
from blankbook.pages.charts.deviation_chart import tolerance_words
from blankbook.pages.draw.axis_labels import chart_number, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.records.model import Round
from blankbook.results.evidence import (
    chart_for,
    charted_length,
    rounds_and_deliveries,
    size_sample,
    tolerance,
)
from blankbook.results.result_types import Judged

LINE = 14
"""Pixels between the names of the sizes at the right."""


def lots_chart(judged: Judged) -> ChartSpec | None:
    """Return how far each lot was from its chart, by size, a panel for each deciding point.

    None where fewer than two rounds can be compared.
    """
    rounds = rounds_and_deliveries(judged.case.blank)
    drawn = [_series(judged, rounds, point) for point in judged.case.shop.deciding_points]
    places = sorted({mark[0] for panel in drawn for size in panel for mark in size["marks"]})
    if len(places) < 2:
        return None
    plot = max(PLOT, LINE * max(len(panel) for panel in drawn))
    panels = [
        {"title": point_name(point), "tolerance": _allowed(judged, rounds, point), "sizes": sizes}
        for point, sizes in zip(judged.case.shop.deciding_points, drawn, strict=True)
        if sizes
    ]
    data: Data = {
        "plot": plot,
        "days": [(round_.date - rounds[0].date).days for round_ in rounds],
        "dates": [round_.date.isoformat()[:7] for round_ in rounds],
        "panels": panels,
    }
    height = len(panels) * (TITLE + plot + FOOT)
    return blank_chart(judged, "lots", data, _alt(judged, rounds, panels), height)


def _series(judged: Judged, rounds: list[Round], point: str) -> list[Data]:
    """Return the sizes that were ever compared, each with its places and distances."""
    found: list[Data] = []
    for size in judged.blank.style.sizes:
        marks = []
        for place, round_ in enumerate(rounds):
            here = size_sample(round_, size, point)
            target = charted_length(chart_for(judged.case, round_), size, point)
            if here and target is not None:
                marks.append([place, chart_number(here.mean - target)])
        if marks:
            found.append({"label": short_label(size), "marks": marks})
    return found


def _allowed(judged: Judged, rounds: list[Round], point: str) -> Data:
    """Return the tolerance of the chart that holds for the newest round."""
    held = chart_for(judged.case, rounds[-1])
    return tolerance_words(tolerance(judged.case, held, point), shop_unit(judged))


def _alt(judged: Judged, rounds: list[Round], panels: list[Data]) -> str:
    unit = shop_unit(judged)
    told = [f"{panel['title']}: {_told(panel, rounds, unit)}" for panel in panels]
    return (
        f"Distance from the chart in {unit_words(unit)} over {len(rounds)} rounds, "
        f"least to most of the sizes. {'. '.join(told)}."
    )


def _told(panel: Data, rounds: list[Round], unit: str) -> str:
    """Return the extremes of every round, each with its size."""
    spans = []
    for place, round_ in enumerate(rounds):
        offs = [(off, s["label"]) for s in panel["sizes"] for at, off in s["marks"] if at == place]
        if offs:
            ends = [min(offs), max(offs)] if len(offs) > 1 else offs
            span = " to ".join(f"{change_text(mm, unit)} ({size})" for mm, size in ends)
            spans.append(f"{round_.date.isoformat()} {span}")
    return "; ".join(spans)


def day_places(days: list[int], left: float, right: float, gap: float) -> list[float]:
    """Return where the dates go: to scale where they lie far enough apart, else evenly."""
    if len(days) < 2 or days[-1] == days[0]:
        wide = (right - left) / max(len(days) - 1, 1)
        return [left + wide * place for place in range(len(days))]
    scale = (right - left) / (days[-1] - days[0])
    places = [left + scale * (day - days[0]) for day in days]
    if min(b - a for a, b in pairwise(places)) >= gap:
        return places
    wide = (right - left) / (len(days) - 1)
    return [left + wide * place for place in range(len(days))]
