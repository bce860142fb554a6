"""The files of one version of the ledger: their names, and their bytes when they are needed."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from blankbook.history.versions.file_commits import PLAIN, blob_of, head_of
from blankbook.history.versions.git import NoGit, fields, run_git
from blankbook.history.versions.revisions import Revision
from blankbook.text.findings import Finding, UnreadableError
from blankbook.text.ledger_files import LedgerFile, ledger_file_at, read_bytes, scan_ledger

_PICTURES = (".jpg", ".jpeg", ".png", ".webp")


@dataclass(frozen=True)
class Snapshot:
    """What one version holds."""

    files: Mapping[str, LedgerFile]
    """The records, by path in the ledger."""
    blobs: Mapping[str, str]
    """Git's hash of every file's bytes, photos among them where a commit was read."""
    bodies: Mapping[str, bytes] = field(default_factory=dict)
    """The bytes by their hash, where they were read already."""
    stray: tuple[Finding, ...] = ()
    """What looks like a record, and is not taken as one."""

    @cached_property
    def by_blank(self) -> dict[str, tuple[LedgerFile, ...]]:
        """The records by their blank, and by "" those that every blank shares."""
        found: dict[str, list[LedgerFile]] = {"": []}
        for _, file in sorted(self.files.items()):
            found.setdefault(file.blank, []).append(file)
        return {key: tuple(files) for key, files in found.items()}

    def pictures(self, blanks: Collection[str]) -> Iterator[str]:
        """Yield the pictures in the folders of these blanks, by path."""
        yield from (path for path, blank in self._pictures if blank in blanks)

    @cached_property
    def _pictures(self) -> tuple[tuple[str, str | None], ...]:
        """Every picture, with the blank in whose folder it is."""
        return tuple((path, blank_at(path)) for path in self.blobs if is_picture(path))


def blank_at(path: str) -> str | None:
    """Return the blank in whose folder a file is, whatever it is."""
    return "/".join(path.split("/")[1:3]) if path.startswith("blanks/") else None


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
        if path and facts.split(" ")[0] in PLAIN and is_safe(path):
            blobs[path] = facts.split(" ")[2]
    found = (ledger_file_at(path) for path in sorted(blobs))
    return Snapshot({one.path: one for one in found if one}, blobs)


def standing(root: Path) -> Snapshot:
    """Return what stands in the folder now; a file that cannot be read has an empty hash."""
    found, stray = scan_ledger(root)
    blobs: dict[str, str] = {}
    held: dict[str, bytes] = {}
    head = head_of(root)
    for one in found:
        try:
            body = read_bytes(root, one)
        except FileNotFoundError:
            continue
        except (UnreadableError, OSError):
            blobs[one.path] = ""
            continue
        blobs[one.path] = name = blob_of(body, head)
        held[name] = body
    files = {one.path: one for one in found if one.path in blobs}
    return Snapshot(files, blobs, held, tuple(stray))


def is_safe(path: str) -> bool:
    """Say whether a name from a repository stays below the folder that it is put into."""
    return not any(part in {"", ".", ".."} for part in path.split("/")) and "\\" not in path


def bodies(root: Path, blobs: Iterable[str]) -> dict[str, bytes]:
    """Return the bytes of so many blobs, in one call.

    Raises: NoGit, also where one of them is not there.
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
    if len(found) < len(wanted):
        raise NoGit("some bytes of an older version are missing")
    return found


def is_picture(path: str) -> bool:
    """Say whether a path is that of a photo."""
    return path.lower().endswith(_PICTURES)
