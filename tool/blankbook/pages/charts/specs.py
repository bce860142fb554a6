"""What each chart shows, as plain data made from the results; nothing is drawn here.

A drawing gets millimetres and percent, and the labels that it writes; the text alternative is made
from the same numbers.
"""

from typing import Any

from blankbook.pages.charts.outline import distance, tape_line
from blankbook.pages.showing import change, length, point_name, unit_name
from blankbook.pages.spec import ChartSpec
from blankbook.results.evidence import (
    chart_for,
    charted,
    measured_points,
    measured_sizes,
    newest_sample,
    sample,
)
from blankbook.results.frame import Judged, Result
from blankbook.results.saying import say_list
from blankbook.results.washing import changes, washed_round
from blankbook.words.points import INCH, POINTS

WIDTH = 360
PANEL = 104
TOP = 6

Data = dict[str, Any]


def _path(judged: Judged, name: str) -> str:
    return f"charts/{judged.blank.style.key}/{name}.svg"


def _unit(judged: Judged) -> str:
    return judged.case.shop.unit


def _drawn_sizes(judged: Judged) -> list[Data]:
    """Return the sizes whose chest and length are known, with their mean measurements."""
    found = []
    for size in measured_sizes(judged.case):
        samples = {point: newest_sample(judged.case, size, point) for point in POINTS}
        lengths = {point: round(one.mean, 2) for point, one in samples.items() if one}
        if "half_chest" in lengths and "body_length" in lengths:
            found.append({"label": size, "lengths": lengths})
    return found


def sizes_chart(judged: Judged) -> ChartSpec | None:
    """Return the measured sizes laid over each other, to scale."""
    sizes = _drawn_sizes(judged)
    if not sizes:
        return None
    spread = {
        point: round(judged.case.spreads[point].deviation, 2)
        for point in ("half_chest", "body_length")
    }
    longest = max(one["lengths"]["body_length"] for one in sizes)
    data: Data = {"unit": _unit(judged), "sizes": sizes, "spread": spread}
    height = round(46 + longest * scale_of(sizes))
    alt = _sizes_alt(judged, sizes)
    return ChartSpec(_path(judged, "sizes"), "sizes", data, alt, WIDTH, height)


def scale_of(sizes: list[Data], width: int = WIDTH - 12) -> float:
    """Return the pixels in a millimetre that let the widest garment fit."""
    widest = max(2 * tape_line("sleeve_length", one["lengths"])[1][0] for one in sizes)
    return float(width / widest)


def _sizes_alt(judged: Judged, sizes: list[Data]) -> str:
    unit = _unit(judged)
    each = [
        f"{one['label']} {length(one['lengths']['half_chest'], unit)} by "
        f"{length(one['lengths']['body_length'], unit)}"
        for one in sizes
    ]
    same = [
        f"{result.size} and {result.next_size} share their {point_name(result.point)}"
        for result in judged.of("grade_steps")
        if result.word == "collapsed"
    ]
    text = (
        f"{len(sizes)} measured {'size' if len(sizes) == 1 else 'sizes'} to scale, half chest by "
        f"body length in {unit_name(unit)}: {say_list(each)}."
    )
    return text + "".join(f" {words}." for words in same)


def sizes_small_chart(judged: Judged) -> ChartSpec | None:
    """Return the same drawing, small enough for a row of the catalogue."""
    sizes = _drawn_sizes(judged)
    if not sizes:
        return None
    data: Data = {"sizes": sizes}
    alt = "Sizes to scale: " + ", ".join(str(one["label"]) for one in sizes)
    return ChartSpec(_path(judged, "small"), "sizes_small", data, alt, 72, 62)


