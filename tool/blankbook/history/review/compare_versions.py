"""Two versions of a ledger side by side: read as far as needed, judged and compared."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from blankbook.history.facts.file_differences import FileChange, FileStatus, is_same_but_for_names
from blankbook.history.moved.blank_status import standing_drop
from blankbook.history.moved.chart_changes import chart_changes
from blankbook.history.moved.chart_effects import with_chart_effects
from blankbook.history.moved.client_changes import client_chart_change
from blankbook.history.moved.rule_changes import judging_rules_differ
from blankbook.history.review.judge_versions import JudgingBasis, Statuses, blank_statuses
from blankbook.history.review.read_blanks import (
    BothVersions,
    ReadBlank,
    VersionRecords,
    blanks_by_side,
    read_blanks,
    rule_contexts,
)
from blankbook.history.review.read_plan import ReadPlan
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.commit_notes import CommitNote
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, read_blobs
from blankbook.history.versions.version_bytes import LedgerVersion
from blankbook.history.versions.version_pair import changed_paths
from blankbook.records.model import Shop, Style
from blankbook.text.ledger_files import LedgerFile

_MEASURED = {"round", "delivery"}


@dataclass(frozen=True, slots=True)
class ComparisonResult:
    """What came of comparing two versions."""

    review: Review
    older_contributions: Mapping[str, Any] | None
    """What each blank of the older version contributes; None where that was not worked out."""


@dataclass(frozen=True)
class VersionComparison:
    """Both versions, the older first, and what is known of them before anything is read."""

    root: Path
    scratch_folder: Path
    """Where the photos of a commit are written, for the rules that open them."""
    revisions: tuple[Revision, Revision]
    snapshots: tuple[Snapshot, Snapshot]
    notes: Mapping[str, tuple[CommitNote, ...]]
    """What commits say of each file, by its path."""
    newer_contributions: Mapping[str, Any] | None = None
    """What each blank of the newer version contributes; where it is None, every blank is read."""
    known_blobs: Mapping[str, bytes] | None = None
    """Bytes by git's hash; where it is None, git is asked for all that is needed."""
    most_judged: int | None = None
    """With more changed blanks than this, or with other rules, no blank is judged."""

    def result(self) -> ComparisonResult:
        """Return what differs. Only what differs is read, and what it is judged by.

        Raises: GitError, OSError.
        """
        plan = self._plan
        versions = self._read_versions()
        records = VersionRecords(versions)
        contexts = rule_contexts(versions, records)
        reads = read_blanks(versions, contexts, plan.requests, plan.may_be_judged)
        files = self._file_changes(records, reads)
        changed = {
            file.blank for file in files if file.blank and file.status is not FileStatus.SAME
        }
        keys = sorted(changed | (plan.blanks if plan.judges_all else plan.of_changed_suppliers))
        contributions = plan.contributions(reads, keys)
        older, newer = (
            JudgingBasis(context.shop, context.studies, given)
            for context, given in zip(contexts, contributions, strict=True)
        )
        judged = keys if plan.judges_any else []
        statuses = blank_statuses((older, newer), judged, blanks_by_side(reads))
        shop = newer.shop or older.shop
        blanks = [self._review_blank(key, files, statuses, records, shop) for key in keys]
        made = self._review(files, [b for b in blanks if b.matters or b.key in changed], shop)
        return ComparisonResult(made, contributions[0] if plan.knows_older_contributions else None)

    @cached_property
    def _plan(self) -> ReadPlan:
        older, newer = self.snapshots
        files = {
            path: older.files.get(path) or newer.files[path]
            for path in changed_paths(self.snapshots)
        }
        rules_differ = judging_rules_differ(
            self.root, self.snapshots, files.values(), self.known_blobs or {}
        )
        blanks_held = older.by_blank.keys() - {""}, newer.by_blank.keys() - {""}
        return ReadPlan(
            files, blanks_held, self.newer_contributions, rules_differ, self.most_judged
        )

    @property
    def judges_any(self) -> bool:
        """Whether any blank is judged."""
        return self._plan.judges_any

    @property
    def rules_differ(self) -> bool:
        """Whether what every blank is judged by differs."""
        return self._plan.rules_differ

    def needed_blobs(self) -> Iterator[tuple[str, str]]:
        """Yield path and git's hash of all that may be read: records, and photos beside them."""
        for side, snapshot in enumerate(self.snapshots):
            yield from ((file.path, snapshot.blobs[file.path]) for file in self._files_read(side))
            photos = snapshot.photos(self._plan.blanks_read(side))
            yield from ((path, snapshot.blobs[path]) for path in photos)

    def _files_read(self, side: int) -> Iterator[LedgerFile]:
        """Yield the records of one version that are read: what all blanks share comes first."""
        by_blank = self.snapshots[side].by_blank
        for key in ("", *sorted(self._plan.blanks_read(side))):
            yield from by_blank.get(key, ())

    def _read_versions(self) -> BothVersions:
        """Return both versions with the bytes that are needed, and the photos that are named."""
        older, newer = self.snapshots
        found = {**older.bodies, **newer.bodies, **(self.known_blobs or {})}
        if self.known_blobs is None:
            wanted = {
                snapshot.blobs[file.path]
                for side, snapshot in enumerate(self.snapshots)
                for file in self._files_read(side)
            }
            found |= read_blobs(self.root, wanted - found.keys())
        return self._read_version(0, found), self._read_version(1, found)

    def _read_version(self, side: int, found: dict[str, bytes]) -> LedgerVersion:
        """Return one version. The photos that a commit's records name are written beside them.

        *found* are bytes by git's hash; those of the photos are added.
        """
        snapshot = self.snapshots[side]
        if not self.revisions[side].commit:
            return LedgerVersion(self.root, snapshot, found, snapshot.by_blank)
        folder = self.scratch_folder / str(side)
        folder.mkdir()
        version = LedgerVersion(folder, snapshot, found, snapshot.by_blank)
        naming = version.blanks_naming_photos(self._plan.blanks_read(side))
        blobs = {snapshot.blobs[path] for path in snapshot.photos(naming)}
        found |= read_blobs(self.root, blobs - found.keys())
        version.write_photos(naming)
        return version

    def _file_changes(
        self, records: VersionRecords, reads: Sequence[ReadBlank]
    ) -> tuple[FileChange, ...]:
        """Return every changed file by its path: of the blanks, and what all blanks share."""
        found = [change for read in reads for change in read.changes]
        shared = [path for path, file in self._plan.changed_files.items() if not file.blank]
        found += [records.file_change(path) for path in shared]
        return tuple(_with_renamed(sorted(found, key=lambda file: file.path)))

    def _review_blank(
        self,
        key: str,
        files: tuple[FileChange, ...],
        statuses: Statuses,
        records: VersionRecords,
        shop: Shop | None,
    ) -> BlankReview:
        style = next((file for file in files if file.blank == key and file.kind == "style"), None)
        old, new = statuses[0].get(key), statuses[1].get(key)
        clients = client_chart_change(old.clients if old else None, new.clients if new else None)
        made = BlankReview(key, old, new, clients=clients)
        if style is None or not isinstance(style.old, Style) or not isinstance(style.new, Style):
            return made
        charts = tuple(chart_changes(style.old, style.new, shop))
        if not charts:
            return made
        files_now = records.versions[1].files_by_blank.get(key, ())
        measured = [records.read(1, file).record for file in files_now if file.kind in _MEASURED]
        return with_chart_effects(made, charts, (style.old, style.new), measured, shop)

    def _review(
        self, files: Iterable[FileChange], blanks: list[BlankReview], shop: Shop | None
    ) -> Review:
        """Return the review with blanks and files in a reviewer's order."""
        blanks.sort(key=_worst_first)
        explained = [_with_reason(file, self.notes.get(file.path, ())) for file in files]
        explained.sort(key=lambda file: (not file.rewrites, bool(file.reason), file.path))
        older, newer = self.snapshots
        unchanged = len(older.files.keys() | newer.files.keys()) - len(self._plan.changed_files)
        unit = shop.unit if shop else "in"
        return Review(*self.revisions, unit, tuple(blanks), tuple(explained), unchanged, self.notes)


