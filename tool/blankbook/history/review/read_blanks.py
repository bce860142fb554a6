"""What a review reads of both versions: the blanks that differ, and what all others teach."""

import gc
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from blankbook.history.facts.file_differences import FileChange, compare
from blankbook.history.versions.version_bytes import Version
from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Blank
from blankbook.records.processes import map_in_processes
from blankbook.records.rule_context import RuleContext
from blankbook.text.ledger_files import LedgerFile

Both = tuple[Version, Version]


class Entries:
    """The records of both versions; what is the same in both is read once."""

    def __init__(self, both: Both) -> None:
        self.both = both
        self._read: dict[tuple[str, str], LoadedFile] = {}

    def of(self, side: int, file: LedgerFile) -> LoadedFile:
        """Return one record of the older version (0) or the newer (1).

        Raises: OSError.
        """
        blob = self.both[side].held.blobs[file.path]
        if not blob:
            return self.both[side].entry(file)
        if (file.path, blob) not in self._read:
            self._read[file.path, blob] = self.both[side].entry(file)
        return self._read[file.path, blob]

    def change(self, path: str) -> FileChange:
        """Return what became of one file."""
        files = [one.held.files.get(path) for one in self.both]
        old, new = (self.of(side, file) if file else None for side, file in enumerate(files))
        return compare(files[0] or files[1], old, new)  # type: ignore[arg-type] # one has it


FORK_ABOVE = 60
"""From this many files on, a second process pays."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be read of one blank."""

    key: str
    touched: tuple[str, ...]
    """Its files that are not byte for byte the same."""
    sides: tuple[bool, bool]
    """Whether the blank is wanted as the older version has it, and the newer."""


@dataclass(frozen=True, slots=True)
class Read:
    """What was read of one blank."""

    key: str
    sides: tuple[bool, bool]
    """Whether it was read as the older version has it, and the newer."""
    changes: tuple[FileChange, ...]
    blanks: tuple[Blank | None, Blank | None]
    """With what was asked for; None also where it has a fault, or is not there."""
    taught: tuple[Any, Any]
    """What each of them gives to what the whole ledger teaches."""


Blanks = Mapping[tuple[int, str], Blank]
"""By side (0 the older) and ``supplier/style``: those that were read."""


def blanks_of(reads: Sequence[Read]) -> Blanks:
    """Return the blanks that were handed back."""
    return {
        (side, one.key): blank
        for one in reads
        for side, blank in enumerate(one.blanks)
        if blank is not None
    }


def known_by(both: Both, entries: Entries) -> tuple[RuleContext, RuleContext]:
    """Return what the blanks of each version are held against."""
    found = []
    for side, one in enumerate(both):
        shared = [entries.of(side, file) for file in one.of[""]]
        made = RuleContext.of(one.root, shared, None, one.held.stray)
        found.append(replace(made, pictures=False, errors_only=True))
    return found[0], found[1]


def read_blanks(
    both: Both,
    known: tuple[RuleContext, RuleContext],
    asked: Sequence[Asked],
    kept: Collection[str],
) -> list[Read]:
    """Return what is asked for, in order; only the blanks of *kept* themselves are handed back.

    Every core reads its share.
    """
    blanks = frozenset(kept)

    def work(one: Asked) -> Read:
        entries = Entries(both)
        changes = tuple(entries.change(path) for path in one.touched)
        if not any(one.sides):
            return Read(one.key, one.sides, changes, (None, None), (None, None))
        made, given = _taught(entries, known, one)
        handed = made if one.key in blanks else (None, None)
        return Read(one.key, one.sides, changes, handed, given)

    if any(side for one in asked for side in one.sides):
        from blankbook.results.learning import ledger_learning  # noqa: F401 - loaded once, and not in each
    files = sum(len(side.of.get(one.key, ())) for one in asked for side in both)
    was_on = gc.isenabled()
    gc.disable()  # as where a whole ledger is loaded: the trees hold no cycles
    try:
        return map_in_processes(asked, work, None, worth=files > FORK_ABOVE)
    finally:
        if was_on:
            gc.enable()


def _taught(
    entries: Entries, known: tuple[RuleContext, RuleContext], one: Asked
) -> tuple[tuple[Blank | None, Blank | None], tuple[Any, Any]]:
    """Return the blank of each version that is wanted, and what it teaches."""
    from blankbook.records.load_ledger import assemble_blank
    from blankbook.results.learning.ledger_learning import judging_facts

    made: list[Blank | None] = [None, None]
    given: list[Any] = [None, None]
    for side, wanted in enumerate(one.sides):
        files = entries.both[side].of.get(one.key, ()) if wanted else ()
        if files:
            made[side] = assemble_blank(known[side], [entries.of(side, file) for file in files])[0]
        if (blank := made[side]) and (shop := known[side].shop):
            given[side] = judging_facts(blank, shop)
    return (made[0], made[1]), (given[0], given[1])
