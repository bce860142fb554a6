"""A spec drawn. A drawing gets the spec's data and draws it; none computes a result."""

from collections.abc import Callable, Mapping
from typing import Any

from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import chart_settings
from blankbook.pages.draw.draw_lots import draw_lots
from blankbook.pages.draw.draw_outlook import draw_next_lot, draw_operating
from blankbook.pages.draw.draw_over_time import draw_over_time, draw_strip
from blankbook.pages.draw.draw_panels import draw_deviation, draw_steps, draw_washing
from blankbook.pages.draw.draw_shirts import draw_guide, draw_sizes, draw_small
from blankbook.pages.draw.svg_bytes import to_svg
from blankbook.pages.page_spec import ChartSpec

DRAWINGS: dict[str, Callable[[Canvas, Mapping[str, Any]], None]] = {
    "sizes": draw_sizes,
    "sizes_small": draw_small,
    "deviation": draw_deviation,
    "steps": draw_steps,
    "washing": draw_washing,
    "lots": draw_lots,
    "next_lot": draw_next_lot,
    "operating": draw_operating,
    "over_time": draw_over_time,
    "strip": draw_strip,
    "guide": draw_guide,
}


def draw(spec: ChartSpec) -> bytes:
    """Return the chart as SVG: the same bytes for the same spec."""
    with chart_settings(spec.path):
        canvas = Canvas(spec.width, spec.height)
        DRAWINGS[spec.kind](canvas, spec.data)
        return to_svg(canvas, spec.alt)
