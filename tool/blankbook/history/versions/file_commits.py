"""Which commit each file of the ledger comes from, read in one pass over the history."""

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.history.versions.git import GitError, nul_separated, run_git

SHORT_DIGITS = 10
"""Digits of a commit that a page shows."""
_START = "\x01"
"""Begins a commit in the printed log."""
PLAIN_MODES = {"100644", "100755"}
"""The modes of plain files: neither a link nor another repository."""
REASON_LINE = re.compile(r"^reason: *(\S.*)$", re.IGNORECASE | re.MULTILINE)
"""How a commit's message says why the past was rewritten."""
_SHA1_DIGITS = 40
"""A longer hash is SHA-256: git has repositories of both kinds."""


@dataclass(frozen=True, slots=True)
class FileCommit:
    """The newest commit of a file."""

    id: str
    """All its digits."""
    day: str
    """The day it was committed, as the committer's clock had it: ``2026-05-06``."""
    blob: str
    """Git's hash of what the file held then; zeros where it was deleted."""

    @property
    def short(self) -> str:
        """The digits that a page shows."""
        return self.id[:SHORT_DIGITS]

    @property
    def is_deletion(self) -> bool:
        """Whether the commit deleted the file."""
        return not self.blob.strip("0")

    def has(self, body: bytes) -> bool:
        """Say whether the file's bytes are those of the commit.

        A checkout may have turned line ends into those of its system; that does not count.
        """
        return self.blob in {
            blob_hash(form, self.blob) for form in {body, body.replace(b"\r\n", b"\n")}
        }


@dataclass(frozen=True, slots=True)
class Commit:
    """A commit against the one before it."""

    id: str
    day: str
    at: int
    """When it was committed: seconds since the start of 1970, UTC."""
    parents: int
    """How many commits it follows; none for the first one, or for the oldest that was fetched."""
    reason: str
    """What stands after ``Reason:`` in its message."""
    files: dict[str, tuple[str, str]] = field(default_factory=dict)
    """By path: git's hash before the commit and after it; empty where there was no plain file."""


@dataclass(frozen=True, slots=True)
class Commits:
    """What git knows of a ledger's files; nothing where there is no git."""

    head: str = ""
    """The commit that is checked out."""
    day: str = ""
    """The day it was committed, as the committer's clock had it."""
    by_path: Mapping[str, FileCommit] = field(default_factory=dict)
    """The newest commit of each file."""
    newest_first: tuple[Commit, ...] = ()
    """Every commit that touched a file of the ledger; a merge is one commit."""

    @property
    def short(self) -> str:
        """The digits of the commit that a page shows."""
        return self.head[:SHORT_DIGITS]


def blob_hash(body: bytes, like: str) -> str:
    """Return the hash that git gives these bytes, in a repository whose hashes are *like* this."""
    made = hashlib.sha256 if len(like) > _SHA1_DIGITS else hashlib.sha1
    return made(b"blob %d\0" % len(body) + body, usedforsecurity=False).hexdigest()


def head_of(root: Path) -> str:
    """Return the commit that is checked out where *root* is; empty where there is none."""
    return head_and_day(root)[0]


def head_and_day(root: Path) -> tuple[str, str]:
    """Return the commit that is checked out, and its day; both empty where there is none."""
    try:
        said = run_git(root, "log", "--max-count=1", "--format=%H %cs", "HEAD", "--").decode()
    except GitError:
        return "", ""
    head, _, day = said.strip().partition(" ")
    return head, day


def read_commits(root: Path, head: str, day: str = "") -> Commits:
    """Return what git knows of the files below *root*, up to the commit *head* of *day*.

    One log answers for all files: a call for each file takes some hundred times as long. A merge
    is seen from the branch it was made on. In a shallow clone no commit is older than the oldest
    that was fetched. Where git cannot say, nothing is known.
    """
    if not head:
        return Commits()
    try:
        logged = run_git(
            root, "log", f"--format={_START}%H%x02%cs%x02%ct%x02%P%x02%b", "--raw", "-z",
            "--no-abbrev", "--no-renames", "--first-parent", "-m", "--no-ext-diff",
            "--no-textconv", "--relative", head, "--", ".",
        )  # fmt: skip
    except GitError:
        return Commits()
    newest: dict[str, FileCommit] = {}
    found: list[Commit] = []
    for commit, path, blob, before_and_after in _parse_log(logged):
        if not found or found[-1] is not commit:
            found.append(commit)
        commit.files[path] = before_and_after
        newest.setdefault(path, FileCommit(commit.id, commit.day, blob))
    return Commits(head, day, newest, tuple(found))


def _parse_log(logged: bytes) -> Iterator[tuple[Commit, str, str, tuple[str, str]]]:
    """Yield each commit with each path that it touched, the newest first.

    With a path come git's hash of the file after the commit, and the hashes before and after, which
    are empty where there was no plain file.
    """
    commit, facts = Commit("", "", 0, 0, ""), [""]
    for part in nul_separated(logged):
        text = part.lstrip("\n")
        if facts[0]:  # whatever follows the hashes is a name, however it begins
            modes, blobs = facts[:2], facts[2:4]
            pair = tuple(
                blob if mode in PLAIN_MODES else "" for mode, blob in zip(modes, blobs, strict=True)
            )
            yield commit, part, blobs[1], (pair[0], pair[1])
            facts = [""]
        elif text.startswith(_START):
            commit = _parse_commit(text[1:])
        elif text.startswith(":"):
            facts = text[1:].split(" ")


def _parse_commit(text: str) -> Commit:
    digits, day, seconds, parents, body = text.split("\x02", 4)
    reason = REASON_LINE.search(body)
    said = reason[1].strip() if reason else ""
    return Commit(digits, day, int(seconds), len(parents.split()), said)
