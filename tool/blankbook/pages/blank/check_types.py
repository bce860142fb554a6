"""One check's answers as a template shows them: in rows, in a grid, or in a line."""

from dataclasses import dataclass

from blankbook.pages.page_types import AnswerCount, AnswerSign


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One answer, in a row."""

    head: str
    answer: AnswerSign
    word: str
    """The finer word, where the check has one."""
    reason: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RowGroup:
    """The answers under one head, such as a point of measure."""

    title: str
    deciding: bool
    rows: tuple[CheckRow, ...]


@dataclass(frozen=True, slots=True)
class GridCell:
    """One answer in a grid; no sign where nobody has looked."""

    sign: AnswerSign | None
    text: str


@dataclass(frozen=True, slots=True)
class GridRow:
    """The answers of one piece or step."""

    head: str
    cells: tuple[GridCell, ...]


@dataclass(frozen=True, slots=True)
class AnswerGrid:
    """The answers with a column for each point."""

    shows: str
    """What a cell holds besides the answer."""
    heads: tuple[str, ...]
    rows: tuple[GridRow, ...]


@dataclass(frozen=True, slots=True)
class GridReason:
    """A reason that a grid has no room for."""

    sign: AnswerSign
    where: str
    text: str


@dataclass(frozen=True, slots=True)
class MeansRow:
    """The means at one point, size by size."""

    head: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnchartedMeans:
    """What was measured, and no chart speaks of."""

    sign: AnswerSign
    why: str
    unit: str
    sizes: tuple[str, ...]
    rows: tuple[MeansRow, ...]


@dataclass(frozen=True, slots=True)
class CheckSection:
    """All that a blank's page shows of one check."""

    key: str
    title: str
    question: str
    required: bool
    counts: tuple[AnswerCount, ...]
    answers: int
    """How many the table or the grid holds."""
    first: str
    """What stands over the heads of the rows."""
    heads: tuple[str, ...]
    groups: tuple[RowGroup, ...]
    grid: AnswerGrid | None
    reasons: tuple[GridReason, ...]
    uncharted: UnchartedMeans | None
    silent: tuple[str, ...]
    """What nobody has looked at."""
    left_open: str
    troubles: tuple[GridReason, ...]
    """What fails, and what is required and open: the sentences that a reader needs first."""
    shown: bool
    """Whether the check is shown with its answers."""
