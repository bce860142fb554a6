"""What the drawings of the measuring guide show."""

from blankbook.pages.charts.chart_types import GuideData
from blankbook.pages.draw.shirt_outline import tape_length, tape_line
from blankbook.pages.page_spec import ChartSpec
from blankbook.pages.value_words import point_name
from blankbook.records.lengths import say_length
from blankbook.words.points import INCH, POINTS

SHIRT = {
    "half_chest": 22 * float(INCH),
    "body_length": 30 * float(INCH),
    "shoulder_width": 19 * float(INCH),
    "sleeve_length": 9 * float(INCH),
    "sleeve_opening": 7.5 * float(INCH),
    "hem_width": 22 * float(INCH),
    "neck_opening": 7.5 * float(INCH),
    "rib_height": 1.0 * float(INCH),
}
"""The garment of the guide: an adult L in the usual grade (common practice, no source)."""
SIZE = (240, 206)


def guide_chart(point: str) -> ChartSpec[GuideData]:
    """Return the drawing of one point of measure, to scale."""
    data = GuideData(point, point_name(point), SHIRT)
    long = say_length(tape_length(tape_line(point, SHIRT)), "in")
    alt = (
        f"Where the tape goes for the {point_name(point)}: {POINTS[point].where} "
        f"An arrow shows it on the outline of a T-shirt, where it is {long} long."
    )
    return ChartSpec(f"charts/guide/{point}.svg", data, alt, *SIZE)
