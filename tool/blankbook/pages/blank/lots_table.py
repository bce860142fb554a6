"""How far each round was from the chart that held for it: the table beside the chart of lots."""

from typing import Any

from blankbook.pages.value_words import DASH, change_text, point_name, unit_words
from blankbook.records.model import Round
from blankbook.results.evidence import chart_for, charted_length, rounds_and_deliveries, size_sample
from blankbook.results.number_words import say_list
from blankbook.results.over_lots.lot_history import Lot, lots_of
from blankbook.results.result_types import Judged


def lots_table(judged: Judged, unit: str) -> dict[str, Any] | None:
    """Return every round's distance from its chart, newest first; None where there is one only."""
    by_point = {p: lots_of(judged.case, p) for p in judged.case.shop.deciding_points}
    found = {(lot.round.key, point): lot for point, lots in by_point.items() for lot in lots}
    points = [point for point, lots in by_point.items() if lots]
    keys = {key for key, _ in found}
    rounds = [
        round_
        for round_ in reversed(rounds_and_deliveries(judged.case.blank))
        if round_.key in keys
    ]
    if len(rounds) < 2:
        return None
    return {
        "unit": unit_words(unit),
        "points": [point_name(point) for point in points],
        "rows": [
            {
                "date": round_.date.isoformat(),
                "lot": round_.lot,
                "pieces": len(round_.pieces),
                "alarm": say_list(_alarms(judged, round_)),
                "cells": [_cells(judged, found.get((round_.key, p)), p, unit) for p in points],
            }
            for round_ in rounds
        ],
    }


def _alarms(judged: Judged, round_: Round) -> list[str]:
    """Return the points at which this round's lot lies beyond the limits for lots."""
    return [point_name(r.point) for r in judged.of("lots") if round_.lot in r.alarms]


def _cells(judged: Judged, lot: Lot | None, point: str, unit: str) -> dict[str, str]:
    if lot is None:
        return {"mean": DASH, "span": DASH}
    offs = size_deviations(judged, lot.round, point)
    ends = dict.fromkeys(change_text(mm, unit) for mm in (min(offs), max(offs)))
    return {"mean": change_text(lot.off, unit), "span": " to ".join(ends)}


def size_deviations(judged: Judged, round_: Round, point: str) -> list[float]:
    """Return the mean distance from the chart of each size of a round, millimetres."""
    chart = chart_for(judged.case, round_)
    found = []
    for size in judged.blank.style.sizes:
        here, target = size_sample(round_, size, point), charted_length(chart, size, point)
        if here and target is not None:
            found.append(here.mean - target)
    return found
