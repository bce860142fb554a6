"""Bytes to disk: whole or not at all, and never over what somebody else has written meanwhile."""

import contextlib
import errno
import os
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

PART = ".blankbook-part-"
"""How a file begins that is being written; nothing reads it, and it is swept away later."""
OLD = 3600.0
"""Seconds after which such a file was left behind by something that was killed."""
PATIENCE = 10.0
"""Seconds to wait for somebody else who is writing to the same folder."""


class ChangedUnderneath(Exception):  # noqa: N818 - what happened
    """The file is not what it was when it was read; it was left alone."""


class AlreadyThere(Exception):  # noqa: N818 - what happened
    """A file that was to be new is there; it was left alone."""


class LeadsOut(Exception):  # noqa: N818 - what happened
    """A link on the way to the file leaves the ledger; what it leads to was left alone."""


def write_new(place: Path, body: bytes, within: Path) -> list[Path]:
    """Write a file that must not be there yet, and return the folders that were made for it.

    Raises: AlreadyThere, LeadsOut where the place is not *within* that folder, OSError; the folders
    are gone then.
    """
    with _naming(place):
        place = _inside(place.parent, within) / place.name
    with (
        _naming(place),
        _made(place.parent) as made,
        _turn(place.parent),
        _part(place.parent, body, 0o666 & ~_umask()) as part,
    ):
        try:
            os.link(part, place)
        except FileExistsError:
            raise AlreadyThere(str(place)) from None
        except OSError as error:
            if error.errno not in {errno.EPERM, errno.EOPNOTSUPP, errno.ENOSYS}:
                raise
            if os.path.lexists(place):  # a disk without links
                raise AlreadyThere(str(place)) from None
            part.rename(place)
        for folder in (place.parent, *(new.parent for new in made)):
            _keep(folder)
    return made


def replace(place: Path, old: bytes, new: bytes, within: Path) -> None:
    """Put *new* in the place of *old*; a link is followed to the file that it means.

    Raises: ChangedUnderneath where the file does not hold *old*; LeadsOut where it is not *within*
    that folder; OSError, with the old file whole, also where nobody may write to it.
    """
    with _naming(place):
        place = _inside(place, within)
        mode = place.stat().st_mode & 0o7777
        if not mode & 0o222:
            raise PermissionError(errno.EACCES, "the file is marked as not to be written to")
    with _naming(place), _turn(place.parent), _part(place.parent, new, mode) as part:
        if place.read_bytes() != old:
            raise ChangedUnderneath(str(place))
        part.replace(place)
        _keep(place.parent)


def take_back(place: Path, body: bytes, made: list[Path]) -> None:
    """Remove a file that was new, if it still is what was written, and the folders made for it."""
    with contextlib.suppress(OSError):
        if place.read_bytes() == body:
            place.unlink()
    _unmake(made)


def _inside(place: Path, within: Path) -> Path:
    """Return where a place truly is. Raises: LeadsOut, OSError."""
    try:
        real = place.resolve()
        if not real.is_relative_to(within.resolve()):
            raise LeadsOut(str(place))
    except RuntimeError:  # what Python 3.11 says of links that lead to each other
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None
    return real


@contextlib.contextmanager
def _made(folder: Path) -> Iterator[list[Path]]:
    """Make a folder, and give those that were made, the innermost first; gone after a failure."""
    made = []
    for parent in (folder, *folder.parents):
        if os.path.lexists(parent):
            break
        made.append(parent)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield made
    except BaseException:
        _unmake(made)
        raise


def _unmake(made: list[Path]) -> None:
    """Remove folders that were made, the innermost first; one that holds something stays."""
    for folder in made:
        with contextlib.suppress(OSError):
            folder.rmdir()


@contextlib.contextmanager
def _naming(place: Path) -> Iterator[None]:
    """Name the file that was to be written where the system names none, or one of ours beside it.

    Raises: OSError.
    """
    try:
        yield
    except OSError as error:
        if error.filename is None or PART in str(error.filename):
            raise OSError(error.errno, error.strerror, str(place)) from error
        raise


@contextlib.contextmanager
def _part(folder: Path, body: bytes, mode: int) -> Iterator[Path]:
    """Give a file with *body* that is safely on disk; it is gone afterwards unless it was moved."""
    _sweep(folder)
    handle, name = tempfile.mkstemp(prefix=PART, dir=folder)
    part = Path(name)
    try:
        with _stream(handle) as stream:
            stream.write(body)
            stream.flush()
            os.fchmod(stream.fileno(), mode)
            os.fsync(stream.fileno())
        yield part
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _stream(handle: int) -> BinaryIO:
    """Return a stream to a file that is open; it is closed where there can be none."""
    try:
        return os.fdopen(handle, "wb")
    except BaseException:
        os.close(handle)
        raise


@contextlib.contextmanager
def _turn(folder: Path) -> Iterator[None]:
    """Wait until nobody else writes to the folder; where it cannot be locked, nobody waits.

    Raises: OSError where somebody does not let go of it.
    """
    try:
        import fcntl
    except ImportError:  # no such lock on this system
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        _lock(fcntl, handle, folder)
        yield
    finally:
        os.close(handle)


def _lock(fcntl: object, handle: int, folder: Path) -> None:
    give_up = time.monotonic() + PATIENCE
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


def _keep(folder: Path) -> None:
    """Have the disk remember the new name."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _sweep(folder: Path) -> None:
    """Remove what was left behind when something was killed a while ago."""
    for left in folder.glob(f"{PART}*"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > OLD:
                left.unlink()


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now
