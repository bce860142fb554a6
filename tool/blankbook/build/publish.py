"""How the finished site takes the old one's place: in one step, or not at all.

The site is put together in a folder beside its place, on the same disk. On Linux one system call
then exchanges the two. Elsewhere two renames do, and the next build repairs what a build that was
killed between them left. Whatever a killed build leaves carries our mark and is removed.
"""

import contextlib
import ctypes
import errno
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

MARK = ".blankbook-site"
"""The file that marks a folder as a site of ours, which may be replaced."""
MARK_TEXT = "A site made by blankbook. The next build replaces this whole folder.\n"
_AT_FDCWD = -100
_EXCHANGE = 2


class RefusedPlaceError(Exception):
    """A place that must not be built into, and what to do instead."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


class BusyError(RefusedPlaceError):
    """Another build of the same ledger is running."""


def check_place(out: Path, root: Path) -> None:
    """Refuse a place where a site would replace something else.

    Raises: RefusedPlaceError.
    """
    remedy = "name a new folder, or one that an earlier build made"
    if out.is_symlink():
        raise RefusedPlaceError(f"--out must not be a link, found {out}", remedy)
    if out.exists() and not out.is_dir():
        raise RefusedPlaceError(f"--out must be a folder, found the file {out}", remedy)
    real, ledger = out.resolve(), root.resolve()
    if real == ledger or real in ledger.parents:
        raise RefusedPlaceError(f"--out must not hold the ledger itself, found {out}", remedy)
    own_folders = [ledger / "suppliers", ledger / "blanks", ledger / ".blankbook"]
    if any(real == folder or folder in real.parents for folder in own_folders):
        raise RefusedPlaceError(
            f"--out must not be among the ledger's records, found {out}", remedy
        )
    if real in {Path(real.anchor), Path.home().resolve()} or (real / ".git").exists():
        raise RefusedPlaceError(f"--out must be a folder for the site alone, found {out}", remedy)
    if out.is_dir() and not (out / MARK).is_file() and any(out.iterdir()):
        raise RefusedPlaceError(f"--out is not empty and was not made by a build: {out}", remedy)


@contextlib.contextmanager
def staging_folder(out: Path) -> Iterator[Path]:
    """Give a new folder beside *out*, and remove it at the end."""
    out.parent.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(prefix=f"{out.name}.new-", dir=out.parent))
    try:
        write_mark(folder)
        yield folder
    finally:
        _remove(folder)


def write_mark(folder: Path) -> None:
    """Mark a folder as ours."""
    (folder / MARK).write_text(MARK_TEXT, encoding="utf-8")


def repair(out: Path) -> None:
    """Repair what a killed build left: put an old site back, and remove what was not finished."""
    for left in _leftovers(out, "old"):
        if not out.exists() and (left / MARK).is_file():
            left.rename(out)
        else:
            _remove(left)
    for left in _leftovers(out, "new"):
        _remove(left)


def _remove(folder: Path) -> None:
    """Remove a folder of ours, its mark last, so that the next build can remove what is left."""
    with contextlib.suppress(OSError):
        for part in folder.iterdir():
            if part.is_dir() and not part.is_symlink():
                shutil.rmtree(part, ignore_errors=True)
            elif part.name != MARK:
                part.unlink()
        if [part.name for part in folder.iterdir()] == [MARK]:
            (folder / MARK).unlink()
        folder.rmdir()


def _leftovers(out: Path, kind: str) -> list[Path]:
    """Return the folders beside *out* that a build of ours made and did not remove."""
    pattern = "".join(f"[{c}]" if c in "*?[" else c for c in out.name) + f".{kind}-*"
    found = [folder for folder in sorted(out.parent.glob(pattern)) if folder.is_dir()]
    return [folder for folder in found if not folder.is_symlink() and _is_ours(folder)]


def _is_ours(folder: Path) -> bool:
    """Say whether a folder has our mark, or is empty, as just before it gets its mark."""
    return (folder / MARK).is_file() or not any(folder.iterdir())


def publish(site: Path, out: Path) -> None:
    """Put *site* in the place of *out*; the old site is removed, or stands where *site* was."""
    mask = os.umask(0)  # the only way to ask for it
    os.umask(mask)
    site.chmod(0o777 & ~mask)  # a temporary folder is its owner's alone
    if not out.exists():
        site.rename(out)
        return
    if not exchange_folders(site, out):
        _exchange_by_renames(site, out)


def _exchange_by_renames(site: Path, out: Path) -> None:
    """Exchange by two renames; the next build repairs what is left of one killed between them."""
    old = Path(tempfile.mkdtemp(prefix=f"{out.name}.old-", dir=out.parent))
    old.rmdir()
    out.rename(old)
    try:
        site.rename(out)
    except BaseException:
        old.rename(out)
        raise
    _remove(old)


def exchange_folders(new: Path, old: Path) -> bool:
    """Exchange two folders in one step; False where the system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(new), _AT_FDCWD, os.fsencode(old), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP}:
        return False
    raise OSError(number, os.strerror(number), str(old))


@contextlib.contextmanager
def build_lock(folder: Path) -> Iterator[bool]:
    """Hold the ledger's lock in its own *folder*; give False where that cannot be written to.

    Raises: BusyError, naming the process that holds it.
    """
    try:
        folder.mkdir(exist_ok=True)
        handle = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o666)
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
