"""What a review reads of both versions: the blanks that differ, and what all others contribute."""

import gc
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from blankbook.history.facts.file_differences import FileChange, compare_file
from blankbook.history.versions.version_bytes import LedgerVersion
from blankbook.records.load_file import LoadedFile
from blankbook.records.model import Blank
from blankbook.records.processes import map_in_processes
from blankbook.records.rule_context import RuleContext
from blankbook.text.ledger_files import LedgerFile

BothVersions = tuple[LedgerVersion, LedgerVersion]
"""The older version and the newer."""

FORK_ABOVE_FILES = 60
"""With more files than this, a second process pays."""


class VersionRecords:
    """The records of both versions; what is the same in both is read once."""

    def __init__(self, versions: BothVersions) -> None:
        self.versions = versions
        self._read: dict[tuple[str, str], LoadedFile] = {}

    def read(self, side: int, file: LedgerFile) -> LoadedFile:
        """Return one record of the older version (0) or the newer (1).

        Raises: OSError.
        """
        blob = self.versions[side].snapshot.blobs[file.path]
        if not blob:  # what could not be read has no hash, and is not the same as anything
            return self.versions[side].entry(file)
        if (file.path, blob) not in self._read:
            self._read[file.path, blob] = self.versions[side].entry(file)
        return self._read[file.path, blob]

    def file_change(self, path: str) -> FileChange:
        """Return what became of one file."""
        files = [version.snapshot.files.get(path) for version in self.versions]
        old, new = (self.read(side, file) if file else None for side, file in enumerate(files))
        return compare_file(files[0] or files[1], old, new)  # type: ignore[arg-type] # one has it


@dataclass(frozen=True, slots=True)
class BlankRequest:
    """What is to be read of one blank."""

    key: str
    changed_paths: tuple[str, ...]
    """Its files that are not byte for byte the same."""
    sides: tuple[bool, bool]
    """Whether the blank is wanted as the older version has it, and the newer."""


@dataclass(frozen=True, slots=True)
class ReadBlank:
    """What was read of one blank."""

    key: str
    changes: tuple[FileChange, ...]
    blanks: tuple[Blank | None, Blank | None] = (None, None)
    """As each version has it, where it was asked for; None also where it has a fault."""
    contributions: tuple[Any, Any] = (None, None)
    """What each of them contributes to judging the others, as JSON data."""


BlanksBySide = Mapping[tuple[int, str], Blank]
"""By side (0 the older) and ``supplier/style``."""


def blanks_by_side(reads: Sequence[ReadBlank]) -> BlanksBySide:
    """Return the blanks that were handed back."""
    return {
        (side, read.key): blank
        for read in reads
        for side, blank in enumerate(read.blanks)
        if blank is not None
    }


def rule_contexts(
    versions: BothVersions, records: VersionRecords
) -> tuple[RuleContext, RuleContext]:
    """Return what the blanks of each version are checked against.

    Photos are only looked for, not opened: of an older commit, just their first bytes may be there.
    """
    found = []
    for side, version in enumerate(versions):
        shared = [records.read(side, file) for file in version.files_by_blank[""]]
        context = RuleContext.of(version.root, shared, None, version.snapshot.stray)
        found.append(replace(context, pictures=False, errors_only=True))
    return found[0], found[1]


def read_blanks(
    versions: BothVersions,
    contexts: tuple[RuleContext, RuleContext],
    requests: Sequence[BlankRequest],
    handed_back: Collection[str],
) -> list[ReadBlank]:
    """Return what is asked for, in order. Every core reads its share.

    Only the blanks of *handed_back* come whole; of the others their contributions are enough, and
    cost less to bring over from another process.
    """
    whole = frozenset(handed_back)

    def work(request: BlankRequest) -> ReadBlank:
        records = VersionRecords(versions)
        changes = tuple(records.file_change(path) for path in request.changed_paths)
        if not any(request.sides):
            return ReadBlank(request.key, changes)
        blanks, contributions = _read_sides(records, contexts, request)
        handed = blanks if request.key in whole else (None, None)
        return ReadBlank(request.key, changes, handed, contributions)

    if any(side for request in requests for side in request.sides):
        from blankbook.results.learning import ledger_learning  # noqa: F401 - once, not in each child
    keys = [request.key for request in requests]
    files = sum(len(version.files_by_blank.get(key, ())) for key in keys for version in versions)
    was_on = gc.isenabled()
    gc.disable()  # as where a whole ledger is loaded: the trees hold no cycles
    try:
        return map_in_processes(requests, work, None, worth=files > FORK_ABOVE_FILES)
    finally:
        if was_on:
            gc.enable()


def _read_sides(
    records: VersionRecords, contexts: tuple[RuleContext, RuleContext], request: BlankRequest
) -> tuple[tuple[Blank | None, Blank | None], tuple[Any, Any]]:
    """Return the blank of each version that is wanted, and what each contributes."""
    from blankbook.records.load_ledger import assemble_blank
    from blankbook.results.learning.ledger_learning import judging_facts

    blanks: list[Blank | None] = [None, None]
    contributions: list[Any] = [None, None]
    for side, wanted in enumerate(request.sides):
        files = records.versions[side].files_by_blank.get(request.key, ()) if wanted else ()
        if files:
            blanks[side] = assemble_blank(
                contexts[side], [records.read(side, file) for file in files]
            )[0]
        if (blank := blanks[side]) and (shop := contexts[side].shop):
            contributions[side] = judging_facts(blank, shop)
    return (blanks[0], blanks[1]), (contributions[0], contributions[1])
