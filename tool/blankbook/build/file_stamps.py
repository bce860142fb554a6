"""Whether a file is the one that was seen: by its stamp, or where that differs by its hash."""

import os
import stat
import time
from collections.abc import Iterable, Mapping

from blankbook.text.digests import digest

__all__ = ["HASH", "Known", "Stamp", "digest", "hash_file", "look", "stamp", "tree"]

Stamp = list[int]
"""Times of change of a file and of its inode in nanoseconds, its size and its inode."""
Known = dict[str, list[int | str]]
"""By path: a stamp, then the hash of the content, then whatever else belongs to the file."""

HASH = 4
"""Where the hash stands in what is known of a file."""
UNSURE = 2_500_000_000
"""Nanoseconds: a file changed so shortly before it was looked at may change again unnoticed, since
a disk keeps time in steps. The coarsest in use, of two seconds, is FAT's."""
MOST_BYTES = 64 << 20
"""A larger file is no record and no photo; it is told apart by its stamp alone."""


def stamp(place: str, *, follow: bool = False) -> Stamp | None:
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


def look(folder: str, paths: Iterable[str], known: Mapping[str, list[int | str]]) -> Known:
    """Return stamp and hash of every path, reading only files whose stamp is not the known one.

    A path that is no plain file has no hash. Links are followed.
    """
    now = time.time_ns()
    seen: Known = {}
    for path in paths:
        place = f"{folder}/{path}"
        found, old = stamp(place, follow=True), known.get(path)
        if found is None:
            seen[path] = [0, 0, 0, 0, ""]
        elif old is not None and old[:HASH] == found:
            seen[path] = old
        elif found[2] > MOST_BYTES:
            seen[path] = [*found, digest(*map(str, found))]
        else:
            seen[path] = [*_surely(found, now), hash_file(place)]
    return seen


def _surely(found: Stamp, now: int) -> Stamp:
    """Return the stamp; one that is too young to be relied on is made to match none."""
    return found if max(found[:2]) < now - UNSURE else [-1, *found[1:]]


def tree(folder: str) -> dict[str, Stamp | None]:
    """Return the stamp of every file below *folder*; None for a link or anything else odd."""
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
                    found[path + entry.name] = stamp(entry.path)
    except (FileNotFoundError, NotADirectoryError):
        return
