"""The files of a ledger, and their bytes; nothing outside of it is ever read."""

import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from blankbook.text.decoding import MOST_RECORD_BYTES
from blankbook.text.findings import Finding, UnreadableError, visible

FILE_PATTERNS = {
    "shop": "shop.yaml",
    "supplier": "suppliers/*.yaml",
    "study": "measuring/*.yaml",
    "style": "blanks/*/*/style.yaml",
    "round": "blanks/*/*/[0-9]*.yaml",
    "delivery": "blanks/*/*/*-delivery.yaml",
    "order": "blanks/*/*/*-order.yaml",
}
"""By kind: the paths of its files. In a blank's folder the last word of a name tells the kind, and
what has no such word is a round.
"""
_KINDS_BY_ENDING = {
    f"-{kind}.yaml": kind for kind, path in FILE_PATTERNS.items() if path.endswith(f"*-{kind}.yaml")
}
DATED_KINDS = frozenset({"round", *_KINDS_BY_ENDING.values()})
"""The kinds whose names begin with a date."""


@dataclass(frozen=True, slots=True, order=True)
class LedgerFile:
    """One file of the ledger, by its place."""

    path: str
    """Relative to the ledger, with forward slashes."""
    kind: str
    """One of `FILE_PATTERNS`."""
    blank: str = ""
    """``supplier/style`` for a file in a blank's folder, else empty."""

    @property
    def stem(self) -> str:
        """The file's own name without its ending."""
        return self.path.rpartition("/")[2].rpartition(".")[0]


def scan_ledger(root: Path) -> tuple[list[LedgerFile], list[Finding]]:
    """Return the files of the ledger, and findings for what looks like a record and is none.

    Both are sorted by path. No file is opened.
    """
    found = list(_find(root))
    files = sorted(file for file in found if isinstance(file, LedgerFile))
    return files, sorted(finding for finding in found if isinstance(finding, Finding))


def list_files(root: Path) -> list[LedgerFile]:
    """Return the files of the ledger, sorted by path. No file is opened."""
    return scan_ledger(root)[0]


def _find(root: Path) -> Iterator[LedgerFile | Finding]:
    """Yield the files and findings, unsorted; folders are text here, as there may be thousands."""
    yield LedgerFile("shop.yaml", "shop")
    for name in ("suppliers", "measuring", "blanks"):
        if (root / name).is_symlink():
            yield Finding(name, 1, 1, "link-leaves", "a link is not followed", _NO_LINK)
    yield from _records(f"{root}/suppliers", "suppliers", lambda _: "supplier", "")
    yield from _records(f"{root}/measuring", "measuring", lambda _: "study", "")
    for supplier in _folders(f"{root}/blanks", "blanks"):
        if isinstance(supplier, Finding):
            yield supplier
            continue
        for style in _folders(f"{root}/blanks/{supplier}", f"blanks/{supplier}"):
            if isinstance(style, Finding):
                yield style
                continue
            blank = f"{supplier}/{style}"
            yield from _records(
                f"{root}/blanks/{blank}", f"blanks/{blank}", _kind_of_blank_file, blank
            )


# A link of a folder could lead out of the ledger, or in a circle.
_NO_LINK = "put the folder itself in its place"


def _kind_of_blank_file(name: str) -> str:
    if name == "style.yaml":
        return "style"
    _, hyphen, last = name.rpartition("-")
    return _KINDS_BY_ENDING.get(hyphen + last, "round")


def ledger_file_at(path: str) -> LedgerFile | None:
    """Return the file that a scan of the ledger finds at *path*, or None; the disk is not read."""
    *folders, name = path.split("/")
    if path == "shop.yaml":
        return LedgerFile(path, "shop")
    if not name.endswith(".yaml") or any(is_leftover(part) for part in (*folders, name)):
        return None
    if folders in (["suppliers"], ["measuring"]):
        return LedgerFile(path, "supplier" if folders == ["suppliers"] else "study")
    if len(folders) == 3 and folders[0] == "blanks":
        return LedgerFile(path, _kind_of_blank_file(name), "/".join(folders[1:]))
    return None


def _entries(folder: str) -> list[os.DirEntry[str]]:
    """Return what a folder holds; nothing where it is missing, or a link."""
    if os.path.islink(folder):  # noqa: PTH114 - thousands of folders
        return []
    try:
        with os.scandir(folder) as found:
            return [entry for entry in found if not is_leftover(entry.name)]
    except (FileNotFoundError, NotADirectoryError):
        return []


