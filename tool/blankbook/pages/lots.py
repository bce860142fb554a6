"""How far each round was from the chart that held for it, for a chart and the table beside it."""

from dataclasses import dataclass
from statistics import fmean
from typing import Any

from blankbook.pages.showing import NOTHING, change, point_name, unit_words
from blankbook.records.model import Round
from blankbook.results.evidence import chart_for, charted, sample, tolerance
from blankbook.results.frame import Judged


@dataclass(frozen=True, slots=True)
class LotOff:
    """One round at one point of measure. Lengths are millimetres."""

    round: Round
    point: str
    tolerance: float
    sizes: tuple[tuple[str, float], ...]
    """The mean distance from the chart of each size that was measured, smallest first."""
    mean: float
    """Over all pieces."""


def lot_offs(judged: Judged) -> list[LotOff]:
    """Return every round with charted readings at each deciding point, oldest first."""
    found = []
    for point in judged.case.shop.deciding_points:
        rounds = [_lot_off(judged, one, point) for one in judged.blank.rounds]
        found += [one for one in rounds if one]
    return found


def _lot_off(judged: Judged, one: Round, point: str) -> LotOff | None:
    chart = chart_for(judged.case, one)
    sizes, pieces = [], []
    for size in judged.blank.style.sizes:
        here, target = sample(one, size, point), charted(chart, size, point)
        if here and target is not None:
            sizes.append((size, here.mean - target))
            pieces += [value - target for value in here.values]
    if not pieces:
        return None
    allowed = tolerance(judged.case, chart, point)
    return LotOff(one, point, allowed, tuple(sizes), fmean(pieces))


def lots_table(judged: Judged, unit: str) -> dict[str, Any] | None:
    """Return every round's distance from its chart, newest first; None where there is one only."""
    offs = lot_offs(judged)
    rounds = [one for one in reversed(judged.blank.rounds) if any(o.round is one for o in offs)]
    if len(rounds) < 2:
        return None
    points = list(dict.fromkeys(one.point for one in offs))
    found = {(one.round.key, one.point): one for one in offs}
    return {
        "unit": unit_words(unit),
        "points": [point_name(point) for point in points],
        "rows": [
            {
                "date": one.date.isoformat(),
                "lot": one.lot,
                "pieces": len(one.pieces),
                "cells": [_cells(found.get((one.key, point)), unit) for point in points],
            }
            for one in rounds
        ],
    }


def _cells(one: LotOff | None, unit: str) -> dict[str, str]:
    if one is None:
        return {"mean": NOTHING, "span": NOTHING}
    offs = [off for _, off in one.sizes]
    ends = dict.fromkeys(change(mm, unit) for mm in (min(offs), max(offs)))
    return {"mean": change(one.mean, unit), "span": " to ".join(ends)}