def _worst_first(blank: BlankReview) -> tuple[int, bool, bool, str]:
    drop = standing_drop(blank.before, blank.after)
    return -drop, not blank.changes_outcome, not blank.charts, blank.key


def _with_renamed(found: list[FileChange]) -> list[FileChange]:
    """Return the changes; a file that went and one that came with the same content become one."""
    removed = [file for file in found if file.status is FileStatus.REMOVED]
    joined: list[FileChange] = []
    taken: set[str] = set()
    for file in found:
        if file.status is not FileStatus.ADDED:
            joined.append(file)
            continue
        was = next((old for old in removed if old.path not in taken and _is_same(old, file)), None)
        if was is None:
            joined.append(file)
        else:
            taken.add(was.path)
            joined.append(replace(file, status=FileStatus.RENAMED, old_path=was.path, old=was.old))
    return [
        file for file in joined if file.status is not FileStatus.REMOVED or file.path not in taken
    ]


def _is_same(old: FileChange, new: FileChange) -> bool:
    return old.kind == new.kind and is_same_but_for_names(old.old, new.new)


def _with_reason(file: FileChange, notes: tuple[CommitNote, ...]) -> FileChange:
    """Return a rewrite with the reason from a commit's message, where the file gives none."""
    if not file.rewrites or file.reason:
        return file
    return replace(file, reason=next((note.reason for note in notes if note.reason), ""))
