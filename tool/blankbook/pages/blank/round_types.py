"""Rounds as templates show them: every piece, every reading, as it was written."""

from dataclasses import dataclass

from blankbook.pages.page_types import AnswerSign
from blankbook.pages.record_sources import RecordSource


@dataclass(frozen=True, slots=True)
class PictureLink:
    """Where the two sizes of a picture are; width and height are those of the small one."""

    large: str
    small: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class PagePhoto:
    """A photo that a record names; without a picture only its name is shown."""

    file: str
    shows: str
    picture: PictureLink | None


@dataclass(frozen=True, slots=True)
class PieceRow:
    """One piece as received, or measured again after washing."""

    piece: str
    again: bool
    size: str
    lot: str
    stage: str
    note: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingsTable:
    """Readings as they were written, a column for each point."""

    points: tuple[str, ...]
    rows: tuple[PieceRow, ...]


@dataclass(frozen=True, slots=True)
class GradedCell:
    """A head or a cell of graded parts; words stand at the left, grades in line."""

    text: str
    words: bool


@dataclass(frozen=True, slots=True)
class GradedRow:
    """What was graded of one piece."""

    head: str
    cells: tuple[GradedCell, ...]
    note: str


@dataclass(frozen=True, slots=True)
class GradedTable:
    """Pieces against the parts that were graded."""

    title: str
    heads: tuple[GradedCell, ...]
    rows: tuple[GradedRow, ...]


@dataclass(frozen=True, slots=True)
class SwatchMass:
    """The mass per unit area of a cut swatch, g/m2."""

    piece: str
    mass: str


@dataclass(frozen=True, slots=True)
class RoundArticle:
    """All that is shown of one round."""

    key: str
    source: RecordSource
    date: str
    by: str
    lot: str
    bought: str
    tape: str
    laundering: str
    points: tuple[str, ...]
    rows: tuple[PieceRow, ...]
    graded: tuple[GradedTable, ...]
    swatches: tuple[SwatchMass, ...]
    decision: AnswerSign | None
    decided: str
    """By whom, why and on what conditions."""
    photos: tuple[PagePhoto, ...]
    note: str
    pieces: int


@dataclass(frozen=True, slots=True)
class RoundLine:
    """One round in short, with the page that has all of it."""

    page: str
    key: str
    date: str
    lot: str
    pieces: int
    decision: AnswerSign | None


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """A round that nothing was measured of yet."""

    key: str
    day: str
    says: str
    table: str
    """The page it is measured with."""
    source: RecordSource
