"""Two versions of a ledger as git lists them: their files, and what commits between them say."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.versions.commit_notes import Told, told_between
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, snapshot


@dataclass(frozen=True, slots=True)
class Pair:
    """Two versions, the older first."""

    root: Path
    asked: tuple[Revision, Revision]
    held: tuple[Snapshot, Snapshot]
    told: Mapping[str, tuple[Told, ...]]
    """What commits say of each file; nothing where both hold the same."""


def pair_of(root: Path, old: Revision, new: Revision) -> Pair:
    """Return two versions of the ledger at *root*.

    Raises: NoGit.
    """
    held = snapshot(root, old), snapshot(root, new)
    differ = touched_between(held)
    told = told_between(root, old.commit, new.commit or "HEAD") if differ else {}
    return Pair(root, (old, new), held, told)


def touched_between(held: tuple[Snapshot, Snapshot]) -> list[str]:
    """Return the records that are not byte for byte the same in both, by path."""
    one, other = held
    paths = sorted(one.files.keys() | other.files.keys())
    return [path for path in paths if _hash(one, path) != _hash(other, path)]


def _hash(held: Snapshot, path: str) -> str | None:
    return held.blobs[path] if path in held.files else None
