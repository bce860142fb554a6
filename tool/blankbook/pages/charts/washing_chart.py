"""What the chart of the washing shows."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import PANEL_HEIGHT, blank_chart, is_outside, mean_limits
from blankbook.pages.charts.chart_types import WashingData, WashingPanel
from blankbook.pages.charts.panel_types import Column, Tick
from blankbook.pages.draw.axis_labels import chart_number, ticks
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import point_name
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Number, Result

_PERCENT_TICKS = (1.0, 2.0, 5.0, 10.0, 20.0)
"""Percent between the marks of a scale, the finest first."""


def washing_chart(judged: Judged) -> ChartSpec[WashingData] | None:
    """Return the change of every piece after washing, a panel for each point.

    None where no piece was measured again after washing.
    """
    results = [result for result in judged.of("washing") if result.number(Quantity.CHANGE)]
    if not results:
        return None
    points = dict.fromkeys(result.point for result in results)
    panels = [_panel([r for r in results if r.point == point]) for point in points]
    data = WashingData(tuple(panels))
    return blank_chart(judged, "washing", data, _alt(results), len(panels) * PANEL_HEIGHT)


def _panel(results: Sequence[Result]) -> WashingPanel:
    """Return the panel of one point, with a column for each number of washes."""
    columns = [_column(r, change) for r in results if (change := r.number(Quantity.CHANGE))]
    limit = max(number.value for r in results if (number := r.number(Quantity.LIMIT)))
    ends = [v for c in columns for v in (*c.pieces, c.mean.low, c.mean.high)]
    low, high = min(-limit, *ends), max(0.0, *ends)
    room = max(0.06 * (high - low), 0.1)
    near = 0.09 * (high - low)  # the words of a mark would touch those of the limit
    marks = [m for m in ticks(low - room, high + room, _PERCENT_TICKS) if abs(m + limit) > near]
    return WashingPanel(
        title=f"{point_name(results[0].point)}, %",
        low=chart_number(low - room, digits=3),
        high=chart_number(high + room, digits=3),
        limits=tuple(
            Tick(value, f"{value:+g}")
            for value in (chart_number(-limit), chart_number(limit))
            if low <= value <= high
        ),
        ticks=tuple(Tick(mark, f"{mark:+g}" if mark else "0") for mark in marks),
        columns=tuple(columns),
    )


def _column(result: Result, change: Number) -> Column:
    return Column(
        label=_washes(result),
        foot=f"n {len(result.piece_values)}",
        mean=mean_limits(change, 3),
        fails=is_outside(result),
        pieces=tuple(chart_number(value, digits=3) for value in result.piece_values),
    )


def _washes(result: Result) -> str:
    return say_counted(result.cycles or 0, "wash")


def _alt(results: Sequence[Result]) -> str:
    changes = []
    for result in results:
        mean, seen, washes = (
            result.number(Quantity.CHANGE),
            result.piece_values,
            _washes(result),
        )
        if mean:
            changes.append(
                f"{point_name(result.point)} {mean.value:+.1f} % after {washes} "
                f"({len(seen)} pieces, {min(seen):+.1f} to {max(seen):+.1f})"
            )
    past = [f"{point_name(r.point)} after {_washes(r)}" for r in results if is_outside(r)]
    return (
        f"Change after washing in percent, negative is shrinkage: {'; '.join(changes)}. "
        f"Shown past the limit: {say_list(past) or 'none'}."
    )
