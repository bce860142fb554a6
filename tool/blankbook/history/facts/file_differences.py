"""What differs between two versions of a file: by meaning, and never by line."""

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from blankbook.history.facts.chart_sources import without_source
from blankbook.history.facts.record_facts import Fact, Way, facts
from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Round
from blankbook.text.ledger_files import LedgerFile

_NAMES = {"style", "key", "supplier"}


class What(enum.StrEnum):
    """What became of a file."""

    ADDED = "added"
    REMOVED = "removed"
    CHANGED = "changed"
    RENAMED = "renamed"
    SAME = "the same in meaning"
    UNREADABLE = "cannot be compared"


@dataclass(frozen=True, slots=True)
class Change:
    """One fact that is not what it was."""

    way: Way
    old: Fact | None
    new: Fact | None

    @property
    def by(self) -> Fraction | None:
        """How far a length moved, millimetres, larger being positive."""
        if self.old is None or self.new is None or self.old.mm is None or self.new.mm is None:
            return None
        return self.new.mm - self.old.mm


@dataclass(frozen=True, slots=True)
class FileChange:
    """One file that is not byte for byte what it was."""

    path: str
    kind: str
    blank: str
    what: What
    changes: tuple[Change, ...] = ()
    before: str = ""
    """The path it had, where it was renamed."""
    why: str = ""
    """Why it cannot be compared."""
    sourceless: tuple[str, ...] = ()
    """The days of charts without a source, where that is among its faults."""
    rewrites: tuple[Change, ...] = ()
    """Those of the changes that make the past say something else."""
    reason: str = ""
    """What was written to explain a rewrite."""
    old: Any = field(default=None, compare=False)
    new: Any = field(default=None, compare=False)


def compare(file: LedgerFile, old: LoadedFile | None, new: LoadedFile | None) -> FileChange:
    """Return what became of one file; *old* or *new* is None where there was none."""
    before, after = old and old.record, new and new.record
    made = FileChange(file.path, file.kind, file.blank, What.SAME, old=before, new=after)
    if why := _unreadable(old, new):
        tree = new.parsed.tree if new and new.parsed and file.kind == "style" else None
        return replace(made, what=What.UNREADABLE, why=why, sourceless=tuple(without_source(tree)))
    if new is None:
        return replace(made, what=What.REMOVED, rewrites=_removed(file, before))
    if old is None:
        return replace(made, what=What.ADDED)
    found = differing(facts(before, after), facts(after, before))
    past = tuple(one for one in found if rewrites(file.kind, before, one))
    what = What.CHANGED if found else What.SAME
    return replace(made, what=what, changes=found, rewrites=past, reason=_reason(found))


def _unreadable(old: LoadedFile | None, new: LoadedFile | None) -> str:
    for when, one in (("before", old), ("now", new)):
        if one and one.record is None:
            first = one.findings[0]
            return f"has a fault {when}, line {first.line}: {first.message}"
    return ""


def differing(old: Mapping[Way, Fact], new: Mapping[Way, Fact]) -> tuple[Change, ...]:
    """Return the facts that are not the same on both sides, in the order of the newer file."""
    found = []
    for way in (*new, *(way for way in old if way not in new)):
        one, other = old.get(way), new.get(way)
        if one is None or other is None or not one.means(other):
            found.append(Change(way, one, other))
    return tuple(found)


def rewrites(kind: str, old: Any, one: Change) -> bool:
    """Say whether a change makes the past say something else: only what was said before can."""
    if one.old is None or one.way[-1] in {"note", "confirmed"}:
        return False
    if kind == "style":
        return one.way[0] in {"charts", "prices"}
    return (kind == "round" and isinstance(old, Round)) or kind in {"delivery", "study"}


def _removed(file: LedgerFile, record: Any) -> tuple[Change, ...]:
    if (file.kind == "round" and isinstance(record, Round)) or file.kind in {"delivery", "study"}:
        return (Change(("the whole record",), Fact(file.stem), None),)
    return ()


def _reason(found: tuple[Change, ...]) -> str:
    """Return the note that was written with a change, if there is one."""
    notes = (c.new.text for c in found if c.new and c.way[-1] in {"note", "confirmed"})
    return next(notes, "")


def same_but_for_names(old: Any, new: Any) -> bool:
    """Say whether two records say the same, apart from what they are called."""
    found = differing(facts(old, new), facts(new, old))
    return all(len(one.way) == 1 and one.way[0] in _NAMES for one in found)
