"""A supplier's size charts, version by version: what each says otherwise than the one before."""

from typing import Any

from blankbook.history.moved.chart_versions import Version
from blankbook.pages.value_words import DASH, change_text, length_text, point_name
from blankbook.records.model import Style
from blankbook.words.points import POINTS

Shown = dict[str, Any]


def version_context(version: Version, style: Style, unit: str) -> Shown:
    """Return one chart against the one before it, lengths in the shop's unit."""
    at = {(cell.size, cell.point) for cell in version.moved} | version.came | version.went
    points = [point for point in POINTS if any(point == cell[1] for cell in at)]
    charted = {point for row in version.chart.sizes.values() for point in row}
    return {
        "since": version.chart.since.isoformat(),
        "origin": version.chart.origin,
        "first": version.first,
        "sizes": list(style.sizes) if points else [],
        "rows": [
            {
                "head": point_name(point),
                "cells": [_cell(version, size, point, unit) for size in style.sizes],
            }
            for point in points
        ],
        "same": [
            point_name(p) for p in POINTS if p in charted and p not in (*points, *version.unlike)
        ],
        "told": [
            *(
                f"{point_name(point)}: the tolerance is ± {length_text(now, unit)}, was "
                f"± {length_text(was, unit)}"
                for point, was, now in version.tolerances
            ),
            *(
                f"{point_name(point)}: measured {now}, was {was}"
                + (
                    ", another length: the two are not comparable"
                    if point in version.unlike
                    else ""
                )
                for point, was, now in version.otherwise
            ),
            *version.suspicions,
        ],
    }


def _cell(version: Version, size: str, point: str, unit: str) -> Shown:
    """Return what became of a cell; *past* where it moved by more than the tolerance."""
    if (size, point) in version.came:
        return {"text": "new", "past": False}
    if (size, point) in version.went:
        return {"text": "left out", "past": False}
    for cell in version.moved:
        if (cell.size, cell.point) == (size, point):
            return {"text": change_text(float(cell.by), unit), "past": cell.past}
    held = point in version.chart.sizes.get(size, {})
    return {"text": change_text(0.0, unit) if held else DASH, "past": False}
