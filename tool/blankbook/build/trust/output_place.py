"""Where a site may go: a folder of its own, and nothing that a ledger holds now or later."""

import contextlib
import os
import stat
from contextlib import AbstractContextManager
from pathlib import Path

from blankbook.text.writing.held_folder import HeldFolder, held

MARK = ".blankbook-site"
"""The file that marks a folder as a site of ours, which may be replaced."""
MARK_TEXT = "A site made by blankbook. The next build replaces this whole folder.\n"
LEDGER_FOLDERS = frozenset({"suppliers", "blanks", "measuring", "schemas"})
"""What a ledger holds, now or later, besides its shop.yaml."""


class RefusedPlaceError(Exception):
    """A place that must not be built into, and what to do instead."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


def check_place(out: Path, root: Path) -> None:
    """Refuse a place where a site would replace something else, now or later.

    Raises: RefusedPlaceError; InTheWayError where a link is on the way there from a ledger.
    """
    remedy = "name a new folder, or one that an earlier build made"
    if out.is_symlink():
        raise RefusedPlaceError(f"--out must not be a link, found {out}", remedy)
    if out.exists() and not out.is_dir():
        raise RefusedPlaceError(f"--out must be a folder, found the file {out}", remedy)
    real, ledger = out.resolve(), root.resolve()
    if real == ledger or real in ledger.parents:
        raise RefusedPlaceError(f"--out must not hold the ledger itself, found {out}", remedy)
    for above in (folder for folder in real.parents if folder == ledger or is_ledger(folder)):
        first = real.relative_to(above).parts[0].casefold()
        if first in LEDGER_FOLDERS or first.startswith("."):
            raise RefusedPlaceError(
                f"--out must not be among the ledger's records, found {out}", remedy
            )
    if any(part.casefold() == ".git" for part in real.parts):
        raise RefusedPlaceError(f"--out must not be among git's own files, found {out}", remedy)
    if real in {Path(real.anchor), Path.home().resolve()} or (real / ".git").exists():
        raise RefusedPlaceError(f"--out must be a folder for the site alone, found {out}", remedy)
    if out.is_dir() and not may_be_replaced(out):
        raise RefusedPlaceError(f"--out is not empty and was not made by a build: {out}", remedy)
    with contextlib.suppress(FileNotFoundError), held_parent(out):
        pass


def is_ledger(folder: Path) -> bool:
    """Say whether a folder is a ledger: only a ledger has such a file."""
    return os.path.lexists(folder / "shop.yaml")


def may_be_replaced(folder: Path) -> bool:
    """Say whether a folder is an earlier site of ours, or empty."""
    with held(folder, folder) as there:
        found = there.look(MARK)
        return (found is not None and stat.S_ISREG(found.st_mode)) or not there.names()


def held_parent(out: Path, *, make: bool = False) -> AbstractContextManager[HeldFolder]:
    """Hold the folder that the site is to stand in; below a ledger no link is followed.

    Elsewhere the path is the user's own.
    """
    ledgers = [folder for folder in out.parents if is_ledger(folder)]
    if make and not ledgers:
        out.parent.mkdir(parents=True, exist_ok=True)
    return held(ledgers[-1] if ledgers else out.parent, out.parent, make=make and bool(ledgers))


def write_mark(folder: Path) -> None:
    """Mark a folder as ours."""
    (folder / MARK).write_text(MARK_TEXT, encoding="utf-8")
