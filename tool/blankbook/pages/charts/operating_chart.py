"""What the chart of a delivery's plan shows: how often it accepts, by the share that is bad."""

from blankbook.pages.charts.chart_data import blank_chart
from blankbook.pages.charts.chart_types import OperatingData, PlanChance, PlanMark
from blankbook.pages.draw.axis_labels import chart_number
from blankbook.pages.page_spec import ChartSpec
from blankbook.results.checks.delivery import (
    SHARES_BAD,
    is_expected,
    next_plan,
    operating_characteristic,
)
from blankbook.results.methods.sampling_plans import acceptance_chance
from blankbook.results.number_words import say_share
from blankbook.results.result_types import Judged

_HEIGHT = 190
_STEPS = 40
"""Straight pieces that the curve is drawn in."""


def operating_chart(judged: Judged) -> ChartSpec[OperatingData] | None:
    """Return how often the next delivery's plan accepts, over the shares bad of its table.

    None where no delivery is to be expected.
    """
    if not is_expected(judged):
        return None
    _, _, plan = next_plan(judged.case)
    characteristic = operating_characteristic(plan)
    most = SHARES_BAD[-1]
    shares = [most * step / _STEPS for step in range(_STEPS + 1)]
    # The standards name these two: what the producer and the consumer risk (1 in 20, 1 in 10).
    marks = [
        (characteristic.producers_risk_quality, 0.95),
        (characteristic.consumers_risk_quality, 0.10),
    ]
    data = OperatingData(
        most=most,
        curve=tuple(
            PlanChance(chart_number(s, digits=5), _chance(acceptance_chance(plan, s)))
            for s in shares
        ),
        table=tuple(PlanChance(share, _chance(chance)) for share, chance in characteristic.chances),
        marks=tuple(
            PlanMark(
                PlanChance(chart_number(share, digits=5), chance),
                f"{say_share(share)} bad: {chance * 100:.0f} in 100",
            )
            for share, chance in marks
            if share <= most
        ),
    )
    chances = "; ".join(f"{say_share(s)} bad {say_share(c)}" for s, c in characteristic.chances)
    alt = (
        f"How often a delivery is accepted, by the share that the supplier makes bad: {chances}. "
        f"95 times in 100 at {say_share(characteristic.producers_risk_quality)} bad, "
        f"10 times in 100 at {say_share(characteristic.consumers_risk_quality)} bad."
    )
    return blank_chart(judged, "operating", data, alt, _HEIGHT)


def _chance(chance: float) -> float:
    return chart_number(chance, digits=4)
