"""A blank whose chart moved, with all that rests on that chart."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.tolerance_margins import Record, touched_by
from blankbook.history.review.review_types import BlankReview
from blankbook.records.model import Delivery, Round, Shop, Style


def with_touched(
    made: BlankReview,
    charts: tuple[ChartChange, ...],
    styles: tuple[Style, Style],
    records: Sequence[Any],
    shop: Shop | None,
) -> BlankReview:
    """Return a review of a blank with its *charts* that moved and what rests on them.

    *styles* are the older and the newer one, *records* what the newer version has of the blank;
    plans and what could not be read say nothing of a chart.
    """
    measured: list[Record] = [one for one in records if isinstance(one, Round | Delivery)]
    touched = {one.since: touched_by(*styles, one.since, measured, shop) for one in charts}
    judged = {key for one in touched.values() for key in one.judged}
    here = [one for one in measured if one.key in judged]
    return replace(
        made,
        charts=charts,
        rounds=tuple(one.key for one in here if isinstance(one, Round)),
        deliveries=tuple(one.key for one in here if isinstance(one, Delivery)),
        touched=touched,
        photos=tuple(f"{one.key}/{photo.file}" for one in here for photo in one.photos),
    )
