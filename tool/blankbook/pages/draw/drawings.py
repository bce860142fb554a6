"""The drawing that belongs to a chart's data: it draws what it gets, and computes no result."""

from typing import assert_never

from blankbook.pages.charts.chart_types import (
    ApprovalData,
    ChartData,
    GuideData,
    LotsData,
    NextLotData,
    OperatingData,
    SizesData,
    SmallSizesData,
    StepsData,
    WashedShirtData,
    WashingData,
)
from blankbook.pages.charts.ladder_types import ClientShirtData, LadderData
from blankbook.pages.charts.over_time_types import OverTimeData, StripData
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import chart_settings
from blankbook.pages.draw.draw_client_shirt import draw_client_shirt
from blankbook.pages.draw.draw_ladder import draw_ladder
from blankbook.pages.draw.draw_lots import draw_lots
from blankbook.pages.draw.draw_outlook import draw_approval, draw_next_lot, draw_operating
from blankbook.pages.draw.draw_over_time import draw_over_time, draw_strip
from blankbook.pages.draw.draw_panels import draw_steps, draw_washing
from blankbook.pages.draw.draw_shirts import (
    draw_guide,
    draw_sizes,
    draw_small,
    draw_washed_shirt,
)
from blankbook.pages.draw.svg_bytes import to_svg
from blankbook.pages.page_spec import AnyChart


def draw(spec: AnyChart) -> bytes:
    """Return the chart as SVG: the same bytes for the same spec."""
    with chart_settings(spec.path):
        canvas = Canvas(spec.width, spec.height)
        _draw_on(canvas, spec.data)
        return to_svg(canvas, spec.alt)


def _draw_on(canvas: Canvas, data: ChartData) -> None:
    match data:
        case SizesData():
            draw_sizes(canvas, data)
        case SmallSizesData():
            draw_small(canvas, data)
        case LadderData():
            draw_ladder(canvas, data)
        case StepsData():
            draw_steps(canvas, data)
        case WashingData():
            draw_washing(canvas, data)
        case LotsData():
            draw_lots(canvas, data)
        case NextLotData():
            draw_next_lot(canvas, data)
        case OperatingData():
            draw_operating(canvas, data)
        case ApprovalData():
            draw_approval(canvas, data)
        case OverTimeData():
            draw_over_time(canvas, data)
        case StripData():
            draw_strip(canvas, data)
        case WashedShirtData():
            draw_washed_shirt(canvas, data)
        case ClientShirtData():
            draw_client_shirt(canvas, data)
        case GuideData():
            draw_guide(canvas, data)
        case _:
            assert_never(data)
