"""What the chart of the grade steps shows."""

from blankbook.pages.charts.chart_data import (
    PANEL,
    Data,
    blank_chart,
    is_outside,
    piece_count,
    shop_unit,
    with_limits,
)
from blankbook.pages.draw.axis_labels import chart_number, short_label, ticks
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_words
from blankbook.results.checks.grade_steps import sound_steps
from blankbook.results.evidence import measured_points
from blankbook.results.number_words import say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.points import INCH

KEY_HEIGHT = 18
"""Pixels of the line that says what the dashes mean."""
_IN = float(INCH)
LENGTH_TICKS = {
    "in": (_IN / 8, _IN / 4, _IN / 2, _IN, 2 * _IN, 5 * _IN, 10 * _IN, 20 * _IN),
    "cm": (2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0),
}
"""Millimetres between the marks of a scale, the finest first."""


def steps_chart(judged: Judged) -> ChartSpec | None:
    """Return the grade steps beside the charted ones, a panel for each point."""
    results = [r for r in judged.of("grade_steps") if r.number(Quantity.STEP)]
    points = [p for p in measured_points(judged.case) if any(r.point == p for r in results)]
    if not points:
        return None
    panels = [_panel(judged, [r for r in results if r.point == point]) for point in points]
    asked = any(column["charted"] for panel in panels for column in panel["columns"])
    usual = not all(column["charted"] for panel in panels for column in panel["columns"])
    words = ["dashes: charted step"] if asked else []
    words += ["dots: usual step (no chart)"] if usual else []
    data: Data = {"key": "; ".join(words), "panels": panels}
    return blank_chart(
        judged, "steps", data, _alt(judged, results), len(panels) * PANEL + KEY_HEIGHT
    )


def _panel(judged: Judged, results: list[Result]) -> Data:
    columns = [_column(judged, result) for result in results]
    ends = [c[key] for c in columns for key in ("low", "high", "asked")]
    low, high = min(0.0, *ends), max(0.0, *ends)
    room = max(0.06 * (high - low), 1.0)
    unit = shop_unit(judged)
    marks = ticks(low - room, high + room, LENGTH_TICKS[unit])
    return {
        "title": point_name(results[0].point),
        "low": chart_number(low - room),
        "high": chart_number(high + room),
        "ticks": [{"mm": mm, "words": change_text(mm, unit)} for mm in marks],
        "columns": columns,
    }


def _column(judged: Judged, result: Result) -> Data:
    step, asked = result.number(Quantity.STEP), result.number(Quantity.CHARTED_STEP)
    against = asked or result.number(Quantity.USUAL_STEP)
    assert step
    assert against
    allowed = judged.case.shop.step_tolerance[result.point]
    sound = sound_steps(asked.value, allowed) if asked else ()
    return {
        **with_limits(step),
        "label": f"{short_label(result.size, 12)}–{short_label(result.next_size, 12)}",
        "foot": f"n {piece_count(result)}",
        "asked": chart_number(against.value),
        "charted": asked is not None,
        "sound": [chart_number(border) for border in sound],
        "fails": is_outside(result),
    }


def _alt(judged: Judged, results: list[Result]) -> str:
    unit = shop_unit(judged)
    points = dict.fromkeys(result.point for result in results)
    told = [_told(unit, [r for r in results if r.point == point]) for point in points]
    says = [f"Grade steps in {unit_words(unit)}, with the charted ones", *told]
    wrong = [f"{_pair(r)} {point_name(r.point)} {r.word}" for r in results if is_outside(r)]
    says.append(f"Shown to be off: {say_list(wrong) or 'none'}")
    return ". ".join(says) + "."


def _told(unit: str, results: list[Result]) -> str:
    """Return the steps at one point in words."""
    steps = []
    for result in results:
        step, asked = result.number(Quantity.STEP), result.number(Quantity.CHARTED_STEP)
        against = f" ({change_text(asked.value, unit)})" if asked else ""
        steps += [f"{_pair(result)} {change_text(step.value, unit)}{against}"] if step else []
    return f"{point_name(results[0].point)}: {', '.join(steps)}"


def _pair(result: Result) -> str:
    return f"{result.size} to {result.next_size}"
