"""The charts of a blank's page and of the measuring guide. A further chart joins here.

A drawing gets millimetres and percent, and the words that it writes; the text alternative is made
from the same numbers.
"""

from blankbook.pages.charts.client_shirt_chart import client_shirt_chart
from blankbook.pages.charts.guide_chart import guide_chart
from blankbook.pages.charts.ladder_chart import ladder_charts, troubled_points
from blankbook.pages.charts.lots_chart import lots_chart
from blankbook.pages.charts.next_lot_chart import next_lot_chart
from blankbook.pages.charts.operating_chart import approval_chart, operating_chart
from blankbook.pages.charts.sizes_chart import sizes_chart, sizes_small_chart
from blankbook.pages.charts.steps_chart import steps_chart
from blankbook.pages.charts.washed_shirt_chart import washed_shirt_chart
from blankbook.pages.charts.washing_chart import washing_chart

__all__ = [
    "approval_chart",
    "client_shirt_chart",
    "guide_chart",
    "ladder_charts",
    "lots_chart",
    "next_lot_chart",
    "operating_chart",
    "sizes_chart",
    "sizes_small_chart",
    "steps_chart",
    "troubled_points",
    "washed_shirt_chart",
    "washing_chart",
]
