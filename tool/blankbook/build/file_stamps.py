"""Whether a file has changed: its stamp says so at once, or else its hash.

Reading thousands of files takes longer than everything else in a build in which nothing changed.
"""

import os
import stat
import time
from collections.abc import Iterable, Mapping

from blankbook.text.digests import digest

__all__ = [
    "HASH_INDEX",
    "FileStates",
    "Stamp",
    "digest",
    "file_stamp",
    "hash_file",
    "read_file_states",
    "stamp_tree",
]

Stamp = list[int]
"""Times of change of a file and of its inode in nanoseconds, its size and its inode."""
FileStates = dict[str, list[int | str]]
"""By path: the four numbers of a stamp, the hash of the content, and what else is known of it."""

HASH_INDEX = 4
"""Where the hash stands in the state of a file."""
UNSURE_NANOSECONDS = 2_500_000_000
"""A file that changed this shortly before it was looked at may change again with the same stamp,
since a disk keeps time in steps. The coarsest steps in use are FAT's, of two seconds."""
MOST_HASHED_BYTES = 64 << 20
"""A larger file is no record and no photo; its stamp alone is its state."""


def file_stamp(place: str, *, follow: bool = False) -> Stamp | None:
    """Return the stamp of a plain file; None where there is none."""
    try:
        found = os.stat(place, follow_symlinks=follow)  # noqa: PTH116 - thousands of files
    except OSError:
        return None
    if not stat.S_ISREG(found.st_mode):
        return None
    return [found.st_mtime_ns, found.st_ctime_ns, found.st_size, found.st_ino]


def hash_file(place: str) -> str:
    """Return the hash of a file's content; empty where it cannot be read."""
    try:
        with open(place, "rb") as file:  # noqa: PTH123 - thousands of files
            return digest(file.read())
    except OSError:
        return ""


def read_file_states(
    folder: str, paths: Iterable[str], known: Mapping[str, list[int | str]]
) -> FileStates:
    """Return stamp and hash of every path, reading only files whose stamp is not the known one.

    A path that is no plain file has no hash. Links are followed.
    """
    now = time.time_ns()
    states: FileStates = {}
    for path in paths:
        place = f"{folder}/{path}"
        found, old = file_stamp(place, follow=True), known.get(path)
        if found is None:
            states[path] = [0, 0, 0, 0, ""]
        elif old is not None and old[:HASH_INDEX] == found:
            states[path] = old
        elif found[2] > MOST_HASHED_BYTES:
            states[path] = [*found, digest(*map(str, found))]
        else:
            states[path] = [*_reliable_stamp(found, now), hash_file(place)]
    return states


def _reliable_stamp(found: Stamp, now: int) -> Stamp:
    """Return the stamp, changed so that none equals it where it is too young to be relied on."""
    return found if max(found[:2]) < now - UNSURE_NANOSECONDS else [-1, *found[1:]]


def stamp_tree(folder: str) -> dict[str, Stamp | None]:
    """Return the stamp of every file below *folder*; None for what is no plain file."""
    found: dict[str, Stamp | None] = {}
    _add_tree(folder, "", found)
    return found


def _add_tree(folder: str, path: str, found: dict[str, Stamp | None]) -> None:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.is_dir(follow_symlinks=False):
                    _add_tree(entry.path, f"{path}{entry.name}/", found)
                else:
                    found[path + entry.name] = file_stamp(entry.path)
    except (FileNotFoundError, NotADirectoryError):
        return