def deviation_chart(judged: Judged) -> ChartSpec | None:
    """Return every piece's distance from the chart, a panel for each point."""
    results = [r for r in judged.of("size_against_chart") if r.number("off the chart")]
    points = [p for p in measured_points(judged.case) if any(r.point == p for r in results)]
    if not points:
        return None
    sizes = list(judged.blank.style.sizes)
    panels = [_deviation_panel(judged, results, point) for point in points]
    data: Data = {"unit": _unit(judged), "sizes": sizes, "panels": panels}
    height = TOP + len(panels) * (PANEL + 22)
    alt = _deviation_alt(judged, results)
    return ChartSpec(_path(judged, "deviation"), "deviation", data, alt, WIDTH, height)


def _deviation_panel(judged: Judged, results: list[Result], point: str) -> Data:
    columns: list[Data | None] = []
    tolerance = 0.0
    for size in judged.blank.style.sizes:
        result = next((r for r in results if r.point == point and r.size == size), None)
        here = newest_sample(judged.case, size, point)
        if result is None or here is None:
            columns.append(None)
            continue
        off, target = result.number("off the chart"), result.number("chart")
        allowed = result.number("tolerance")
        assert off
        assert target
        assert allowed
        tolerance = allowed.value
        columns.append(
            {
                "dots": [round(value - target.value, 2) for value in here.values],
                "mean": round(off.value, 2),
                "low": round(off.low or 0.0, 2),
                "high": round(off.high or 0.0, 2),
                "fails": result.answer == "fails",
            }
        )
    return {"title": point_name(point), "tolerance": round(tolerance, 2), "columns": columns}


def _deviation_alt(judged: Judged, results: list[Result]) -> str:
    unit = _unit(judged)
    offs = [(off.value, r) for r in results if (off := r.number("off the chart"))]
    (low, least), (high, most) = min(offs, key=_first), max(offs, key=_first)
    fails = [r for _, r in offs if r.answer == "fails"]
    outside = ", ".join(f"{r.size} {point_name(r.point)}" for r in fails) or "none"
    return (
        f"Distance from the chart in {unit_name(unit)}, {len(offs)} means: from "
        f"{change(low, unit)} ({least.size} {point_name(least.point)}) to "
        f"{change(high, unit)} ({most.size} {point_name(most.point)}). Shown outside: {outside}."
    )


def _first(pair: tuple[float, Result]) -> float:
    return pair[0]


def steps_chart(judged: Judged) -> ChartSpec | None:
    """Return the grade steps beside the charted ones, a panel for each point."""
    results = [r for r in judged.of("grade_steps") if r.number("step")]
    points = [p for p in measured_points(judged.case) if any(r.point == p for r in results)]
    if not points:
        return None
    panels = [_steps_panel([r for r in results if r.point == point]) for point in points]
    data: Data = {"unit": _unit(judged), "panels": panels}
    height = TOP + len(panels) * (PANEL + 22)
    unit = _unit(judged)
    told = [
        f"{r.size} to {r.next_size} {point_name(r.point)} {change(step.value, unit)}"
        f"{' ' + r.word if r.word else ''}"
        for r in results
        if (step := r.number("step")) and r.deciding
    ]
    alt = f"Grade steps in {unit_name(unit)}: {say_list(told)}." if told else "Grade steps."
    return ChartSpec(_path(judged, "steps"), "steps", data, alt, WIDTH, height)


def _steps_panel(results: list[Result]) -> Data:
    columns = []
    for result in results:
        step = result.number("step")
        asked = result.number("charted step") or result.number("usual step")
        assert step
        assert asked
        columns.append(
            {
                "label": f"{result.size}–{result.next_size}",
                "mean": round(step.value, 2),
                "low": round(step.low or 0.0, 2),
                "high": round(step.high or 0.0, 2),
                "asked": round(asked.value, 2),
                "fails": result.answer == "fails",
            }
        )
    return {"title": point_name(results[0].point), "columns": columns}


