"""Charts of nothing: whatever is missing from a chart's data, what is there is drawn."""

import warnings
import xml.etree.ElementTree as ET
from typing import get_args

import pytest

from blankbook.pages.charts.chart_types import (
    ApprovalData,
    ChartData,
    GuideData,
    LotsData,
    LotsPanel,
    LotsSize,
    NextLotData,
    NextLotPanel,
    OperatingData,
    ScaleBar,
    SizesData,
    SmallSizesData,
    StepsData,
    StepsPanel,
    WashedShirtData,
    WashingData,
    WashingPanel,
)
from blankbook.pages.charts.guide_chart import SHIRT
from blankbook.pages.charts.ladder_types import ClientShirtData, LadderData, Rung
from blankbook.pages.charts.over_time_types import (
    AxisDays,
    OverTimeData,
    SizePanel,
    Strip,
    StripData,
)
from blankbook.pages.charts.panel_types import Column, MeanLimits, Tolerance
from blankbook.pages.draw.drawings import draw
from blankbook.pages.page_spec import ChartSpec

HALF_INCH = Tolerance(12.7, "+1/2", "-1/2", "±1/2")
MEAN = MeanLimits(3.0, 1.0, 5.0)
NO_DAYS = AxisDays((), (), (), (), 1)
NO_PIECES = Column("M", "n 0", MEAN, fails=False, pieces=(), allowed=12.7)
NO_RUNG = Rung("M", None, 0.0, None, (), (), fails=False)
SPREAD = {"half_chest": 6.0, "body_length": 8.0}

EMPTY: dict[str, ChartData] = {
    "sizes": SizesData((), (), 0.4, ScaleBar(127.0, "5 in"), SPREAD, (), (), assumed=False),
    "small sizes": SmallSizesData(()),
    "ladder": LadderData("hem_width", "hem, in", 0.0, 1.0, (), ()),
    "ladder of no piece": LadderData("hem_width", "hem, in", 0.0, 1.0, (), (NO_RUNG,)),
    "steps": StepsData("", ()),
    "no step": StepsData("", (StepsPanel("hem", -1.0, 1.0, (), ()),)),
    "washing": WashingData(()),
    "no wash": WashingData((WashingPanel("hem, %", -1.0, 1.0, (), (), ()),)),
    "washing of no piece": WashingData((WashingPanel("hem, %", -1.0, 9.0, (), (), (NO_PIECES,)),)),
    "lots": LotsData(66, (), (), ()),
    "lots of no size": LotsData(66, (0,), ("2026-01",), (LotsPanel("hem", HALF_INCH, ()),)),
    "lots without a mark": LotsData(
        66, (0, 9), ("2026-01", "2026-01"), (LotsPanel("hem", HALF_INCH, (LotsSize("M", ()),)),)
    ),
    "next lot": NextLotData(()),
    "next lot after none": NextLotData((NextLotPanel("hem", HALF_INCH, (), MEAN),)),
    "operating": OperatingData(0.3, (), (), ()),
    "approval": ApprovalData(1.5, ()),
    "over time": OverTimeData(NO_DAYS, 22, "hem", HALF_INCH, (), (), (), 0, ()),
    "over time of a size": OverTimeData(
        NO_DAYS, 22, "hem", HALF_INCH, (), (), (), 1, (SizePanel("M", (), ()),)
    ),
    "strip": StripData(NO_DAYS, ()),
    "strip of a point": StripData(NO_DAYS, (Strip("hem", HALF_INCH, (), ()),)),
    "washed shirt": WashedShirtData(SHIRT, SHIRT, 0.2, ScaleBar(127.0, "5 in"), ("M new", "")),
    "shirt for clients": ClientShirtData((), (), 0.4, (), ()),
    "guide": GuideData("hem_width", "hem width", SHIRT),
}
"""Every kind of chart with nothing in it, and with a panel that has nothing in it."""


def test_every_kind_is_here() -> None:
    """A further chart is also drawn of nothing."""
    assert {type(data) for data in EMPTY.values()} == set(get_args(ChartData))


@pytest.mark.parametrize("name", EMPTY)
def test_nothing_is_drawn_as_an_empty_chart(name: str) -> None:
    """A chart of nothing is a sheet of its size with its title, and no number that is none."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        made = draw(ChartSpec("charts/a/b.svg", EMPTY[name], f"Nothing: {name}", 360, 240))
    root = ET.fromstring(made)

    assert root.get("viewBox") == "0 0 360 240"
    assert root.findtext("{http://www.w3.org/2000/svg}title") == f"Nothing: {name}"
    assert b"nan" not in made.split(b"</style>")[1].lower()
