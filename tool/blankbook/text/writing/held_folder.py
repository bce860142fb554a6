"""A folder held open: what is done in it happens there, and never through a link.

A ledger may be cloned from anywhere, and a link in it could lead a write to any file of the person
who builds it. So each folder below the ledger is opened from the one above it, and a link on the
way is an error that names it. A system that opens nothing from a folder is asked about each name
first.
"""

import contextlib
import errno
import os
import secrets
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Any

NO_LINK = "a link is in the way, and nothing is written through a link"
NOT_PLAIN = "something else than a file of ours is in the way"
_NOFOLLOW = getattr(os, "O_NOFOLLOW", 0)
_FOLDER = getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_CLOEXEC", 0) | _NOFOLLOW
_OPENS_FROM_FOLDERS = bool(_NOFOLLOW) and (
    {os.open, os.mkdir, os.rename, os.unlink, os.rmdir, os.stat} <= os.supports_dir_fd
)


class InTheWayError(OSError):
    """A link, or anything else that is not ours, stands where we write; it was left alone."""

    def __init__(self, place: Path, why: str = NO_LINK) -> None:
        super().__init__(errno.ELOOP, why, str(place))


class HeldFolder:
    """An open folder. Every method takes a plain name in it, and follows no link.

    Each raises InTheWayError where a link has the name, and OSError with the whole path.
    """

    def __init__(self, place: Path, handle: int | None) -> None:
        self.place = place
        self.handle = handle
        """None on a system that opens nothing from a folder."""

    def open(self, name: str, flags: int, mode: int = 0o666) -> int:
        """Return the handle of an open file."""
        with self._told(name):
            where, at = self._where(name)
            return os.open(where, flags | _NOFOLLOW | getattr(os, "O_CLOEXEC", 0), mode, **at)

    def open_plain(self, name: str, flags: int) -> int:
        """Return the handle of an open file; one that is written to has this name alone.

        Raises: InTheWayError, also for a device, a pipe, or a second name elsewhere.
        """
        handle = self.open(name, flags | getattr(os, "O_NONBLOCK", 0))
        found, writes = os.fstat(handle), flags & (os.O_WRONLY | os.O_RDWR)
        if not stat.S_ISREG(found.st_mode) or (writes and found.st_nlink > 1):
            os.close(handle)
            raise InTheWayError(self.place / name, NOT_PLAIN)
        return handle

    def read(self, name: str) -> bytes:
        """Return what a file holds."""
        with os.fdopen(self.open_plain(name, os.O_RDONLY), "rb") as file:
            return file.read()

    def new_part(self, prefix: str, ending: str = "") -> tuple[int, str]:
        """Return the handle and the name of a new file that nobody else can read."""
        name = f"{prefix}{secrets.token_hex(8)}{ending}"
        return self.open(name, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600), name

    def look(self, name: str) -> os.stat_result | None:
        """Return what has a name, a link as such; None where nothing has it."""
        where, at = self._where(name, check=False)
        try:
            return os.stat(where, **at, follow_symlinks=False)  # noqa: PTH116
        except FileNotFoundError:
            return None

    def is_folder(self, name: str) -> bool:
        """Say whether a name is that of a folder, and not of a link."""
        found = self.look(name)
        return found is not None and stat.S_ISDIR(found.st_mode)

    def names(self) -> list[str]:
        """Return the names of what is in it, sorted."""
        return sorted(os.listdir(self.place if self.handle is None else self.handle))  # noqa: PTH208

    def make_folder(self, name: str, mode: int = 0o777) -> None:
        """Make a new folder."""
        with self._told(name):
            where, at = self._where(name)
            os.mkdir(where, mode, **at)  # noqa: PTH102

    def folder(self, name: str) -> "HeldFolder":
        """Return a folder in it, opened; the caller closes it."""
        place = self.place / name
        if self.handle is None:
            self._no_link(name)
            if not place.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(place))
            return HeldFolder(place, None)
        with self._told(name):
            return HeldFolder(place, os.open(name, os.O_RDONLY | _FOLDER, dir_fd=self.handle))

    def rename(self, old: str, new: str) -> None:
        """Give something another name; a file that had the new name is replaced."""
        with self._told(new):
            (one, at), (other, to) = self._where(old), self._where(new, check=False)
            ends = _two("src_dir_fd", at) | _two("dst_dir_fd", to)
            os.replace(one, other, **ends)  # noqa: PTH105

    def link(self, old: str, new: str) -> None:
        """Give a file a second name, which nothing has yet."""
        with self._told(new):
            (one, at), (other, to) = self._where(old), self._where(new, check=False)
            os.link(one, other, **_two("src_dir_fd", at), **_two("dst_dir_fd", to))

    def remove(self, name: str) -> None:
        """Remove a file, or a link itself."""
        with self._told(name, anything=True):
            where, at = self._where(name, check=False)
            os.unlink(where, **at)

    def remove_folder(self, name: str) -> None:
        """Remove an empty folder."""
        with self._told(name):
            where, at = self._where(name)
            os.rmdir(where, **at)

    def remove_tree(self, name: str) -> None:
        """Remove a folder with all that is in it, as far as that goes; links are not followed."""
        with contextlib.suppress(OSError):
            where, at = self._where(name)
            shutil.rmtree(where, ignore_errors=True, **at)

    def sync(self) -> None:
        """Have the disk keep the names too: after a power cut the bytes alone are not enough."""
        with contextlib.suppress(OSError):
            handle = self.handle if self.handle is not None else os.open(self.place, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                if handle != self.handle:
                    os.close(handle)

    def close(self) -> None:
        """Let go of it."""
        if self.handle is not None:
            os.close(self.handle)
            self.handle = None

    def _where(self, name: str, *, check: bool = True) -> tuple[str, dict[str, Any]]:
        """Return how the system is told of a name: from the open folder, or by its whole path."""
        if self.handle is not None:
            return name, {"dir_fd": self.handle}
        if check:
            self._no_link(name)
        return str(self.place / name), {}

    def _no_link(self, name: str) -> None:
        if (self.place / name).is_symlink():
            raise InTheWayError(self.place / name)

    @contextlib.contextmanager
    def _told(self, name: str, *, anything: bool = False) -> Iterator[None]:
        """Raise errors of the system with the whole path, and a link as what it is."""
        try:
            yield
        except InTheWayError:
            raise
        except OSError as error:
            if not anything and error.errno in {errno.ELOOP, errno.ENOTDIR, errno.EMLINK}:
                self._no_link(name)
            if error.filename is None:
                raise
            raise OSError(error.errno, error.strerror, str(self.place / name)) from error


def _two(name: str, at: dict[str, Any]) -> dict[str, Any]:
    return {name: at["dir_fd"]} if at else {}


@contextlib.contextmanager
def held(within: Path, place: Path, *, make: bool = False) -> Iterator[HeldFolder]:
    """Hold the folder at *place*, which is *within* another that the caller trusts.

    Links in the path of *within* itself are the user's own, and are followed. With *make*, folders
    that are not there are made.
    Raises: InTheWayError; ValueError where the place is not within the other; OSError.
    """
    parts = place.relative_to(within).parts
    if ".." in parts:
        raise ValueError(f"{place} is not within {within}")
    folder = _open(within)
    try:
        for part in parts:
            if make and folder.look(part) is None:
                with contextlib.suppress(FileExistsError):  # another process was faster
                    folder.make_folder(part)
            inner = folder.folder(part)
            folder.close()
            folder = inner
        yield folder
    finally:
        folder.close()


def _open(place: Path) -> HeldFolder:
    if not _OPENS_FROM_FOLDERS:
        return HeldFolder(place, None)
    return HeldFolder(place, os.open(place, os.O_RDONLY | (_FOLDER & ~_NOFOLLOW)))
