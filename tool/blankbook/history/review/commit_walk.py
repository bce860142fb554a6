"""The walk back over the commits of a ledger, with what was held before and after each of them.

All of it follows from one log of git: no commit is checked out or listed.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from blankbook.history.versions.file_commits import Commit, Commits
from blankbook.history.versions.snapshots import Snapshot, is_safe
from blankbook.text.ledger_files import ledger_file_at


@dataclass(frozen=True, slots=True)
class CommitVisit:
    """A commit that touched records, on the walk back."""

    commit: Commit
    snapshots: tuple[Snapshot, Snapshot]
    """Before the commit and after it."""


def touches_records(commit: Commit) -> bool:
    """Say whether a commit touched any record of the ledger."""
    return any(ledger_file_at(path) for path in commit.files)


def walk_back(commits: Commits, missing: Collection[str]) -> Iterator[CommitVisit]:
    """Yield every commit that touched records, the newest first, until the last missing one."""
    blobs = _newest_blobs(commits)
    left = len(missing)
    after = Snapshot(
        {path: file for path in sorted(blobs) if (file := ledger_file_at(path))}, blobs
    )
    for commit in commits.newest_first:
        if not left:
            return
        before = _before(after, commit)
        if touches_records(commit):
            yield CommitVisit(commit, (before, after))
        left -= commit.id in missing
        after = before


def _newest_blobs(commits: Commits) -> dict[str, str]:
    """Return git's hash of every plain file as it was committed last."""
    found: dict[str, str] = {}
    for commit in commits.newest_first:
        for path, (_, new) in commit.files.items():
            found.setdefault(path, new)
    return {path: blob for path, blob in found.items() if blob and is_safe(path)}


def _before(after: Snapshot, commit: Commit) -> Snapshot:
    """Return what was held before a commit; *after* is what was held after it."""
    files, blobs = dict(after.files), dict(after.blobs)
    for path, (old, _) in commit.files.items():
        files.pop(path, None)
        blobs.pop(path, None)
        if old and is_safe(path):
            blobs[path] = old
            if file := ledger_file_at(path):
                files[path] = file
    return Snapshot(files, blobs)
