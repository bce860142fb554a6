"""The finished site takes the old one's place in one step, or not at all.

The site is put together in a folder beside its place, on the same disk. On Linux the two are then
exchanged by one system call; elsewhere by two renames, and a build that was killed between them is
put right by the next one. What a killed build left behind carries our mark and is swept away.
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
"""The file that says that a folder is a site of ours, and may be replaced."""
MARK_TEXT = "A site made by blankbook. The next build replaces this whole folder.\n"
_AT_FDCWD = -100
_EXCHANGE = 2


class Refused(Exception):  # noqa: N818 - what happened
    """A place that must not be built into, with what to do instead."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


class Busy(Refused):
    """Another build is at work on the same ledger."""


def check_place(out: Path, root: Path) -> None:
    """Refuse a place where a site would bury something else.

    Raises: Refused.
    """
    remedy = "name a new folder, or one that an earlier build made"
    if out.is_symlink():
        raise Refused(f"--out must not be a link, found {out}", remedy)
    if out.exists() and not out.is_dir():
        raise Refused(f"--out must be a folder, found the file {out}", remedy)
    real, ledger = out.resolve(), root.resolve()
    if real == ledger or real in ledger.parents:
        raise Refused(f"--out must not hold the ledger itself, found {out}", remedy)
    kept = [ledger / "suppliers", ledger / "blanks", ledger / ".blankbook"]
    if any(real == folder or folder in real.parents for folder in kept):
        raise Refused(f"--out must not be among the ledger's records, found {out}", remedy)
    if real in {Path(real.anchor), Path.home().resolve()} or (real / ".git").exists():
        raise Refused(f"--out must be a folder for the site alone, found {out}", remedy)
    if out.is_dir() and not (out / MARK).is_file() and any(out.iterdir()):
        raise Refused(f"--out is not empty and was not made by a build: {out}", remedy)


@contextlib.contextmanager
def staging(out: Path) -> Iterator[Path]:
    """Give a new folder beside *out*, and take it away again unless it was published."""
    out.parent.mkdir(parents=True, exist_ok=True)
    folder = Path(tempfile.mkdtemp(prefix=f"{out.name}.new-", dir=out.parent))
    try:
        mark(folder)
        yield folder
    finally:
        _remove(folder)


def mark(folder: Path) -> None:
    """Say in *folder* that it is ours."""
    (folder / MARK).write_text(MARK_TEXT, encoding="utf-8")


def put_right(out: Path) -> None:
    """Undo what a killed build left: put an old site back, and sweep what was never finished."""
    for left in _leftovers(out, "old"):
        if not out.exists() and (left / MARK).is_file():
            left.rename(out)
        else:
            _remove(left)
    for left in _leftovers(out, "new"):
        _remove(left)


def _remove(folder: Path) -> None:
    """Remove a folder of ours as far as that goes, its mark last: the next build does the rest."""
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
    """Return folders beside *out* that a build of ours made and did not get to remove."""
    pattern = "".join(f"[{c}]" if c in "*?[" else c for c in out.name) + f".{kind}-*"
    found = [one for one in sorted(out.parent.glob(pattern)) if one.is_dir()]
    return [one for one in found if not one.is_symlink() and _is_ours(one)]


def _is_ours(folder: Path) -> bool:
    """Say whether a folder has our mark, or was just about to get it."""
    return (folder / MARK).is_file() or not any(folder.iterdir())


def publish(site: Path, out: Path) -> None:
    """Put *site* in the place of *out*; what was there before is removed afterwards."""
    mask = os.umask(0)
    os.umask(mask)
    site.chmod(0o777 & ~mask)
    if not out.exists():
        site.rename(out)
        return
    if not exchange(site, out):
        _exchange_by_hand(site, out)


def _exchange_by_hand(site: Path, out: Path) -> None:
    """Exchange by two renames; a build that is killed between them is put right by the next."""
    old = Path(tempfile.mkdtemp(prefix=f"{out.name}.old-", dir=out.parent))
    old.rmdir()
    out.rename(old)
    try:
        site.rename(out)
    except BaseException:
        old.rename(out)
        raise
    _remove(old)


def exchange(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where the system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP}:
        return False
    raise OSError(number, os.strerror(number), str(other))


@contextlib.contextmanager
def locked(folder: Path) -> Iterator[bool]:
    """Hold the ledger's lock in its own *folder*; give False where that cannot be written to.

    Raises: Busy, naming the process that holds it.
    """
    try:
        folder.mkdir(exist_ok=True)
        handle = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as error:
        if error.errno in {errno.EROFS, errno.EACCES, errno.EPERM}:
            yield False
            return
        raise
    _held.add(handle)
    try:
        _take(handle)
        yield True
    finally:
        _held.discard(handle)
        os.close(handle)


_held: set[int] = set()


def _let_go() -> None:
    """Close the lock in a child: one that outlives a killed build must not keep it."""
    for handle in _held:
        os.close(handle)


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_let_go)


def _take(handle: int) -> None:
    try:
        import fcntl
    except ImportError:  # no such lock on this system
        return
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        holder = os.read(handle, 32).decode(errors="replace").strip() or "unknown"
        raise Busy(
            f"another build of this ledger is running (process {holder})", "wait until it has ended"
        ) from None
    os.ftruncate(handle, 0)
    os.pwrite(handle, f"{os.getpid()}\n".encode(), 0)
