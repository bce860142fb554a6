"""Which files make a ledger, and their bytes: nothing outside it is ever read."""

import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from blankbook.text.decoding import MOST_BYTES
from blankbook.text.findings import Finding, UnreadableText, visible


@dataclass(frozen=True, slots=True, order=True)
class LedgerFile:
    """One file of the ledger, by its place."""

    path: str
    """Relative to the ledger, with forward slashes."""
    kind: str
    """``shop``, ``supplier``, ``study``, ``style``, ``round`` or ``delivery``."""
    blank: str = ""
    """``supplier/style``, for what stands in a blank's folder."""

    @property
    def stem(self) -> str:
        """The file's own name without its ending."""
        return self.path.rpartition("/")[2].rpartition(".")[0]


def look_through(root: Path) -> tuple[list[LedgerFile], list[Finding]]:
    """Return the files of the ledger, and what looks like a record and is not taken as one.

    Both are sorted by path; nothing is opened.
    """
    found = list(_walk(root))
    files = sorted(file for file in found if isinstance(file, LedgerFile))
    return files, sorted(finding for finding in found if isinstance(finding, Finding))


def list_files(root: Path) -> list[LedgerFile]:
    """Return the files of the ledger, sorted by path; nothing is opened."""
    return look_through(root)[0]


def _walk(root: Path) -> Iterator[LedgerFile | Finding]:
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
            yield from _records(f"{root}/blanks/{blank}", f"blanks/{blank}", _kind, blank)


_NO_LINK = "put the folder itself in its place"


def _kind(name: str) -> str:
    if name.endswith("-delivery.yaml"):
        return "delivery"
    return "style" if name == "style.yaml" else "round"


def record_at(path: str) -> LedgerFile | None:
    """Return what kind of record stands at a path of a ledger, if any: as a look through finds."""
    *folders, name = path.split("/")
    if path == "shop.yaml":
        return LedgerFile(path, "shop")
    if not name.endswith(".yaml") or any(is_leftover(part) for part in (*folders, name)):
        return None
    if folders in (["suppliers"], ["measuring"]):
        return LedgerFile(path, "supplier" if folders == ["suppliers"] else "study")
    if len(folders) == 3 and folders[0] == "blanks":
        return LedgerFile(path, _kind(name), "/".join(folders[1:]))
    return None


def _entries(folder: str) -> list[os.DirEntry[str]]:
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
    for entry in _entries(folder):
        if entry.is_symlink() or not entry.is_dir(follow_symlinks=False):
            place = visible(_joined(path, entry.name), 300)
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
    for entry in _entries(folder):
        if entry.name.endswith(".yaml"):
            yield LedgerFile(_joined(path, entry.name), kind(entry.name), blank)
        elif entry.is_dir(follow_symlinks=False):
            yield from _too_deep(entry.path, _joined(path, entry.name))
        elif _looks_like_record(entry.name):
            good = entry.name.rpartition(".")[0] + ".yaml"
            message = f"a record's name must end in .yaml, found {visible(entry.name)}"
            place = visible(_joined(path, entry.name), 300)
            yield Finding(place, 1, 1, "wrong-ending", message, f"rename it to {visible(good)}")


def _too_deep(folder: str, path: str) -> Iterator[Finding]:
    """Yield records in a folder that is there for photos and notes: nothing reads them."""
    for entry in _entries(folder):
        place = _joined(path, entry.name)
        if entry.is_dir(follow_symlinks=False):
            yield from _too_deep(entry.path, place)
        elif _looks_like_record(entry.name):
            message = "a record in a folder where none is looked for"
            remedy = f"move it to {visible(_above(path), 200)}/"
            yield Finding(visible(place, 300), 1, 1, "out-of-place", message, remedy)


def _above(path: str) -> str:
    """Return the folder above *path* that holds records."""
    first, *rest = path.split("/")
    return "/".join((first, *rest[:2])) if first == "blanks" else first


def _joined(path: str, name: str) -> str:
    return f"{path}/{name}"


def read_bytes(root: Path, file: LedgerFile) -> bytes:
    """Return the bytes of one file.

    Raises: UnreadableText where it is no plain file of a sensible size inside the ledger; OSError
    where the system refuses.
    """
    place = root / file.path
    found = place.lstat()
    if stat.S_ISLNK(found.st_mode):
        found = _through_link(root, place)
    if stat.S_ISDIR(found.st_mode):
        raise UnreadableText(
            "not-a-file", "a folder with the name of a record", "rename the folder"
        )
    if not stat.S_ISREG(found.st_mode):
        raise UnreadableText("not-a-file", "not a plain file", "replace it by a plain file")
    refuse_large(found.st_size)
    return place.read_bytes()


def refuse_large(size: int) -> None:
    """Refuse a file of so many bytes where it is too large for a record.

    Raises: UnreadableText.
    """
    if size > MOST_BYTES:
        found = f"{size / (1 << 20):.1f} MiB"
        raise UnreadableText("file-too-large", f"must be at most 1 MiB, found {found}", "split it")


def _through_link(root: Path, place: Path) -> os.stat_result:
    try:
        target = place.resolve(strict=True)
    except (OSError, RuntimeError):
        raise UnreadableText("broken-link", "a link that leads nowhere", "replace it") from None
    if not target.is_relative_to(root.resolve()):
        raise UnreadableText("link-leaves", "a link that leaves the ledger", "copy the file here")
    return target.stat()
