"""Bytes to disk: whole or not at all, and never over what somebody else wrote meanwhile."""

import contextlib
import errno
import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

PART_PREFIX = ".blankbook-part-"
"""How the name of a file begins while it is written; nothing else reads such a file."""
LEFTOVER_SECONDS = 3600.0
"""Age at which such a file is a leftover of a process that was killed, and is removed."""
LOCK_SECONDS = 10.0
"""How long to wait for another process that writes to the same folder."""


class FileChangedError(Exception):
    """The file was changed since it was read; it was left alone."""


class AlreadyThereError(Exception):
    """A file that was to be new is there already; it was left alone."""


class OutsideLedgerError(Exception):
    """A link in the path of the file leaves the ledger; what it leads to was left alone."""


def write_new_file(place: Path, body: bytes, within: Path) -> list[Path]:
    """Write a file that must not be there yet, and return the folders that were made for it.

    Raises: AlreadyThereError; OutsideLedgerError where the place is not *within* that folder;
    OSError. The folders are removed again then.
    """
    with _errors_name(place):
        place = _resolve_within(place.parent, within) / place.name
    with (
        _errors_name(place),
        _new_folders(place.parent) as made,
        _folder_lock(place.parent),
        _part_file(place.parent, body, 0o666 & ~_umask()) as part,
    ):
        try:
            # A link fails where the name is taken; a rename would replace that file silently.
            os.link(part, place)
        except FileExistsError:
            raise AlreadyThereError(str(place)) from None
        except OSError as error:
            if error.errno not in {errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS}:
                raise
            # A disk without links: look, then rename. The folder's lock keeps our own out.
            if os.path.lexists(place):
                raise AlreadyThereError(str(place)) from None
            part.rename(place)
        for folder in (place.parent, *(new.parent for new in made)):
            _sync_folder(folder)
    return made


def replace_file(place: Path, old: bytes, new: bytes, within: Path) -> None:
    """Replace the bytes *old* of a file by *new*; a link is followed to its file.

    Raises: FileChangedError where the file does not hold *old*; OutsideLedgerError where it is not
    *within* that folder; OSError, also where nobody may write to the file. The old file then stays
    whole.
    """
    with _errors_name(place):
        place = _resolve_within(place, within)
        mode = place.stat().st_mode & 0o7777
        if not mode & 0o222:
            raise PermissionError(errno.EACCES, "the file is marked as not to be written to")
    with (
        _errors_name(place),
        _folder_lock(place.parent),
        _part_file(place.parent, new, mode) as part,
    ):
        if place.read_bytes() != old:
            raise FileChangedError(str(place))
        part.replace(place)
        _sync_folder(place.parent)


def remove_new_file(place: Path, body: bytes, made: list[Path]) -> None:
    """Remove a new file, if it still holds what was written, and the folders made for it."""
    with contextlib.suppress(OSError):
        if place.read_bytes() == body:
            place.unlink()
    _remove_folders(made)


def _resolve_within(place: Path, within: Path) -> Path:
    """Return a place with its links followed. Raises: OutsideLedgerError, OSError."""
    try:
        real = place.resolve()
        if not real.is_relative_to(within.resolve()):
            raise OutsideLedgerError(str(place))
    except RuntimeError:  # Python 3.11 raises it for links that lead to each other
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None
    return real


@contextlib.contextmanager
def _new_folders(folder: Path) -> Iterator[list[Path]]:
    """Make a folder, and give the folders that were new, the innermost first.

    They are removed again where what follows fails.
    """
    made = []
    for parent in (folder, *folder.parents):
        if os.path.lexists(parent):
            break
        made.append(parent)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield made
    except BaseException:
        _remove_folders(made)
        raise


def _remove_folders(made: list[Path]) -> None:
    """Remove new folders, the innermost first; one that holds something stays."""
    for folder in made:
        with contextlib.suppress(OSError):
            folder.rmdir()


@contextlib.contextmanager
def _errors_name(place: Path) -> Iterator[None]:
    """Raise errors of the system with the name of the file that was to be written.

    The system names none for a full disk, or names the temporary file beside it.
    Raises: OSError.
    """
    try:
        yield
    except OSError as error:
        if error.filename is None or PART_PREFIX in str(error.filename):
            raise OSError(error.errno, error.strerror, str(place)) from error
        raise


@contextlib.contextmanager
def _part_file(folder: Path, body: bytes, mode: int) -> Iterator[Path]:
    """Give a temporary file with *body*, safely on disk; it is removed unless it was moved."""
    _remove_leftovers(folder)
    handle, name = tempfile.mkstemp(prefix=PART_PREFIX, dir=folder)
    part = Path(name)
    try:
        with _open_stream(handle) as stream:
            stream.write(body)
            stream.flush()
            os.fchmod(stream.fileno(), mode)
            os.fsync(stream.fileno())
        yield part
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _open_stream(handle: int) -> BinaryIO:
    """Return a stream for an open file handle; close the handle where that fails."""
    try:
        return os.fdopen(handle, "wb")
    except BaseException:
        os.close(handle)
        raise


@contextlib.contextmanager
def _folder_lock(folder: Path) -> Iterator[None]:
    """Hold the folder's lock, so that only one process at a time compares and replaces.

    Where a system or a disk has no locks, nobody waits.
    Raises: OSError where another process does not let go of the lock.
    """
    try:
        import fcntl
    except ImportError:  # a system without this kind of lock
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        _wait_for_lock(fcntl, handle, folder)
        yield
    finally:
        os.close(handle)


def _wait_for_lock(fcntl: object, handle: int, folder: Path) -> None:
    """Take the lock, or give up after `LOCK_SECONDS`. Raises: OSError."""
    give_up = time.monotonic() + LOCK_SECONDS
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)  # type: ignore[attr-defined]
        except BlockingIOError:
            if time.monotonic() > give_up:
                said = "somebody else is writing here and does not end"
                raise OSError(errno.EBUSY, said, str(folder)) from None
            time.sleep(0.01)
        except OSError:  # a disk without locks
            return
        else:
            return


def _sync_folder(folder: Path) -> None:
    """Have the disk keep the new name too: after a power cut the bytes alone are not enough."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _remove_leftovers(folder: Path) -> None:
    """Remove temporary files of processes that were killed a while ago."""
    for left in folder.glob(f"{PART_PREFIX}*"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > LEFTOVER_SECONDS:
                left.unlink()


def _umask() -> int:
    """Return the mask of new files; the system tells it only while it is set."""
    now = os.umask(0)
    os.umask(now)
    return now
