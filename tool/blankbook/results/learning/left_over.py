"""What is left of a blank's readings at one point once sizes, lots and colours are taken out.

Source: least squares on an additive model; the squares that lots add, by fitting constants:
Henderson 1953 (method 3), Biometrics 9, 226-252.
Units: square millimetres.
"""

from collections.abc import Collection, Hashable, Sequence

import numpy as np

from blankbook.results.causes.point_readings import PointReadings, Vector
from blankbook.results.piece_spread import Pool


def left_over(readings: PointReadings, aside: Collection[str]) -> Pool:
    """Return the squares that size, lot and colour leave, and their degrees of freedom.

    Pieces *aside* are left out: their tags are wrong.
    """
    off, kept = _kept(readings, aside)
    groups = [readings.groups[at] for at in kept]
    design = np.hstack([_members([readings.tags[at] for at in kept]), _members(groups)])
    rest = _rest(off, design)
    return Pool(float(rest @ rest), len(kept) - int(np.linalg.matrix_rank(design)))


def lots_apart(readings: PointReadings, aside: Collection[str]) -> list[float]:
    """Return the squares that lots add to sizes and colours, their freedom, and their factor.

    The factor is what the variance between lots is multiplied with in the squares. Empty where one
    lot was measured, or lots cannot be told from sizes.
    """
    off, kept = _kept(readings, aside)
    lots = _members([readings.groups[at].lot for at in kept])
    tags, colours = (
        [of[at] for at in kept] for of in (readings.tags, [g.colour for g in readings.groups])
    )
    others = np.hstack([_members(tags), _members(colours)])
    if lots.shape[1] < 2:
        return []
    design = np.hstack([others, lots])
    freedom = int(np.linalg.matrix_rank(design) - np.linalg.matrix_rank(others))
    without, with_lots = _rest(off, others), _rest(off, design)
    factor = float((_rest(lots, others) ** 2).sum())
    squares = float(without @ without - with_lots @ with_lots)
    return [squares, freedom, factor] if freedom else []


def _kept(readings: PointReadings, aside: Collection[str]) -> tuple[Vector, list[int]]:
    kept = [at for at, piece in enumerate(readings.pieces) if piece not in aside]
    return readings.off[kept], kept


def _members(names: Sequence[Hashable]) -> Vector:
    """Return a column for each name, with ones where it stands. Shape: readings, names."""
    found = list(dict.fromkeys(names))
    return np.array([[float(name == other) for other in found] for name in names]).reshape(
        len(names), len(found)
    )


def _rest(values: Vector, design: Vector) -> Vector:
    return np.asarray(values - design @ np.linalg.lstsq(design, values, rcond=None)[0])