def is_leftover(name: str) -> bool:
    """Say whether an editor or the system left this behind."""
    return name.startswith((".", "#")) or name.endswith(("~", ".swp", ".tmp", ".orig", ".bak"))


def _folders(folder: str, path: str) -> Iterator[str | Finding]:
    """Yield the names of the folders in a folder, and findings for what should not be there."""
    for entry in _entries(folder):
        if entry.is_symlink() or not entry.is_dir(follow_symlinks=False):
            place = visible(f"{path}/{entry.name}", 300)
            if entry.is_symlink():
                yield Finding(place, 1, 1, "link-leaves", "a link is not followed", _NO_LINK)
            elif _looks_like_record(entry.name):
                message = "a record outside of a blank's folder"
                remedy = "move it to blanks/SUPPLIER/STYLE/"
                yield Finding(place, 1, 1, "out-of-place", message, remedy)
        else:
            yield entry.name


def _looks_like_record(name: str) -> bool:
    return name.lower().endswith((".yaml", ".yml"))


def _records(
    folder: str, path: str, kind: Callable[[str], str], blank: str
) -> Iterator[LedgerFile | Finding]:
    """Yield the records of one folder; *kind* tells the kind of a record by its name."""
    for entry in _entries(folder):
        if entry.name.endswith(".yaml"):
            yield LedgerFile(f"{path}/{entry.name}", kind(entry.name), blank)
        elif entry.is_dir(follow_symlinks=False):
            yield from _records_too_deep(entry.path, f"{path}/{entry.name}")
        elif _looks_like_record(entry.name):
            good = entry.name.rpartition(".")[0] + ".yaml"
            message = f"a record's name must end in .yaml, found {visible(entry.name)}"
            place = visible(f"{path}/{entry.name}", 300)
            yield Finding(place, 1, 1, "wrong-ending", message, f"rename it to {visible(good)}")


def _records_too_deep(folder: str, path: str) -> Iterator[Finding]:
    """Yield a finding for each record in a folder for photos and notes: none is read there."""
    for entry in _entries(folder):
        place = f"{path}/{entry.name}"
        if entry.is_dir(follow_symlinks=False):
            yield from _records_too_deep(entry.path, place)
        elif _looks_like_record(entry.name):
            message = "a record in a folder where none is looked for"
            remedy = f"move it to {visible(_records_folder(path), 200)}/"
            yield Finding(visible(place, 300), 1, 1, "out-of-place", message, remedy)


def _records_folder(path: str) -> str:
    """Return the nearest folder above *path* in which records are looked for."""
    first, *rest = path.split("/")
    return "/".join((first, *rest[:2])) if first == "blanks" else first


def read_bytes(root: Path, file: LedgerFile) -> bytes:
    """Return the bytes of one file.

    Raises: UnreadableError unless it is a plain file of a sensible size inside the ledger; OSError
    where the system refuses.
    """
    place = root / file.path
    found = place.lstat()
    if stat.S_ISLNK(found.st_mode):
        found = _through_link(root, place)
    if stat.S_ISDIR(found.st_mode):
        raise UnreadableError(
            "not-a-file", "a folder with the name of a record", "rename the folder"
        )
    if not stat.S_ISREG(found.st_mode):
        raise UnreadableError("not-a-file", "not a plain file", "replace it by a plain file")
    check_size(found.st_size)
    return place.read_bytes()


def check_size(size: int) -> None:
    """Refuse a size in bytes that no record has.

    Raises: UnreadableError.
    """
    if size > MOST_RECORD_BYTES:
        most = f"must be at most 1 MiB, which is {MOST_RECORD_BYTES:,} bytes"
        raise UnreadableError("file-too-large", f"{most}, found {size:,}", "split it")


def _through_link(root: Path, place: Path) -> os.stat_result:
    """Return what a link leads to, inside the ledger. Raises: UnreadableError."""
    try:
        target = place.resolve(strict=True)
    except (OSError, RuntimeError):
        raise UnreadableError("broken-link", "a link that leads nowhere", "replace it") from None
    if not target.is_relative_to(root.resolve()):
        raise UnreadableError("link-leaves", "a link that leaves the ledger", "copy the file here")
    return target.stat()
