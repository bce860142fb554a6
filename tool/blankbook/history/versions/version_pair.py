"""Two versions of a ledger as git lists them: their files, and what commits between them say."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.versions.commit_notes import CommitNote, notes_between
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, read_snapshot


@dataclass(frozen=True, slots=True)
class VersionPair:
    """Two versions, the older first."""

    root: Path
    revisions: tuple[Revision, Revision]
    snapshots: tuple[Snapshot, Snapshot]
    notes: Mapping[str, tuple[CommitNote, ...]]
    """What commits say of each file, by its path; nothing where both versions hold the same."""


def read_pair(root: Path, old: Revision, new: Revision) -> VersionPair:
    """Return two versions of the ledger at *root*.

    Raises: GitError.
    """
    snapshots = read_snapshot(root, old), read_snapshot(root, new)
    changed = changed_paths(snapshots)
    notes = notes_between(root, old.commit, new.commit or "HEAD") if changed else {}
    return VersionPair(root, (old, new), snapshots, notes)


def changed_paths(snapshots: tuple[Snapshot, Snapshot]) -> list[str]:
    """Return the paths of the records that are not byte for byte the same in both, sorted."""
    older, newer = snapshots
    paths = sorted(older.files.keys() | newer.files.keys())
    return [path for path in paths if _record_blob(older, path) != _record_blob(newer, path)]


def _record_blob(snapshot: Snapshot, path: str) -> str | None:
    return snapshot.blobs[path] if path in snapshot.files else None
