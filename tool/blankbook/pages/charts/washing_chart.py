"""What the chart of the washing shows."""

from blankbook.pages.charts.chart_data import (
    PANEL,
    Data,
    blank_chart,
    is_outside,
    piece_count,
    with_limits,
)
from blankbook.pages.draw.axis_labels import chart_number, ticks
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import point_name
from blankbook.records.model import Round
from blankbook.results.checks.washing import piece_changes, washed_round
from blankbook.results.comparable_lines import with_all_lines
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result

PERCENT_TICKS = (1.0, 2.0, 5.0, 10.0, 20.0)
"""Percent between the marks of a scale, the finest first."""


def washing_chart(judged: Judged) -> ChartSpec | None:
    """Return the change of every piece after washing, a panel for each point."""
    results = [r for r in judged.of("washing") if r.number(Quantity.CHANGE)]
    round_ = washed_round(with_all_lines(judged.case))
    if not results or round_ is None:
        return None
    points = list(dict.fromkeys(result.point for result in results))
    panels = [_panel(round_, [r for r in results if r.point == point]) for point in points]
    data: Data = {"panels": panels}
    return blank_chart(judged, "washing", data, _alt(round_, results), len(panels) * PANEL)


def _panel(round_: Round, results: list[Result]) -> Data:
    columns = [_column(round_, result) for result in results]
    limit = max(number.value for r in results if (number := r.number(Quantity.LIMIT)))
    ends = [v for c in columns for v in (*c["dots"], c["low"], c["high"])]
    low, high = min(-limit, *ends), max(0.0, *ends)
    room = max(0.06 * (high - low), 0.1)
    marks = [
        m
        for m in ticks(low - room, high + room, PERCENT_TICKS)
        if abs(m + limit) > 0.09 * (high - low)
    ]
    return {
        "title": f"{point_name(results[0].point)}, %",
        "low": chart_number(low - room, digits=3),
        "high": chart_number(high + room, digits=3),
        "limits": [
            {"at": value, "words": f"{value:+g}"}
            for value in (chart_number(-limit), chart_number(limit))
            if low <= value <= high
        ],
        "ticks": [{"at": mark, "words": f"{mark:+g}" if mark else "0"} for mark in marks],
        "columns": columns,
    }


def _column(round_: Round, result: Result) -> Data:
    mean = result.number(Quantity.CHANGE)
    assert mean
    assert result.cycles
    return {
        **with_limits(mean, 3),
        "label": _washes(result),
        "foot": f"n {piece_count(result)}",
        "dots": [
            chart_number(v, digits=3) for _, v in piece_changes(round_, result.point, result.cycles)
        ],
        "fails": is_outside(result),
    }


def _washes(result: Result) -> str:
    return say_counted(result.cycles or 0, "wash")


def _alt(round_: Round, results: list[Result]) -> str:
    told = []
    for result in results:
        mean, seen = result.number(Quantity.CHANGE), _seen(round_, result)
        if mean:
            told.append(
                f"{point_name(result.point)} {mean.value:+.1f} % after {_washes(result)} "
                f"({len(seen)} pieces, {min(seen):+.1f} to {max(seen):+.1f})"
            )
    past = [f"{point_name(r.point)} after {_washes(r)}" for r in results if is_outside(r)]
    return (
        f"Change after washing in percent, negative is shrinkage: {'; '.join(told)}. "
        f"Shown past the limit: {say_list(past) or 'none'}."
    )


def _seen(round_: Round, result: Result) -> list[float]:
    return [value for _, value in piece_changes(round_, result.point, result.cycles or 0)]