def washing_chart(judged: Judged) -> ChartSpec | None:
    """Return the change of every piece after washing, a panel for each point."""
    results = [r for r in judged.of("washing") if r.number("change")]
    one = washed_round(judged.case)
    if not results or one is None:
        return None
    panels = []
    for point in dict.fromkeys(r.point for r in results):
        columns = []
        accepted = 0.0
        for result in (r for r in results if r.point == point):
            mean, limit = result.number("change"), result.number("limit")
            assert mean
            assert limit
            assert result.cycles
            accepted = limit.value
            dots = [round(value, 3) for _, value in changes(one, point, result.cycles)]
            columns.append(
                {
                    "label": "1 wash" if result.cycles == 1 else f"{result.cycles} washes",
                    "dots": dots,
                    "mean": round(mean.value, 3),
                    "low": round(mean.low or 0.0, 3),
                    "high": round(mean.high or 0.0, 3),
                    "fails": result.answer == "fails",
                }
            )
        panels.append({"title": point_name(point), "limit": accepted, "columns": columns})
    told = [
        f"{point_name(r.point)} {mean.value:+.1f} % after {r.cycles}"
        for r in results
        if (mean := r.number("change"))
    ]
    alt = f"Change after washing, negative is shrinkage: {say_list(told)}."
    data: Data = {"panels": panels}
    height = TOP + len(panels) * (PANEL + 22)
    return ChartSpec(_path(judged, "washing"), "washing", data, alt, WIDTH, height)


def lots_chart(judged: Judged) -> ChartSpec | None:
    """Return how far each round was from its chart, by size, a panel for each deciding point."""
    rounds = [one for one in judged.blank.rounds if one.pieces]
    if len(rounds) < 2:
        return None
    panels = []
    for point in judged.case.shop.deciding_points:
        columns: list[Data] = []
        for one in rounds:
            chart = chart_for(judged.case, one)
            marks = []
            for size in judged.blank.style.sizes:
                here, target = sample(one, size, point), charted(chart, size, point)
                if here and target is not None:
                    marks.append({"size": size, "off": round(here.mean - target, 2)})
            columns.append({"label": one.date.isoformat()[:7], "marks": marks})
        if any(column["marks"] for column in columns):
            tolerance = round(judged.case.shop.tolerance[point], 2)
            panels.append({"title": point_name(point), "tolerance": tolerance, "columns": columns})
    if not panels:
        return None
    data: Data = {"unit": _unit(judged), "panels": panels}
    height = TOP + len(panels) * (PANEL + 50)
    alt = _lots_alt(judged, panels)
    return ChartSpec(_path(judged, "lots"), "lots", data, alt, WIDTH, height)


def _lots_alt(judged: Judged, panels: list[Data]) -> str:
    unit = _unit(judged)
    told = []
    for panel in panels:
        means = [
            change(sum(m["off"] for m in column["marks"]) / len(column["marks"]), unit)
            for column in panel["columns"]
            if column["marks"]
        ]
        told.append(f"{panel['title']} {', '.join(means)}")
    return f"Mean distance from the chart by round, in {unit_name(unit)}: {'; '.join(told)}."


GUIDE_SHIRT = {
    "half_chest": 22 * float(INCH),
    "body_length": 30 * float(INCH),
    "shoulder_width": 19 * float(INCH),
    "sleeve_length": 9 * float(INCH),
    "sleeve_opening": 7.75 * float(INCH),
    "hem_width": 22 * float(INCH),
    "neck_opening": 7.5 * float(INCH),
    "rib_height": 0.875 * float(INCH),
}
"""The garment of the guide: an adult L in the usual grade (common practice, no source)."""


def guide_chart(point: str) -> ChartSpec:
    """Return the drawing of one point of measure, to scale."""
    data: Data = {"point": point, "lengths": GUIDE_SHIRT, "label": point_name(point)}
    mm = distance(tape_line(point, GUIDE_SHIRT))
    alt = f"Where the tape goes for the {point_name(point)}: {POINTS[point].where}"
    assert mm > 0
    return ChartSpec(f"charts/guide/{point}.svg", "guide", data, alt, 240, 200)
