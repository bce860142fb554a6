"""The charts of a blank's page and of the measuring guide. A further chart joins here.

A drawing gets millimetres and percent, and the words that it writes; the text alternative is made
from the same numbers.
"""

from blankbook.pages.charts.deviation_chart import deviation_chart
from blankbook.pages.charts.guide_chart import guide_chart
from blankbook.pages.charts.lots_chart import lots_chart
from blankbook.pages.charts.next_lot_chart import next_lot_chart
from blankbook.pages.charts.operating_chart import operating_chart
from blankbook.pages.charts.sizes_chart import sizes_chart, sizes_small_chart
from blankbook.pages.charts.steps_chart import steps_chart
from blankbook.pages.charts.washing_chart import washing_chart

__all__ = [
    "deviation_chart",
    "guide_chart",
    "lots_chart",
    "next_lot_chart",
    "operating_chart",
    "sizes_chart",
    "sizes_small_chart",
    "steps_chart",
    "washing_chart",
]
