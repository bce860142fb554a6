"""What is let through: by a delivery's plan, by the share that is bad, and by the advice."""

from collections.abc import Sequence
from typing import Any

from blankbook.pages.charts.chart_data import blank_chart
from blankbook.pages.charts.chart_types import (
    ApprovalData,
    ApprovalLine,
    OperatingData,
    PlanChance,
    PlanMark,
)
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


def approval_chart(rows: Sequence[dict[str, Any]]) -> ChartSpec[ApprovalData]:
    """Return how often simulated styles were approved, by how far one size is off.

    *rows* are those of the trials' table, sorted by what was bought and then by the distance.
    """
    names = dict.fromkeys(row["bought"] for row in rows)
    lines = tuple(
        ApprovalLine(
            name, tuple((row["off"], row["approved"]) for row in rows if row["bought"] == name)
        )
        for name in names
    )
    says = (
        f"{line.name}: " + ", ".join(f"{off:g} off {100 * c:.0f}" for off, c in line.chances)
        for line in lines
    )
    alt = f"Approved, times in 100, by tolerances that one size is off. {'; '.join(says)}."
    data = ApprovalData(max(row["off"] for row in rows), lines)
    return ChartSpec("charts/method.approval.svg", data, alt, 360, 250)


def _chance(chance: float) -> float:
    return chart_number(chance, digits=4)
