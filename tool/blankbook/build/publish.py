"""How the finished site takes the old one's place: in one step, or not at all.

The site is put together in a folder beside its place, on the same disk. On Linux one system call
then exchanges the two. Elsewhere two renames do, and the next build repairs what a build that was
killed between them left. Whatever a killed build leaves carries our mark and is removed.
"""

import contextlib
import ctypes
import errno
import os
import secrets
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

from blankbook.build.trust.output_place import (
    MARK,
    RefusedPlaceError,
    held_parent,
    may_be_replaced,
    write_mark,
)
from blankbook.text.writing.held_folder import HeldFolder

_AT_FDCWD = -100
_EXCHANGE = 2


@contextlib.contextmanager
def staging_folder(out: Path) -> Iterator[Path]:
    """Give a new folder beside *out*, and remove it at the end."""
    with held_parent(out, make=True) as parent:
        name = f"{out.name}.new-{secrets.token_hex(6)}"
        parent.make_folder(name, 0o700)
        try:
            write_mark(parent.place / name)
            yield parent.place / name
        finally:
            _remove(parent, name)


def repair(out: Path) -> None:
    """Repair what a killed build left: put an old site back, and remove what was not finished."""
    with contextlib.suppress(FileNotFoundError), held_parent(out) as parent:
        for left in _leftovers(parent, f"{out.name}.old-"):
            if parent.look(out.name) is None and _has_mark(parent, left):
                parent.rename(left, out.name)
            else:
                _remove(parent, left)
        for left in _leftovers(parent, f"{out.name}.new-"):
            _remove(parent, left)


def _remove(parent: HeldFolder, name: str) -> None:
    """Remove a folder of ours, its mark last, so that the next build can remove what is left."""
    with contextlib.suppress(OSError), contextlib.closing(parent.folder(name)) as folder:
        for part in folder.names():
            if folder.is_folder(part):
                folder.remove_tree(part)
            elif part != MARK:
                folder.remove(part)
        if folder.names() == [MARK]:
            folder.remove(MARK)
        parent.remove_folder(name)


def _leftovers(parent: HeldFolder, start: str) -> list[str]:
    """Return folders beside the site that a build of ours made and did not remove."""
    names = [name for name in parent.names() if name.startswith(start)]
    return [name for name in names if parent.is_folder(name) and _is_ours(parent, name)]


def _is_ours(parent: HeldFolder, name: str) -> bool:
    """Say whether a folder has our mark, or is empty, as just before it gets its mark."""
    with contextlib.closing(parent.folder(name)) as folder:
        return not folder.names() or _has_mark(parent, name)


def _has_mark(parent: HeldFolder, name: str) -> bool:
    with contextlib.closing(parent.folder(name)) as folder:
        found = folder.look(MARK)
        return found is not None and stat.S_ISREG(found.st_mode)


def publish(site: Path, out: Path) -> None:
    """Put *site* in the place of *out*; the old site is removed, or stands where *site* was.

    Raises: RefusedPlaceError where something else has come there since the place was looked at.
    """
    mask = os.umask(0)  # the only way to ask for it
    os.umask(mask)
    site.chmod(0o777 & ~mask)  # a temporary folder is its owner's alone
    with held_parent(out) as parent:
        new = str(site.relative_to(out.parent))
        if parent.look(out.name) is None:
            parent.rename(new, out.name)
            return
        if not (parent.is_folder(out.name) and may_be_replaced(out)):
            raise RefusedPlaceError(
                f"something else has come to {out}", "look at it, and build again"
            )
        if not exchange_folders(site, out):
            _exchange_by_renames(parent, new, out.name)


def _exchange_by_renames(parent: HeldFolder, new: str, name: str) -> None:
    """Exchange by two renames; the next build repairs what is left of one killed between them."""
    old = f"{name}.old-{secrets.token_hex(6)}"
    parent.rename(name, old)
    try:
        parent.rename(new, name)
    except BaseException:
        parent.rename(old, name)
        raise
    _remove(parent, old)


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
