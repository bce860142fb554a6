"""How the sizing of a supplier's blanks moves over lots."""

from collections.abc import Sequence
from dataclasses import dataclass

from blankbook.pages.over_time.history_types import OverTimeLink
from blankbook.pages.over_time.lots_table import LotRow, LotsTable
from blankbook.pages.shop.blank_row import BlankRow
from blankbook.pages.value_words import DASH


@dataclass(frozen=True, slots=True)
class LotMeans:
    """One lot of a blank: its mean off the chart, a cell for each point of the whole table."""

    date: str
    lot: str
    alarm: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BlankLots:
    """The lots of one blank."""

    name: str
    path: str
    over_time: OverTimeLink | None
    rows: tuple[LotMeans, ...]


@dataclass(frozen=True, slots=True)
class SupplierLots:
    """The lots of every blank of a supplier that has two or more."""

    unit: str
    points: tuple[str, ...]
    styles: tuple[BlankLots, ...]


def supplier_lots(rows: Sequence[BlankRow]) -> SupplierLots | None:
    """Return the lots of a supplier's blanks; None where none has two or more."""
    found = [(row, row.lots) for row in rows if row.lots]
    if not found:
        return None
    points = tuple(dict.fromkeys(point for _, lots in found for point in lots.points))
    styles = (
        BlankLots(
            name=row.listed.name,
            path=row.listed.path,
            over_time=row.over_time,
            rows=tuple(_means(line, lots, points) for line in lots.rows),
        )
        for row, lots in found
    )
    return SupplierLots(found[0][1].unit, points, tuple(styles))


def _means(line: LotRow, lots: LotsTable, points: Sequence[str]) -> LotMeans:
    cells = dict(zip(lots.points, line.cells, strict=True))
    means = (cells[point].mean if point in cells else DASH for point in points)
    return LotMeans(line.date, line.lot, line.alarm, tuple(means))
