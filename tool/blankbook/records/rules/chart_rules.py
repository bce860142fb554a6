"""Rules of size charts: sizes grow, none is missing, dates follow, and rounds have a chart."""

from collections.abc import Iterator
from itertools import pairwise

from blankbook.records.chart_remarks import GROWING, TOLERANCE_MEANS, charted_steps, smallest_step
from blankbook.records.lengths import say_length
from blankbook.records.model import Chart, Round, Style
from blankbook.records.rules.date_rules import is_plausible
from blankbook.text.findings import Fault, ValuePath, visible
from blankbook.words.points import POINTS


def of_style(style: Style) -> Iterator[Fault]:
    """Yield what is wrong with the charts and the list of sizes."""
    yield from _twice(style)
    for index, chart in enumerate(style.charts):
        at: ValuePath = ("charts", index)
        yield from _sizes(style, chart, at)
        yield from _growth(style, chart, at)
    for index, (old, new) in enumerate(pairwise(style.charts)):
        if new.since <= old.since:
            message = f"charts must follow each other, found {new.since} after {old.since}"
            at = ("charts", index + 1, "since")
            yield Fault(at, "dates-backwards", message, "put the oldest chart first")


def of_round(round_: Round, style: Style) -> Iterator[Fault]:
    """Yield a round that is older than every chart, so that it has none to be compared with."""
    if style.charts and style.chart_on(round_.chart_day) is None and is_plausible(round_.chart_day):
        done = "bought" if round_.bought else "measured"
        message = f"{done} on {round_.chart_day}, before the first chart of {style.charts[0].since}"
        remedy = "if that chart held already, correct its since in style.yaml"
        at: ValuePath = ("bought", "date") if round_.bought else ("date",)
        yield Fault(at, "before-first-chart", message, remedy, "note")


def _twice(style: Style) -> Iterator[Fault]:
    """Yield sizes and colours that are listed twice; a difference of case alone is none."""
    for key, what, names in (("sizes", "size", style.sizes), ("colours", "colour", style.colours)):
        seen: dict[str, int] = {}
        for index, name in enumerate(names):
            first = seen.setdefault(name.casefold(), index)
            if first != index:
                message = f"{what} {visible(name)} is there twice"
                at, before = (key, index), (key, first)
                yield Fault(at, f"{what}-twice", message, "delete one", first=before)


def _sizes(style: Style, chart: Chart, at: ValuePath) -> Iterator[Fault]:
    """Yield sizes that the style does not have, and sizes that are skipped between others."""
    for size in chart.sizes:
        if size not in style.sizes:
            message = f"the chart has a size that the style has not: {visible(size)}"
            remedy = "the style's sizes are " + ", ".join(style.sizes)
            yield Fault((*at, "sizes", size), "unknown-size", message, remedy, on_key=True)
    there = [index for index, size in enumerate(style.sizes) if size in chart.sizes]
    if there:
        between = style.sizes[there[0] : there[-1] + 1]
        missing = [size for size in between if size not in chart.sizes]
        if missing:
            message = f"the chart skips {', '.join(missing)}"
            yield Fault((*at, "sizes"), "size-skipped", message, "add its row", on_key=True)


def _growth(style: Style, chart: Chart, at: ValuePath) -> Iterator[Fault]:
    """Yield sizes that shrink and are not confirmed, and tolerances larger than a step.

    Two sizes that share a length are true of many charts: `chart_remarks` has the words for them.
    """
    for point in POINTS:
        steps = list(charted_steps(chart, style.sizes, point))
        for step in steps:
            if step.by < 0 and not chart.confirmed:
                low, high = step.low.written, step.high.written
                message = (
                    f"{POINTS[point].name} must grow from {step.small} to {step.large}, "
                    f"found {low}, {high}"
                )
                remedy = (
                    "look whether two sizes are exchanged, or the sizes out of order; "
                    "if it is right, add confirmed: and why"
                )
                yield Fault(
                    (*at, "sizes", step.large, point), "chart-not-ascending", message, remedy
                )
        allowed = chart.tolerance.get(point)
        smallest = smallest_step(steps, allowed) if point in GROWING else None
        if allowed and smallest and smallest.by < allowed.exact:
            message = (
                f"the tolerance {allowed.written} is larger than the step of "
                f"{say_length(float(smallest.by), 'in' if chart.unit == 'in' else 'cm')}"
            )
            where = (*at, "tolerance", point)
            yield Fault(where, "tolerance-over-step", message, TOLERANCE_MEANS, "note")
