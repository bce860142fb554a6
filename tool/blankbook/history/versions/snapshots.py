"""The files of one version of the ledger: their names, and their bytes when they are needed."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from blankbook.history.versions.file_commits import PLAIN_MODES, blob_hash, head_of
from blankbook.history.versions.git import GitError, nul_separated, run_git
from blankbook.history.versions.revisions import Revision
from blankbook.text.findings import Finding, UnreadableError
from blankbook.text.ledger_files import LedgerFile, ledger_file_at, read_bytes, scan_ledger

_PHOTO_ENDINGS = (".jpg", ".jpeg", ".png", ".webp")


@dataclass(frozen=True)
class Snapshot:
    """The files of one version."""

    files: Mapping[str, LedgerFile]
    """The records, by path in the ledger."""
    blobs: Mapping[str, str]
    """Git's hash of every file's bytes, photos among them where a commit was read."""
    bodies: Mapping[str, bytes] = field(default_factory=dict)
    """Bytes by their hash, where they were read already."""
    stray: tuple[Finding, ...] = ()
    """What looks like a record, and is not taken as one."""

    @cached_property
    def by_blank(self) -> dict[str, tuple[LedgerFile, ...]]:
        """The records of each blank, and by "" those that every blank shares."""
        found: dict[str, list[LedgerFile]] = {"": []}
        for _, file in sorted(self.files.items()):
            found.setdefault(file.blank, []).append(file)
        return {key: tuple(files) for key, files in found.items()}

    def photos(self, blanks: Collection[str]) -> Iterator[str]:
        """Yield the paths of the photos in the folders of these blanks."""
        yield from (path for path, blank in self._photos if blank in blanks)

    @cached_property
    def _photos(self) -> tuple[tuple[str, str | None], ...]:
        """Every photo, with the blank in whose folder it is."""
        return tuple((path, blank_of_path(path)) for path in self.blobs if is_photo(path))


def blank_of_path(path: str) -> str | None:
    """Return the blank in whose folder a file is, whatever the file is."""
    return "/".join(path.split("/")[1:3]) if path.startswith("blanks/") else None


def read_snapshot(root: Path, revision: Revision) -> Snapshot:
    """Return the names and hashes of one version.

    Raises: GitError.
    """
    return commit_snapshot(root, revision.commit) if revision.commit else folder_snapshot(root)


def commit_snapshot(root: Path, commit: str) -> Snapshot:
    """Return what a commit holds at and below *root*; git is called once.

    Raises: GitError.
    """
    listed = run_git(root, "ls-tree", "-r", "-z", "--end-of-options", commit)
    blobs: dict[str, str] = {}
    for part in nul_separated(listed):
        facts, _, path = part.partition("\t")
        if path and facts.split(" ")[0] in PLAIN_MODES and is_safe(path):
            blobs[path] = facts.split(" ")[2]
    found = (ledger_file_at(path) for path in sorted(blobs))
    return Snapshot({file.path: file for file in found if file}, blobs)


def folder_snapshot(root: Path) -> Snapshot:
    """Return what stands in the folder now; a file that cannot be read has an empty hash."""
    found, stray = scan_ledger(root)
    blobs: dict[str, str] = {}
    bodies: dict[str, bytes] = {}
    head = head_of(root)
    for file in found:
        try:
            body = read_bytes(root, file)
        except FileNotFoundError:  # removed since the folder was listed
            continue
        except (UnreadableError, OSError):
            blobs[file.path] = ""
            continue
        blobs[file.path] = blob = blob_hash(body, head)
        bodies[blob] = body
    files = {file.path: file for file in found if file.path in blobs}
    return Snapshot(files, blobs, bodies, tuple(stray))


def is_safe(path: str) -> bool:
    """Say whether a name from a repository stays below the folder that it is put into."""
    return not any(part in {"", ".", ".."} for part in path.split("/")) and "\\" not in path


def read_blobs(root: Path, blobs: Iterable[str]) -> dict[str, bytes]:
    """Return the bytes of these blobs, by their hash; git is called once.

    Raises: GitError, also where one of them is not there.
    """
    wanted = sorted({blob for blob in blobs if blob})
    if not wanted:
        return {}
    printed = run_git(root, "cat-file", "--batch", stdin="\n".join(wanted).encode() + b"\n")
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
        raise GitError("some bytes of an older version are missing")
    return found


def is_photo(path: str) -> bool:
    """Say whether a path is that of a photo."""
    return path.lower().endswith(_PHOTO_ENDINGS)
