"""A chart that moved, and what rests on it, as JSON data. All lengths are millimetres."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from blankbook.history.moved.chart_changes import ChartChange, LengthChange
from blankbook.history.moved.client_changes import ClientChartChange
from blankbook.history.moved.tolerance_margins import ChartEffects, Margin
from blankbook.history.report.sections import bounded_rows
from blankbook.history.review.review_types import BlankReview

MOST_DATA_ROWS = 200
"""Rows of one list, the worst first; the others are counted."""


def chart_change_data(blank: BlankReview, change: ChartChange) -> dict[str, Any]:
    """Return one chart of a blank that moved, and what rests on it."""
    effects = blank.chart_effects.get(change.since, ChartEffects())
    margins = [_margin(margin) for margin in effects.margins[:MOST_DATA_ROWS]]
    return {
        "since": change.since,
        "edited_in_place": change.in_place,
        "source": change.source_text,
        "source_dated": change.source.dated or None,
        "source_page": change.source.page or None,
        "missing": list(change.source.missing),
        "cells": _length_changes(change.cells),
        "steps": _length_changes(change.steps),
        "uneven": list(change.uneven),
        "not_comparable": list(change.not_comparable),
        "look_again": list(change.suspicions),
        "judged": list(effects.judged),
        "decided": list(effects.decided),
        **bounded_rows("margins", margins, len(effects.margins)),
    }


def client_change_data(clients: ClientChartChange | None) -> dict[str, Any] | None:
    """Return what changes of a chart for clients."""
    if clients is None:
        return None
    cells = [
        {
            "size": cell.size,
            "measure": cell.measure,
            "stage": cell.stage,
            "old": cell.old,
            "new": cell.new,
            "shown": list(cell.texts),
        }
        for cell in clients.cells[:MOST_DATA_ROWS]
    ]
    return {
        "called": clients.name,
        "before": clients.before,
        "after": clients.after,
        "differs": clients.differs,
        "otherwise": list(clients.other_changes),
        **bounded_rows("cells", cells, len(clients.cells)),
    }


def rounded_mm(value: Fraction | float | None) -> float | None:
    """Return millimetres as data."""
    return None if value is None else round(float(value), 4)


def _margin(margin: Margin) -> dict[str, Any]:
    return {
        "record": margin.record,
        "lot": margin.lot or None,
        "size": margin.size,
        "point": margin.point,
        "pieces": margin.pieces,
        "old": rounded_mm(margin.old),
        "new": rounded_mm(margin.new),
        "word": margin.outcome or None,
    }


def _length_changes(changes: Sequence[LengthChange]) -> list[dict[str, Any]]:
    return [
        {
            "size": change.size,
            "point": change.point,
            "old": rounded_mm(change.old),
            "new": rounded_mm(change.new),
            "by": rounded_mm(change.by),
            "past_tolerance": change.past_tolerance,
        }
        for change in changes
    ]
