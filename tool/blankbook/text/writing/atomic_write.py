"""Bytes to disk: whole or not at all, and never over what somebody else wrote meanwhile."""

import contextlib
import errno
import os
import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from blankbook.text.writing.held_folder import HeldFolder, held

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
    """The path of the file leaves the ledger's records; what it leads to was left alone."""


def write_new_file(place: Path, body: bytes, within: Path) -> list[Path]:
    """Write a file that must not be there yet, and return the folders that were made for it.

    Raises: AlreadyThereError; OutsideLedgerError where the place is not *within* that folder;
    InTheWayError where a link is on the way there; OSError. The folders are removed again then.
    """
    if not place.is_relative_to(within) or ".." in place.relative_to(within).parts:
        raise OutsideLedgerError(str(place))
    with (
        _errors_name(place),
        _new_folders(place.parent, within) as made,
        held(within, place.parent, make=True) as folder,
        _folder_lock(folder),
        _part_file(folder, body, 0o666 & ~_umask()) as part,
    ):
        try:
            # A link fails where the name is taken; a rename would replace that file silently.
            folder.link(part, place.name)
        except FileExistsError:
            raise AlreadyThereError(str(place)) from None
        except OSError as error:
            if error.errno not in {errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS}:
                raise
            # A disk without links: look, then rename. The folder's lock keeps our own out.
            if folder.look(place.name) is not None:
                raise AlreadyThereError(str(place)) from None
            folder.rename(part, place.name)
        folder.sync()
        for new in made:
            with contextlib.suppress(OSError), held(new.parent, new.parent) as above:
                above.sync()
    return made


def replace_file(place: Path, old: bytes, new: bytes, within: Path) -> None:
    """Replace the bytes *old* of a file by *new*; a record that is a link stays one.

    Raises: FileChangedError where the file does not hold *old*; OutsideLedgerError where it is not
    *within* that folder; OSError, also where nobody may write to the file. The old file then stays
    whole.
    """
    with _errors_name(place):
        place, top = _resolve_within(place, within)
    with _errors_name(place), held(top, place.parent) as folder:
        found = folder.look(place.name)
        if found is None:
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))
        mode = found.st_mode & 0o7777
        if not mode & 0o222:
            raise PermissionError(errno.EACCES, "the file is marked as not to be written to")
        with _folder_lock(folder), _part_file(folder, new, mode) as part:
            if folder.read(place.name) != old:
                raise FileChangedError(str(place))
            folder.rename(part, place.name)
            folder.sync()


def remove_new_file(place: Path, body: bytes, made: list[Path], within: Path) -> None:
    """Remove a new file, if it still holds what was written, and the folders made for it."""
    with contextlib.suppress(OSError), held(within, place.parent) as folder:
        if folder.read(place.name) == body:
            folder.remove(place.name)
    _remove_folders(made)


@contextlib.contextmanager
def writing_turn(root: Path) -> Iterator[None]:
    """Wait until no other command reads and changes records of the ledger at *root*.

    It spares most of a crowd from doing its work again; what a change was made from is compared in
    any case. After `LOCK_SECONDS` nobody waits any longer.
    """
    with contextlib.ExitStack() as stack:
        with contextlib.suppress(OSError):
            folder = stack.enter_context(held(root, root))
            stack.enter_context(_folder_lock(folder))
            stack.callback(_turns.discard, _identity(folder))
            _turns.add(_identity(folder))
        yield


_turns: set[tuple[int, int]] = set()
"""The folders whose lock this process holds for its turn: it must not wait for itself."""


def _identity(folder: HeldFolder) -> tuple[int, int]:
    found = os.stat(folder.place if folder.handle is None else folder.handle)  # noqa: PTH116
    return found.st_dev, found.st_ino


def _resolve_within(place: Path, within: Path) -> tuple[Path, Path]:
    """Return a record's place with its links followed, and the folder that it is within.

    Raises: OutsideLedgerError, also for what is no record's place, such as git's own; OSError.
    """
    try:
        real, top = place.resolve(), within.resolve()
    except RuntimeError:  # Python 3.11 raises it for links that lead to each other
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None
    if not real.is_relative_to(top) or any(
        part.startswith(".") for part in real.relative_to(top).parts
    ):
        raise OutsideLedgerError(str(place))
    return real, top


@contextlib.contextmanager
def _new_folders(folder: Path, within: Path) -> Iterator[list[Path]]:
    """Give the folders that are not there yet, the innermost first, and make those above *within*.

    They are removed again where what follows fails.
    """
    made = []
    for parent in (folder, *folder.parents):
        if os.path.lexists(parent):
            break
        made.append(parent)
    try:
        if within in made:
            within.mkdir(parents=True, exist_ok=True)
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
def _part_file(folder: HeldFolder, body: bytes, mode: int) -> Iterator[str]:
    """Give the name of a new file with *body*, safely on disk; removed unless it was moved."""
    _remove_leftovers(folder)
    handle, part = folder.new_part(PART_PREFIX)
    try:
        with _open_stream(handle) as stream:
            stream.write(body)
            stream.flush()
            if hasattr(os, "fchmod"):  # Windows knows no modes: who may read is the folder's
                os.fchmod(stream.fileno(), mode)
            os.fsync(stream.fileno())
        yield part
    finally:
        with contextlib.suppress(OSError):
            folder.remove(part)


def _open_stream(handle: int) -> BinaryIO:
    """Return a stream for an open file handle; close the handle where that fails."""
    try:
        return os.fdopen(handle, "wb")
    except BaseException:
        os.close(handle)
        raise


@contextlib.contextmanager
def _folder_lock(folder: HeldFolder) -> Iterator[None]:
    """Hold the folder's lock, so that only one process at a time compares and replaces.

    Where a system or a disk has no locks, nobody waits.
    Raises: OSError where another process does not let go of the lock.
    """
    try:
        import fcntl
    except ImportError:  # a system without this kind of lock
        yield
        return
    if _identity(folder) in _turns:
        yield
        return
    handle = os.open(folder.place, os.O_RDONLY) if folder.handle is None else os.dup(folder.handle)
    try:
        _wait_for_lock(fcntl, handle, folder.place)
        yield
    finally:
        with contextlib.suppress(OSError):  # the lock belongs to the open folder, not to the copy
            fcntl.flock(handle, fcntl.LOCK_UN)
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


def _remove_leftovers(folder: HeldFolder) -> None:
    """Remove temporary files of processes that were killed a while ago."""
    for name in folder.names():
        found = folder.look(name) if name.startswith(PART_PREFIX) else None
        if found and time.time() - found.st_mtime > LEFTOVER_SECONDS:
            with contextlib.suppress(OSError):
                folder.remove(name)


def _umask() -> int:
    """Return the mask of new files; the system tells it only while it is set."""
    now = os.umask(0)
    os.umask(now)
    return now
