"""What a review of a change holds: one object, which is shown as text, Markdown, data or a page."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.history.facts.file_differences import FileChange, What
from blankbook.history.moved.blank_status import Standing
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.client_changes import ClientsMoved
from blankbook.history.moved.rule_changes import only_words
from blankbook.history.moved.tolerance_margins import Touched
from blankbook.history.versions.commit_notes import Told
from blankbook.history.versions.revisions import Revision


@dataclass(frozen=True, slots=True)
class BlankReview:
    """What a change does to one blank."""

    key: str
    before: Standing | None
    after: Standing | None
    charts: tuple[ChartChange, ...] = ()
    rounds: tuple[str, ...] = ()
    """Measured rounds that are judged by a chart that moved."""
    deliveries: tuple[str, ...] = ()
    """Deliveries that were held against one."""
    touched: Mapping[str, Touched] = field(default_factory=dict)
    """What rests on each chart that moved, by the day it holds from."""
    clients: ClientsMoved | None = None
    """What clients see of it otherwise; None where they see nothing, before or now."""
    photos: tuple[str, ...] = ()
    """Those that the records by a chart that moved name, as ``record/file``."""

    @property
    def counts(self) -> bool:
        """Whether anything follows for it, in advice or in what clients see."""
        return self.flips or bool(self.clients and self.clients.differs)

    @property
    def flips(self) -> bool:
        """Whether advice, decision or an answer that it rests on is another one."""
        if self.before is None or self.after is None:
            return self.before is not self.after
        one, other = self.before, self.after
        told = [(s.advice, s.decision, s.orderable, dict(s.answers)) for s in (one, other)]
        return told[0] != told[1]


@dataclass(frozen=True, slots=True)
class Review:
    """What differs between two versions of a ledger."""

    old: Revision
    new: Revision
    unit: str
    """``in`` or ``cm``: how the shop reads lengths."""
    blanks: tuple[BlankReview, ...]
    """Those that differ: first where the advice falls furthest, then where any answer changes."""
    files: tuple[FileChange, ...]
    """Every file that is not byte for byte the same, rewrites of the past first."""
    unchanged: int
    told: Mapping[str, tuple[Told, ...]]

    @property
    def differs(self) -> bool:
        """Whether anything differs in meaning."""
        return any(one.what is not What.SAME and not only_words(one) for one in self.files)

    @property
    def rewritten(self) -> tuple[FileChange, ...]:
        """The files in which the past says something else now."""
        return tuple(one for one in self.files if one.rewrites)

    def count(self, what: What) -> int:
        """Return how many files became this."""
        return sum(one.what is what for one in self.files)
