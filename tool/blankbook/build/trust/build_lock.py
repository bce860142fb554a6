"""The lock that keeps two builds of one ledger apart."""

import contextlib
import errno
import os
from collections.abc import Iterator
from pathlib import Path

from blankbook.build.trust.output_place import RefusedPlaceError
from blankbook.text.writing.held_folder import held


class BusyError(RefusedPlaceError):
    """Another build of the same ledger is running."""


@contextlib.contextmanager
def build_lock(folder: Path) -> Iterator[bool]:
    """Hold the ledger's lock in its own *folder*; give False where that cannot be written to.

    Raises: BusyError, naming the process that holds it; InTheWayError where a link stands there.
    """
    try:
        with held(folder.parent, folder, make=True) as own:
            handle = own.open_plain("lock", os.O_RDWR | os.O_CREAT)
    except OSError as error:
        if error.errno in {errno.EROFS, errno.EACCES, errno.EPERM}:
            yield False
            return
        raise
    _open_locks.add(handle)
    try:
        _lock(handle)
        yield True
    finally:
        _open_locks.discard(handle)
        os.close(handle)


_open_locks: set[int] = set()
"""Handles of the locks that this process holds."""


def _close_locks() -> None:
    """Close the locks in a child process: one that outlives a killed build must not hold them."""
    for handle in _open_locks:
        os.close(handle)


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_close_locks)


def _lock(handle: int) -> None:
    """Lock an open file for this process, and write the process's number into it.

    Raises: BusyError.
    """
    try:
        import fcntl
    except ImportError:  # no such lock on this system
        return
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        holder = os.read(handle, 32).decode(errors="replace").strip() or "unknown"
        raise BusyError(
            f"another build of this ledger is running (process {holder})", "wait until it has ended"
        ) from None
    os.ftruncate(handle, 0)
    os.pwrite(handle, f"{os.getpid()}\n".encode(), 0)
