"""Whether what every blank is judged by differs.

It is compared by meaning: with other rules every blank is judged anew, so a comment must not count.
"""

from collections.abc import Iterable, Mapping
from pathlib import Path

from blankbook.history.facts.file_differences import (
    FactChange,
    FileChange,
    FileStatus,
    compare_file,
)
from blankbook.history.versions.snapshots import Snapshot, read_blobs
from blankbook.records.load_file import LoadedFile, load_bytes, load_file
from blankbook.text.ledger_files import LedgerFile

UNJUDGED_KEYS = {"name", "note", "currency", "unit", "site"}
"""What of the shop's rules no answer follows from; ``unit`` is the one that results are told in."""
_JUDGED_BY = {"shop", "study"}


def judging_rules_differ(
    root: Path,
    snapshots: tuple[Snapshot, Snapshot],
    changed: Iterable[LedgerFile],
    known: Mapping[str, bytes],
) -> bool:
    """Say whether the shop's rules or its studies of measuring differ in anything that counts.

    *known* are bytes by git's hash that were fetched already. A file that is missing or cannot be
    read at one version counts: nothing can be judged by it there.
    Raises: GitError, OSError.
    """
    files = [file for file in changed if file.kind in _JUDGED_BY]
    if not files:
        return False
    bodies = {**snapshots[0].bodies, **snapshots[1].bodies, **known}
    blobs = {
        snapshot.blobs[file.path]
        for snapshot in snapshots
        for file in files
        if file.path in snapshot.files
    }
    bodies |= read_blobs(root, blobs - bodies.keys())
    for file in files:
        old, new = (_entry(root, snapshot, file, bodies) for snapshot in snapshots)
        if _counts(compare_file(file, old, new)):
            return True
    return False


def _entry(
    root: Path, snapshot: Snapshot, file: LedgerFile, bodies: Mapping[str, bytes]
) -> LoadedFile | None:
    if file.path not in snapshot.files:
        return None
    body = bodies.get(snapshot.blobs[file.path])
    return load_file(root, file) if body is None else load_bytes(file, body)


def _counts(file: FileChange) -> bool:
    return file.status is not FileStatus.SAME and not is_words_only(file)


def is_words_only(file: FileChange) -> bool:
    """Say whether nothing follows from what changed in the shop's rules: a name, say, or a note."""
    if file.kind not in _JUDGED_BY or file.status is not FileStatus.CHANGED:
        return False
    return all(_is_word(file.kind, change) for change in file.changes)


def _is_word(kind: str, change: FactChange) -> bool:
    first = change.path[0]
    return first == "note" or (kind == "shop" and len(change.path) == 1 and first in UNJUDGED_KEYS)
