"""Lots that came after the approved one, each compared with it, size by size.

Where both were charted, each counts by its distance from the chart of its day: a supplier that
moves its chart and its shirts alike has moved nothing. Else they are compared as measured.
"""

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from blankbook.records.model import Round
from blankbook.results.deliveries.against_approved import (
    PointComparison,
    beside_charts,
    compare_rounds,
)
from blankbook.results.evidence import rounds_and_deliveries
from blankbook.results.methods.equivalence import MoveAnswer
from blankbook.results.result_types import Case


@dataclass(frozen=True, slots=True)
class LotMove:
    """What a later lot shows of some sizes at one point against the approved lot."""

    day: datetime.date
    lot: str
    source: str
    sizes: frozenset[str]
    whole: bool
    """Whether these are all that both lots have, and more than one."""
    point: str
    by: float
    """Millimetres; negative is smaller."""
    moved: bool
    """Whether it is shown to lie beyond the margin."""


def lot_moves(case: Case, approved: Round, since: datetime.date) -> list[LotMove]:
    """Return what each lot from *since* on shows against the approved one, the oldest first."""
    own = _lots_of(approved)
    found = []
    for round_ in rounds_and_deliveries(case.blank):
        if round_.date < since or round_.source.path == approved.source.path:
            continue
        if not own.isdisjoint(_lots_of(round_)):
            continue
        rows = compare_rounds(case, approved, round_, beside_charts)
        for point in case.shop.deciding_points:
            here = [row for row in rows if row.point == point]
            found += [_move_of(round_, row, here) for row in here]
    return found


def _move_of(round_: Round, row: PointComparison, own: Sequence[PointComparison]) -> LotMove:
    """Return a move of one size, or of those that moved together.

    A size that lies nearer to where it was than to the move of all is no part of that move: one
    size that is far off does not make a lot that is.
    """
    by, moved = row.moved.difference, row.moved.answer == MoveAnswer.MOVED
    each = {other.size: other.moved.difference for other in own if other.size}
    part = {row.size: by} if row.size else each
    if moved and not row.size:
        part = {size: apart for size, apart in each.items() if apart / by >= 0.5}
        by = by if len(part) == len(each) else fmean(part.values())
    sizes, whole = frozenset(part), len(part) == len(each) > 1
    source = round_.source.path
    return LotMove(round_.date, round_.lot, source, sizes, whole, row.point, by, moved)


def sizes_off(moves: Iterable[LotMove]) -> frozenset[str]:
    """Return the sizes that moved while others of their lot did not."""
    off = [move.sizes for move in moves if move.moved and not move.whole]
    return frozenset().union(*off)


def _lots_of(round_: Round) -> set[str]:
    return {piece.lot or round_.lot for piece in round_.pieces}
