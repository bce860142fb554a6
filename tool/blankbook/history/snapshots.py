"""The files of one version of the ledger: their names, and their bytes when they are needed."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.commits import blob_of, head_of
from blankbook.history.git import fields, run_git
from blankbook.history.revisions import Revision
from blankbook.text.files import LedgerFile, list_files, read_bytes
from blankbook.text.findings import UnreadableText

_PICTURES = (".jpg", ".jpeg", ".png", ".webp")
_PLAIN = {"100644", "100755"}
_SHARED = re.compile(r"(suppliers|measuring)/([^/]+)\.yaml")
_OF_BLANK = re.compile(r"blanks/([^/]+/[^/]+)/([^/]+)\.yaml")
_LEFT_BEHIND = (".", "#")


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What one version holds."""

    files: Mapping[str, LedgerFile]
    """The records, by path in the ledger."""
    blobs: Mapping[str, str]
    """Git's hash of every file's bytes, photos among them where a commit was read."""


def snapshot(root: Path, one: Revision) -> Snapshot:
    """Return the names and hashes of one version, in one call."""
    return committed(root, one.commit) if one.commit else standing(root)


def committed(root: Path, commit: str) -> Snapshot:
    """Return what a commit holds at and below *root*.

    Raises: NoGit.
    """
    listed = run_git(root, "ls-tree", "-r", "-z", "--end-of-options", commit)
    blobs: dict[str, str] = {}
    for part in fields(listed):
        facts, _, path = part.partition("\t")
        if path and facts.split(" ")[0] in _PLAIN and is_safe(path):
            blobs[path] = facts.split(" ")[2]
    found = (record_at(path) for path in sorted(blobs))
    return Snapshot({one.path: one for one in found if one}, blobs)


def standing(root: Path) -> Snapshot:
    """Return what stands in the folder now; a file that cannot be read has an empty hash."""
    files = {one.path: one for one in list_files(root)}
    blobs, head = {}, head_of(root)
    for path, one in files.items():
        try:
            blobs[path] = blob_of(read_bytes(root, one), head)
        except FileNotFoundError:
            continue
        except (UnreadableText, OSError):
            blobs[path] = ""
    return Snapshot({path: one for path, one in files.items() if path in blobs}, blobs)


def is_safe(path: str) -> bool:
    """Say whether a name from a repository stays below the folder that it is put into."""
    return not any(part in {"", ".", ".."} for part in path.split("/")) and "\\" not in path


def record_at(path: str) -> LedgerFile | None:
    """Return what kind of record stands at a path, if any: as in a folder on disk."""
    name = path.rpartition("/")[2]
    if path == "shop.yaml":
        return LedgerFile(path, "shop")
    if name.startswith(_LEFT_BEHIND):
        return None
    if shared := _SHARED.fullmatch(path):
        return LedgerFile(path, "supplier" if shared[1] == "suppliers" else "study")
    if not (of_blank := _OF_BLANK.fullmatch(path)):
        return None
    kind = "delivery" if name.endswith("-delivery.yaml") else "round"
    return LedgerFile(path, "style" if name == "style.yaml" else kind, of_blank[1])


def bodies(root: Path, blobs: Iterable[str]) -> dict[str, bytes]:
    """Return the bytes of so many blobs, in one call; one that is not there is left out.

    Raises: NoGit.
    """
    wanted = sorted({one for one in blobs if one})
    if not wanted:
        return {}
    printed = run_git(root, "cat-file", "--batch", given="\n".join(wanted).encode() + b"\n")
    found, at = {}, 0
    while at < len(printed):
        end = printed.index(b"\n", at)
        head = printed[at:end].split(b" ")
        at = end + 1
        if len(head) == 3 and head[1] == b"blob":
            size = int(head[2])
            found[head[0].decode()] = printed[at : at + size]
            at += size + 1
    return found


def is_picture(path: str) -> bool:
    """Say whether a path is that of a photo."""
    return path.lower().endswith(_PICTURES)


def lay_out(
    root: Path,
    held: Snapshot,
    paths: Iterable[str],
    folder: Path,
    body: Mapping[str, bytes] | None = None,
) -> None:
    """Write some files of a commit below *folder*, so that they are read like any ledger.

    *body* has the bytes by hash, where they are known.
    Raises: NoGit, OSError.
    """
    wanted = list(paths)
    body = bodies(root, (held.blobs[path] for path in wanted)) if body is None else body
    for path in wanted:
        if held.blobs[path] in body:
            place = folder / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(body[held.blobs[path]])
