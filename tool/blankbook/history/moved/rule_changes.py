"""Whether what every blank is judged by differs: by meaning, so that a comment judges nothing."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from blankbook.history.facts.file_differences import Change, FileChange, What, compare
from blankbook.history.versions.snapshots import Snapshot, bodies
from blankbook.records.load_file import LoadedFile, load_bytes, load_file
from blankbook.text.ledger_files import LedgerFile

WORDS = {"name", "note", "currency", "unit", "site"}
"""What of the shop's rules no answer follows from; ``unit`` is the one that results are told in."""
_SHARED = {"shop", "study"}


def rules_moved(
    root: Path,
    held: tuple[Snapshot, Snapshot],
    touched: Iterable[LedgerFile],
    known: Mapping[str, bytes],
) -> bool:
    """Say whether the shop's rules or its studies of measuring differ in anything that counts.

    *known* are the bytes of blobs that were fetched already. A file that is not there or cannot be
    read on one side counts: nothing can be judged by it.
    Raises: NoGit, OSError.
    """
    shared = [file for file in touched if file.kind in _SHARED]
    if not shared:
        return False
    found = {**held[0].bodies, **held[1].bodies, **known}
    blobs = {one.blobs[file.path] for one in held for file in shared if file.path in one.files}
    found |= bodies(root, blobs - found.keys())
    return any(_counts(compare(file, *(_entry(root, one, file, found) for one in held)))
               for file in shared)  # fmt: skip


def _entry(
    root: Path, held: Snapshot, file: LedgerFile, found: Mapping[str, bytes]
) -> LoadedFile | None:
    if file.path not in held.files:
        return None
    body = found.get(held.blobs[file.path])
    return load_file(root, file) if body is None else load_bytes(file, body)


def _counts(one: FileChange) -> bool:
    return one.what is not What.SAME and not only_words(one)


def only_words(one: FileChange) -> bool:
    """Say whether all that a file of the shop's rules says otherwise is what nothing follows from.

    Such as its name, or a note.
    """
    if one.kind not in _SHARED or one.what is not What.CHANGED:
        return False
    return all(_is_word(one.kind, change) for change in one.changes)


def _is_word(kind: str, one: Change) -> bool:
    first = one.way[0]
    return first == "note" or (kind == "shop" and len(one.way) == 1 and first in WORDS)
