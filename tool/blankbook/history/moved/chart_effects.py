"""A blank whose chart moved, with all that rests on that chart."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.tolerance_margins import MeasuredRecord, chart_effects
from blankbook.history.review.review_types import BlankReview
from blankbook.records.model import Delivery, Round, Shop, Style


def with_chart_effects(
    blank: BlankReview,
    charts: tuple[ChartChange, ...],
    styles: tuple[Style, Style],
    records: Sequence[Any],
    shop: Shop | None,
) -> BlankReview:
    """Return the review of a blank with its *charts* that moved and what rests on them.

    *styles* are the older and the newer one. *records* are those of the newer version; plans and
    what could not be read say nothing of a chart.
    """
    measured: list[MeasuredRecord] = [
        record for record in records if isinstance(record, Round | Delivery)
    ]
    effects = {chart.since: chart_effects(*styles, chart.since, measured, shop) for chart in charts}
    keys = {key for of_chart in effects.values() for key in of_chart.judged}
    judged = [record for record in measured if record.key in keys]
    return replace(
        blank,
        charts=charts,
        rounds=tuple(record.key for record in judged if isinstance(record, Round)),
        deliveries=tuple(record.key for record in judged if isinstance(record, Delivery)),
        chart_effects=effects,
        photos=tuple(f"{record.key}/{photo.file}" for record in judged for photo in record.photos),
    )
