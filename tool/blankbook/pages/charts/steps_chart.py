"""What the chart of the grade steps shows."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import (
    PANEL_HEIGHT,
    blank_chart,
    is_outside,
    mean_limits,
    piece_count,
    shop_unit,
    unit_title,
)
from blankbook.pages.charts.chart_types import StepColumn, StepsData, StepsPanel
from blankbook.pages.charts.panel_types import Tick
from blankbook.pages.draw.axis_labels import chart_number, short_label, ticks
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.chart_values import sound_steps
from blankbook.results.number_words import say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Number, Result
from blankbook.words.points import INCH, POINTS

_KEY_HEIGHT = 18
"""Pixels of the line that says what the dashes mean."""
_IN = float(INCH)
_LENGTH_TICKS = {
    "in": (_IN / 8, _IN / 4, _IN / 2, _IN, 2 * _IN, 5 * _IN, 10 * _IN, 20 * _IN),
    "cm": (2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0),
}
"""Millimetres between the marks of a scale, the finest first."""


def steps_chart(judged: Judged) -> ChartSpec[StepsData] | None:
    """Return the grade steps beside the charted ones, a panel for each point.

    None where no two neighbouring sizes were measured.
    """
    results = [r for r in judged.of("grade_steps") if r.number(Quantity.STEP)]
    if not results:
        return None
    points = [p for p in POINTS if any(r.point == p for r in results)]
    panels = [_panel(judged, [r for r in results if r.point == point]) for point in points]
    charted = [column.sound is not None for panel in panels for column in panel.columns]
    words = ["dashes: charted step"] if any(charted) else []
    words += ["dots: usual step (no chart)"] if not all(charted) else []
    data = StepsData("; ".join(words), tuple(panels))
    height = len(panels) * PANEL_HEIGHT + _KEY_HEIGHT
    return blank_chart(judged, "steps", data, _alt(judged, results), height)


def _panel(judged: Judged, results: Sequence[Result]) -> StepsPanel:
    columns = [
        _column(judged, result, step)
        for result in results
        if (step := result.number(Quantity.STEP))
    ]
    ends = [end for c in columns for end in (c.mean.low, c.mean.high, c.asked)]
    low, high = min(0.0, *ends), max(0.0, *ends)
    # Room above and below, so that no limit lies on the edge of the panel.
    room = max(0.06 * (high - low), 1.0)
    unit = shop_unit(judged)
    marks = ticks(low - room, high + room, _LENGTH_TICKS[unit])
    return StepsPanel(
        title=unit_title(judged, results[0].point),
        low=chart_number(low - room),
        high=chart_number(high + room),
        ticks=tuple(Tick(mm, change_text(mm, unit)) for mm in marks),
        columns=tuple(columns),
    )


def _column(judged: Judged, result: Result, step: Number) -> StepColumn:
    asked = result.number(Quantity.CHARTED_STEP)
    against = asked or result.number(Quantity.USUAL_STEP)
    assert against
    allowed = judged.case.shop.step_tolerance[result.point]
    sound = None
    if asked:
        least, most = sound_steps(asked.value, allowed)
        sound = chart_number(least), chart_number(most)
    return StepColumn(
        label=f"{short_label(result.size, 12)}–{short_label(result.next_size, 12)}",
        foot=f"n {piece_count(result)}",
        mean=mean_limits(step),
        fails=is_outside(result),
        asked=chart_number(against.value),
        sound=sound,
    )


def _alt(judged: Judged, results: Sequence[Result]) -> str:
    """Return the steps point by point, and those that are shown to be off."""
    unit = shop_unit(judged)
    points = dict.fromkeys(result.point for result in results)
    by_point = [_point_words(unit, [r for r in results if r.point == point]) for point in points]
    says = [f"Grade steps in {unit_words(unit)}, with the charted ones", *by_point]
    wrong = [f"{_step_name(r)} {point_name(r.point)} {r.word}" for r in results if is_outside(r)]
    says.append(f"Shown to be off: {say_list(wrong) or 'none'}")
    return ". ".join(says) + "."


def _point_words(unit: str, results: Sequence[Result]) -> str:
    """Return the steps at one point in words."""
    steps = []
    for result in results:
        step, asked = result.number(Quantity.STEP), result.number(Quantity.CHARTED_STEP)
        against = f" ({change_text(asked.value, unit)})" if asked else ""
        steps += [f"{_step_name(result)} {change_text(step.value, unit)}{against}"] if step else []
    return f"{point_name(results[0].point)}: {', '.join(steps)}"


def _step_name(result: Result) -> str:
    return f"{result.size} to {result.next_size}"
