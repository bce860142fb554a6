"""What the charts of a blank have in common: their path, their width, means and tolerances."""

from typing import TypeVar

from blankbook.pages.charts.chart_types import ChartData
from blankbook.pages.charts.panel_types import MeanLimits, Tolerance
from blankbook.pages.draw.axis_labels import chart_number, printable, short_label
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import change_text, point_name, unit_name
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Number, Result
from blankbook.words.answers import Answer

Data = TypeVar("Data", bound=ChartData)

CHART_WIDTH = 360
"""Pixels: a phone's whole width."""
TITLE_HEIGHT, PLOT_HEIGHT, FOOT_HEIGHT = 25, 66, 38
"""Pixels of a panel: its name, its marks, and the two lines of words below them."""
PANEL_HEIGHT = TITLE_HEIGHT + PLOT_HEIGHT + FOOT_HEIGHT


def blank_chart(judged: Judged, name: str, data: Data, alt: str, height: int) -> ChartSpec[Data]:
    """Return a blank's chart called *name*, as wide as a phone."""
    # Charts share their supplier's folder. With a folder for each blank, a file system takes longer
    # to remove the old site than one changed reading takes in all.
    path = f"charts/{judged.blank.style.key}.{name}.svg"
    return ChartSpec(path, data, printable(alt), CHART_WIDTH, height)


def shop_unit(judged: Judged) -> str:
    """Return the shop's unit of length."""
    return judged.case.shop.unit


def unit_title(judged: Judged, point: str) -> str:
    """Return a point with the unit of its scale, as a chart is titled."""
    return f"{point_name(point)}, {unit_name(shop_unit(judged))}"


def mean_limits(number: Number, digits: int = 2) -> MeanLimits:
    """Return a mean with its limits, rounded; where a limit is missing it is the mean."""
    return MeanLimits(
        chart_number(number.value, digits=digits),
        chart_number(number.low, number.value, digits),
        chart_number(number.high, number.value, digits),
    )


def tolerance_of(mm: float, unit: str) -> Tolerance:
    """Return how far from the chart is allowed, and the three ways to write it beside a scale."""
    words = change_text(mm, unit)
    return Tolerance(chart_number(mm), words, change_text(-mm, unit), f"±{words.removeprefix('+')}")


def is_outside(result: Result) -> bool:
    """Say whether the evidence shows a result to be outside what is asked."""
    return result.answer == Answer.FAILS


def piece_count(result: Result) -> int:
    """Return how many pieces a result rests on."""
    number = result.number(Quantity.PIECES)
    return round(number.value) if number else 0


def joined_labels(labels: list[str]) -> str:
    """Return size labels side by side, as short as they must be."""
    return ", ".join(short_label(label) for label in labels)
