"""What differs between two versions of a file: compared by meaning, never by line."""

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from blankbook.history.facts.chart_sources import charts_without_source
from blankbook.history.facts.record_facts import Fact, FactPath, record_facts
from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Round
from blankbook.text.ledger_files import LedgerFile

_NAMES = {"style", "key", "supplier"}
"""Facts that change where a file or folder is renamed."""
_NOTES = {"note", "confirmed"}
"""Facts that explain others."""


class FileStatus(enum.StrEnum):
    """What became of a file."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"
    RENAMED = "renamed"
    SAME = "the same in meaning"
    UNREADABLE = "cannot be compared"


@dataclass(frozen=True, slots=True)
class FactChange:
    """One fact that changed, came or went."""

    path: FactPath
    old: Fact | None
    new: Fact | None

    @property
    def lengths(self) -> tuple[Fraction, Fraction] | None:
        """What a length was and what it is, millimetres; None where either is no length."""
        if self.old is None or self.new is None or self.old.mm is None or self.new.mm is None:
            return None
        return self.old.mm, self.new.mm

    @property
    def by(self) -> Fraction | None:
        """How far a length moved, millimetres, larger being positive."""
        return self.lengths[1] - self.lengths[0] if self.lengths else None


@dataclass(frozen=True, slots=True)
class FileChange:
    """One file that is not byte for byte what it was."""

    path: str
    kind: str
    blank: str
    status: FileStatus
    changes: tuple[FactChange, ...] = ()
    old_path: str = ""
    """The path it had, where it was renamed."""
    fault: str = ""
    """Why it cannot be compared."""
    charts_without_source: tuple[str, ...] = ()
    """The days of charts without a source, where that is why it cannot be compared."""
    rewrites: tuple[FactChange, ...] = ()
    """Those of the changes that make the past say something else."""
    reason: str = ""
    """What was written to explain a rewrite."""
    old: Any = field(default=None, compare=False)
    """The older record; None where there was none, or it has a fault."""
    new: Any = field(default=None, compare=False)
    """The newer record, likewise."""


def compare_file(file: LedgerFile, old: LoadedFile | None, new: LoadedFile | None) -> FileChange:
    """Return what became of one file; *old* or *new* is None where there was none."""
    before, after = old and old.record, new and new.record
    made = FileChange(file.path, file.kind, file.blank, FileStatus.SAME, old=before, new=after)
    if fault := _first_fault(old, new):
        tree = new.parsed.tree if new and new.parsed and file.kind == "style" else None
        return replace(
            made,
            status=FileStatus.UNREADABLE,
            fault=fault,
            charts_without_source=tuple(charts_without_source(tree)),
        )
    if new is None:
        return replace(made, status=FileStatus.REMOVED, rewrites=_removed_past(file, before))
    if old is None:
        return replace(made, status=FileStatus.ADDED)
    found = fact_changes(record_facts(before, after), record_facts(after, before))
    past = tuple(change for change in found if is_rewrite(file.kind, before, change))
    status = FileStatus.CHANGED if found else FileStatus.SAME
    return replace(made, status=status, changes=found, rewrites=past, reason=_reason(found))


def _first_fault(old: LoadedFile | None, new: LoadedFile | None) -> str:
    """Return why the two cannot be compared; empty where they can."""
    for when, entry in (("before", old), ("now", new)):
        if entry and entry.record is None:
            first = entry.findings[0]
            return f"has a fault {when}, line {first.line}: {first.message}"
    return ""


def fact_changes(
    old: Mapping[FactPath, Fact], new: Mapping[FactPath, Fact]
) -> tuple[FactChange, ...]:
    """Return the facts that differ, in the order of the newer record; what went comes last."""
    found = []
    for path in (*new, *(path for path in old if path not in new)):
        was, now = old.get(path), new.get(path)
        if was is None or now is None or not was.is_same_as(now):
            found.append(FactChange(path, was, now))
    return tuple(found)


def is_rewrite(kind: str, old: Any, change: FactChange) -> bool:
    """Say whether a change makes the past say something else.

    A fact that is added does not. A style states what a supplier claims today, so only its dated
    charts and prices are the past; of a round that was only planned, nothing is.
    """
    if change.old is None or change.path[-1] in _NOTES:
        return False
    if kind == "style":
        return change.path[0] in {"charts", "prices"}
    return (kind == "round" and isinstance(old, Round)) or kind in {"delivery", "study"}


def _removed_past(file: LedgerFile, record: Any) -> tuple[FactChange, ...]:
    if (file.kind == "round" and isinstance(record, Round)) or file.kind in {"delivery", "study"}:
        return (FactChange(("the whole record",), Fact(file.stem), None),)
    return ()


def _reason(found: tuple[FactChange, ...]) -> str:
    """Return the note that was written with a change; empty where there is none."""
    notes = (change.new.text for change in found if change.new and change.path[-1] in _NOTES)
    return next(notes, "")


def is_same_but_for_names(old: Any, new: Any) -> bool:
    """Say whether two records say the same, apart from what they are called."""
    found = fact_changes(record_facts(old, new), record_facts(new, old))
    return all(len(change.path) == 1 and change.path[0] in _NAMES for change in found)
