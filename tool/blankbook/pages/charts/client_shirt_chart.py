"""What the drawing on a size chart for clients shows: the sizes, and where the tape goes."""

from collections.abc import Mapping, Sequence

from blankbook.pages.charts.chart_data import CHART_WIDTH
from blankbook.pages.charts.ladder_types import ClientShirtData
from blankbook.pages.charts.panel_types import Lengths
from blankbook.pages.charts.sizes_chart import fitting_scale
from blankbook.pages.draw.axis_labels import printable, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import point_name
from blankbook.results.number_words import say_list

TOP, KEY_ROW = 22, 16
"""Pixels above the shirt, and of a line of the key, which has two points."""
_NEEDED = ("half_chest", "body_length")
_TALLEST, _ROOM = 330, 44
"""Pixels of the longest garment, and beside the sleeves for the sizes' names."""


def client_shirt_chart(
    slug: str, sizes: Mapping[str, Lengths], points: Sequence[str]
) -> ChartSpec[ClientShirtData] | None:
    """Return the drawing of the chart called *slug*; *sizes* are lengths in mm, by size label.

    None where no size is known across and along.
    """
    drawn = {size: own for size, own in sizes.items() if all(p in own for p in _NEEDED)}
    if not drawn:
        return None
    shown = [p for p in points if all(p in own for own in drawn.values())]
    longest = max(own["body_length"] for own in drawn.values())
    scale = min(fitting_scale(drawn.values(), CHART_WIDTH - _ROOM), _TALLEST / longest)
    data = ClientShirtData(
        labels=tuple(short_label(size, 10) for size in drawn),
        sizes=tuple(drawn.values()),
        scale=round(scale, 5),
        points=tuple(shown),
        names=tuple(map(point_name, shown)),
    )
    alt = (
        f"{say_list(list(drawn))} laid over each other, to scale. On the largest an arrow shows "
        f"where the tape goes for {say_list([point_name(point) for point in shown])}."
    )
    rows = (len(shown) + 1) // 2
    height = round(TOP + longest * scale + 16 + KEY_ROW * rows)
    return ChartSpec(f"charts/sizes/{slug}.svg", data, printable(alt), CHART_WIDTH, height)
