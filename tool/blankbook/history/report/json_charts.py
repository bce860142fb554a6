"""A chart that moved, and what rests on it, as plain data; millimetres throughout."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from blankbook.history.moved.chart_changes import ChartChange, Moved
from blankbook.history.moved.client_changes import ClientsMoved
from blankbook.history.moved.tolerance_margins import Margin, Touched
from blankbook.history.report.sections import bounded
from blankbook.history.review.review_types import BlankReview

MOST = 200
"""Rows of one list, the worst first; the others are counted."""


def chart_data(blank: BlankReview, one: ChartChange) -> dict[str, Any]:
    """Return one chart that moved."""
    touched = blank.touched.get(one.since, Touched())
    margins = [_margin(margin) for margin in touched.margins[:MOST]]
    return {
        "since": one.since,
        "edited_in_place": one.in_place,
        "source": one.origin,
        "source_dated": one.whence.dated or None,
        "source_page": one.whence.page or None,
        "missing": list(one.whence.missing),
        "cells": _moved(one.cells),
        "steps": _moved(one.steps),
        "uneven": list(one.uneven),
        "not_comparable": list(one.ways),
        "look_again": list(one.suspicions),
        "judged": list(touched.judged),
        "decided": list(touched.decided),
        **bounded("margins", margins, len(touched.margins)),
    }


def clients_data(one: ClientsMoved | None) -> dict[str, Any] | None:
    """Return what changes of a chart for clients."""
    if one is None:
        return None
    cells = [
        {
            "size": cell.size,
            "measure": cell.measure,
            "stage": cell.stage,
            "old": cell.old,
            "new": cell.new,
            "shown": list(cell.shown),
        }
        for cell in one.cells[:MOST]
    ]
    return {
        "called": one.called,
        "before": one.before,
        "after": one.after,
        "differs": one.differs,
        "otherwise": list(one.otherwise),
        **bounded("cells", cells, len(one.cells)),
    }


def rounded_mm(value: Fraction | float | None) -> float | None:
    """Return millimetres as data."""
    return None if value is None else round(float(value), 4)


def _margin(one: Margin) -> dict[str, Any]:
    return {
        "record": one.record,
        "lot": one.lot or None,
        "size": one.size,
        "point": one.point,
        "pieces": one.pieces,
        "old": rounded_mm(one.old),
        "new": rounded_mm(one.new),
        "word": one.word or None,
    }


def _moved(many: Sequence[Moved]) -> list[dict[str, Any]]:
    return [
        {
            "size": one.size,
            "point": one.point,
            "old": rounded_mm(one.old),
            "new": rounded_mm(one.new),
            "by": rounded_mm(one.by),
            "past_tolerance": one.past,
        }
        for one in many
    ]
