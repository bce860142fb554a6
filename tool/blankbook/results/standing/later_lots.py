"""Lots that came after the approved one, each compared with it, size by size.

Where both were charted, each counts by its distance from the chart of its day: a supplier that
moves its chart and its shirts alike has moved nothing. Else they are compared as measured.
"""

import datetime
from dataclasses import dataclass

from blankbook.records.model import Round
from blankbook.results.deliveries.against_approved import beside_charts, compare_rounds
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
    """One, or all that both lots have."""
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
        for row in rows:
            if row.point in case.shop.deciding_points:
                sizes = {other.size for other in rows if other.point == row.point and other.size}
                found.append(
                    LotMove(
                        round_.date,
                        round_.lot,
                        round_.source.path,
                        frozenset({row.size} if row.size else sizes),
                        row.point,
                        row.moved.difference,
                        row.moved.answer == MoveAnswer.MOVED,
                    )
                )
    return found


def _lots_of(round_: Round) -> set[str]:
    return {piece.lot or round_.lot for piece in round_.pieces}
