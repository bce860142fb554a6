"""A size chart as far as it was understood, remarks on it, and what only a person can say."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from blankbook.entry.tables.table_cells import Cell
from blankbook.entry.tables.table_dates import looks_like_date, serial_date_help
from blankbook.records.lengths import Length
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class TableHints:
    """What a person says about a chart or a table of readings."""

    unit: str = ""
    points: Mapping[str, str] = field(default_factory=dict)
    """By heading: the point that it means, or - to leave it out."""
    around: Collection[str] = ()
    """Points that the table gives all the way around."""
    flat: Collection[str] = ()
    """Points that the table gives flat, however large the lengths look."""


@dataclass(frozen=True, slots=True)
class CellTrouble:
    """A cell that was not understood."""

    address: str
    text: str
    why: str
    instead: str = ""


class MissingAnswerError(Exception):
    """A table leaves something open that only a person can say."""

    def __init__(
        self, what: str, words: str, likely: str, *, point: str = "", heading: str = ""
    ) -> None:
        super().__init__(words)
        self.what, self.likely, self.point, self.heading = what, likely, point, heading
        """*what* is ``unit`` or ``around``; *likely* is the likelier answer."""


@dataclass(slots=True)
class Remarks:
    """Remarks on a chart, collected while it is read."""

    troubles: list[CellTrouble] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    """The addresses of what was left out; of a row or a column, that of its heading."""
    covered: set[str] = field(default_factory=set)
    """The addresses of all cells that were read, remarked on, or left out with a remark."""

    def trouble(self, cell: Cell, why: str, instead: str = "") -> None:
        """Note a cell that was not understood, once."""
        if looks_like_date(cell.text):
            counted = serial_date_help(cell.text)
            what = "counts days so" if counted else "has made a day of it"
            instead = f"a spreadsheet {what}: write it as text, such as 3-4 or 22 1/8"
        trouble = CellTrouble(cell.address, cell.text, why, instead)
        self.covered.add(cell.address)
        if trouble not in self.troubles:
            self.troubles.append(trouble)

    def note(self, cell: Cell, words: str) -> None:
        """Note what was done with a cell."""
        self.covered.add(cell.address)
        self.notes.append(f"{cell.address} {cell.text}".strip() + f": {words}")

    def leave_out(self, cell: Cell, why: str, with_it: Iterable[Cell] = ()) -> None:
        """Note a cell that was left out, with the cells *with_it* that its heading speaks for."""
        self.left_out.append(cell.address)
        self.cover(with_it)
        self.note(cell, f"left out, {why}")

    def cover(self, cells: Iterable[Cell]) -> None:
        """Remember cells that were read."""
        self.covered.update(cell.address for cell in cells)


@dataclass(slots=True)
class SizeChart:
    """A size chart, as far as it was understood."""

    unit: str
    across: bool
    """Whether the sizes stand across, and the points down."""
    sizes: dict[str, dict[str, Length]] = field(default_factory=dict)
    tolerance: dict[str, Length] = field(default_factory=dict)
    how: dict[str, str] = field(default_factory=dict)
    halved: list[str] = field(default_factory=list)
    remarks: Remarks = field(default_factory=Remarks)

    @property
    def points(self) -> list[str]:
        """The points of the chart, in the order of the vocabulary."""
        return [point for point in POINTS if any(point in row for row in self.sizes.values())]
