"""The drawing of one lot after the other: dates along it, a line for each size."""

from collections.abc import Sequence

from blankbook.pages.charts.chart_data import FOOT_HEIGHT, TITLE_HEIGHT
from blankbook.pages.charts.chart_types import LotsData, LotsSize
from blankbook.pages.charts.lots_chart import LINE, day_places
from blankbook.pages.draw.axis_labels import shortened, spread_apart
from blankbook.pages.draw.canvas import Canvas
from blankbook.pages.draw.chart_style import SMALL_TEXT
from blankbook.pages.draw.draw_panels import PANEL_LEFT, ROUNDING, PanelPlot, is_off

_NAMES = 58.0
"""Pixels at the right for the sizes' names."""
_ORDER = ("dot", "up", "diamond", "down", "bar", "post")
"""The marks of the sizes, smallest first; past the last they begin again. A square is never a size:
it is what lies past the tolerance."""
_DATE = 52.0
"""Pixels that a date takes."""


def draw_lots(canvas: Canvas, data: LotsData) -> None:
    """Draw how far every size was from the chart, round after round."""
    left, right = PANEL_LEFT + 22, canvas.width - _NAMES - 26
    across = day_places(data.days, left, right)
    for place, shown in enumerate(data.panels):
        top = place * (TITLE_HEIGHT + data.plot + FOOT_HEIGHT)
        allowed = shown.tolerance.mm
        offs = [abs(mark.off) for size in shown.sizes for mark in size.marks]
        reach = 1.12 * max([1.3 * allowed, 1.0, *offs])
        panel = PanelPlot(canvas, top, (-reach, reach), 1, data.plot)
        panel.right = canvas.width - _NAMES
        wrong = any(off > allowed + ROUNDING for off in offs)
        panel.name(shown.title, "square: past the tolerance" if wrong else "")
        canvas.band(PANEL_LEFT, panel.y(allowed), panel.right, panel.y(-allowed))
        panel.rule(0.0, width=1.0)
        panel.tolerance(shown.tolerance)
        _dates(panel, data.dates, across)
        sizes = [size for size in shown.sizes if size.marks]
        _series(panel, sizes, across, allowed)
        _names(panel, sizes)


def _dates(panel: PanelPlot, dates: Sequence[str], across: Sequence[float]) -> None:
    """Write the dates, as many as fit, with a tick for each."""
    level = panel.bottom
    panel.canvas.lines([[(x, level), (x, level + 4)] for x in across], role="grey")
    last = -_DATE
    for x, date in zip(across, dates, strict=True):
        if x - last >= _DATE:
            panel.canvas.text(x, level + 12, date, size=SMALL_TEXT, align="center")
            last = x


def _series(
    panel: PanelPlot, sizes: Sequence[LotsSize], across: Sequence[float], allowed: float
) -> None:
    """Draw a line for each size, a little apart from the others, marks outside in vermilion."""
    middle = (len(sizes) - 1) / 2
    step = min(5.0, 30.0 / max(len(sizes), 1))
    lines = []
    for order, size in enumerate(sizes):
        aside = step * (order - middle)
        places = [(across[mark.at] + aside, panel.y(mark.off)) for mark in size.marks]
        # A line needs two places: a size that was measured once gets one of no length.
        lines.append(places if len(places) > 1 else places * 2)
        wrong = [is_off(mark.off, allowed) for mark in size.marks]
        own = _ORDER[order % len(_ORDER)]
        for outside, role, shape in ((False, "blue", own), (True, "vermilion", "square")):
            some = [place for place, bad in zip(places, wrong, strict=True) if bad == outside]
            panel.canvas.marks(some, role=role, shape=shape, size=2.8)
    panel.canvas.lines(lines, role="blue", width=0.7)


def _names(panel: PanelPlot, sizes: Sequence[LotsSize]) -> None:
    """Name the sizes at the right, each with its mark, in the order of their last levels."""
    order = sorted(range(len(sizes)), key=lambda n: (-sizes[n].marks[-1].off, n))
    ends = [panel.y(sizes[n].marks[-1].off) for n in order]
    levels = spread_apart(ends, LINE, panel.top, panel.bottom)
    x = panel.right + 10
    for place, level in zip(order, levels, strict=True):
        panel.canvas.marks([(x, level)], role="ink", shape=_ORDER[place % len(_ORDER)], size=2.8)
        panel.canvas.text(x + 8, level, shortened(sizes[place].label, 6), size=SMALL_TEXT)
