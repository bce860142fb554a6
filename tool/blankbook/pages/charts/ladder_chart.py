"""What a size ladder shows: every size and piece at one point of measure, new and washed."""

from collections.abc import Sequence
from statistics import fmean

from blankbook.pages.charts.chart_data import blank_chart, is_outside, shop_unit, unit_title
from blankbook.pages.charts.ladder_types import LadderData, Rung
from blankbook.pages.charts.panel_types import MeanLimits, Tick
from blankbook.pages.draw.axis_labels import chart_number, short_label, ticks
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import length_text, point_name, unit_words
from blankbook.results.chart_values import charted_length
from blankbook.results.checks.washed_size import washed_pieces
from blankbook.results.checks.washing import washed_round
from blankbook.results.evidence import (
    chart_for,
    measured_points,
    newest_sample,
    tolerance,
)
from blankbook.results.number_words import say_counted, say_list
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.answers import Answer
from blankbook.words.points import INCH, POINTS

RUNG_HEIGHT, LADDER_TOP, LADDER_FOOT = 22, 26, 50
"""Pixels of a size; of the title above all; and of the scale and the key below."""
NO_STEP = {"collapsed", "reversed"}
"""The words of a step that is shown to be none: the two sizes touch."""
_IN = float(INCH)
_TICKS = {
    "in": (_IN / 8, _IN / 4, _IN / 2, _IN, 2 * _IN, 5 * _IN, 10 * _IN, 20 * _IN),
    "cm": (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0),
}
"""Millimetres between the marks of the scale, the finest first."""


def ladder_charts(judged: Judged) -> tuple[ChartSpec[LadderData], ...]:
    """Return a ladder for each point that was measured."""
    ladders = (_ladder(judged, point) for point in measured_points(judged.case))
    return tuple(ladder for ladder in ladders if ladder)


def troubled_points(judged: Judged) -> tuple[str, ...]:
    """Return the points at which a size or a step fails, or else is required and not settled."""
    results = [*judged.of("size_against_chart"), *judged.of("grade_steps")]
    for answer in (Answer.FAILS, Answer.NOT_SHOWN):
        points = {r.point for r in results if r.answer == answer and r.deciding}
        if points:
            return tuple(point for point in POINTS if point in points)
    return ()


def _ladder(judged: Judged, point: str) -> ChartSpec[LadderData] | None:
    rungs = _rungs(judged, point)
    if not rungs:
        return None
    ends = [end for rung in rungs for end in _ends(rung)]
    room = max(0.04 * (max(ends) - min(ends)), 3.0)
    low, high = min(ends) - room, max(ends) + room
    unit = shop_unit(judged)
    data = LadderData(
        point=point,
        title=unit_title(judged, point),
        low=chart_number(low),
        high=chart_number(high),
        ticks=tuple(
            Tick(mm, length_text(mm, unit)) for mm in ticks(low, high, _TICKS[unit], most=7)
        ),
        rungs=rungs,
    )
    height = LADDER_TOP + RUNG_HEIGHT * len(rungs) + LADDER_FOOT
    return blank_chart(judged, f"ladder-{point}", data, _alt(unit, point, rungs), height)


def _rungs(judged: Judged, point: str) -> tuple[Rung, ...]:
    by_size = {r.size: r for r in judged.of("size_against_chart") if r.point == point}
    sizes = [size for size in judged.blank.style.sizes if newest_sample(judged.case, size, point)]
    return tuple(_rung(judged, size, point, by_size.get(size)) for size in sizes)


def _rung(judged: Judged, size: str, point: str, result: Result | None) -> Rung:
    case = judged.case
    sample = newest_sample(case, size, point)
    assert sample
    chart, washed = chart_for(case, sample.round), washed_round(case)
    # Pieces washed in another round are of another lot: beside these they would show no change.
    same = washed is not None and washed.source.path == sample.round.source.path
    after = washed_pieces(sample.round, size, point) if same else None
    # What no chart may be held against has no charted mark either.
    off = result.number(Quantity.OFF_THE_CHART) if result else None
    charted = charted_length(chart, size, point) if off else None
    mean = fmean(sample.values)
    limits = MeanLimits(*(chart_number(mean) for _ in range(3)))
    if off and charted is not None:
        low, high = (mean if end is None else charted + end for end in (off.low, off.high))
        limits = MeanLimits(*(chart_number(end, mean) for end in (mean, low, high)))
    return Rung(
        label=short_label(size),
        charted=None if charted is None else chart_number(charted),
        allowed=chart_number(tolerance(case, chart, point)) if charted is not None else 0.0,
        mean=limits if charted is not None else None,
        new=tuple(chart_number(value) for value in sample.values),
        washed=tuple(chart_number(value) for value in after.values) if after else (),
        fails=(result is not None and is_outside(result)) or _touches(judged, size, point),
    )


def _touches(judged: Judged, size: str, point: str) -> bool:
    """Say whether the step to a neighbouring size is shown to be none."""
    return any(
        r.point == point and r.word in NO_STEP and is_outside(r) and size in (r.size, r.next_size)
        for r in judged.of("grade_steps")
    )


def _ends(rung: Rung) -> list[float]:
    """Return all lengths that must find room on the scale."""
    band = (
        [] if rung.charted is None else [rung.charted - rung.allowed, rung.charted + rung.allowed]
    )
    limits = [rung.mean.low, rung.mean.high] if rung.mean else []
    return [*band, *limits, *rung.new, *rung.washed]


def _alt(unit: str, point: str, rungs: Sequence[Rung]) -> str:
    """Return each size's mean, charted and washed, and the sizes that fail."""
    says = []
    for rung in rungs:
        words = f"{rung.label} {length_text(fmean(rung.new), unit)}"
        beside = [say_counted(len(rung.new), "piece")]
        beside += [f"chart {length_text(rung.charted, unit)}"] if rung.charted is not None else []
        beside += [f"washed {length_text(fmean(rung.washed), unit)}"] if rung.washed else []
        says.append(f"{words} ({', '.join(beside)})")
    fails = [rung.label for rung in rungs if rung.fails]
    return (
        f"Sizes at {point_name(point)} in {unit_words(unit)}: {'; '.join(says)}. "
        f"Off the chart, or touching the next size: {say_list(fails) or 'none'}."
    )
