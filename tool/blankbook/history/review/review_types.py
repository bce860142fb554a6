"""What a review of a change holds: one object, which is shown as text, Markdown, data or a page."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from blankbook.history.facts.file_differences import FileChange, FileStatus
from blankbook.history.moved.blank_status import BlankStatus
from blankbook.history.moved.chart_changes import ChartChange
from blankbook.history.moved.client_changes import ClientChartChange
from blankbook.history.moved.rule_changes import is_words_only
from blankbook.history.moved.tolerance_margins import ChartEffects
from blankbook.history.versions.commit_notes import CommitNote
from blankbook.history.versions.revisions import Revision


@dataclass(frozen=True, slots=True)
class BlankReview:
    """What a change does to one blank."""

    key: str
    before: BlankStatus | None
    after: BlankStatus | None
    charts: tuple[ChartChange, ...] = ()
    rounds: tuple[str, ...] = ()
    """Measured rounds that are judged by a chart that moved, by their keys."""
    deliveries: tuple[str, ...] = ()
    """Deliveries that were checked against one, by their keys."""
    chart_effects: Mapping[str, ChartEffects] = field(default_factory=dict)
    """What rests on each chart that moved, by the day it holds from."""
    clients: ClientChartChange | None = None
    """What changes in its chart for clients; None where they see nothing, before or now."""
    photos: tuple[str, ...] = ()
    """Photos that those rounds and deliveries name, as ``record/file``."""

    @property
    def matters(self) -> bool:
        """Whether anything follows from the change, in what holds or in what clients see."""
        return self.changes_outcome or bool(self.clients and self.clients.differs)

    @property
    def changes_outcome(self) -> bool:
        """Whether standing, advice, decision or an answer that they rest on changes.

        The sentence and what clients see do not count.
        """
        if self.before is None or self.after is None:
            return self.before is not self.after
        before, after = (
            (
                *(status.standing, status.advice, status.decision, status.orderable),
                dict(status.answers),
            )
            for status in (self.before, self.after)
        )
        return before != after


@dataclass(frozen=True, slots=True)
class Review:
    """What differs between two versions of a ledger."""

    old: Revision
    new: Revision
    unit: str
    """``in`` or ``cm``: the unit that the shop reads lengths in."""
    blanks: tuple[BlankReview, ...]
    """Those that differ: first where the advice drops furthest, then where any answer changes."""
    files: tuple[FileChange, ...]
    """Every file that is not byte for byte the same, rewrites of the past first."""
    unchanged: int
    """How many files are byte for byte the same."""
    notes: Mapping[str, tuple[CommitNote, ...]]
    """What commits say of each file, by its path."""

    @property
    def differs(self) -> bool:
        """Whether anything differs in meaning."""
        return any(
            file.status is not FileStatus.SAME and not is_words_only(file) for file in self.files
        )

    @property
    def rewritten(self) -> tuple[FileChange, ...]:
        """The files in which the past says something else now."""
        return tuple(file for file in self.files if file.rewrites)

    def count(self, status: FileStatus) -> int:
        """Return how many files have this status."""
        return sum(file.status is status for file in self.files)
