"""Which commit each file of the ledger comes from, read in one pass over the history."""

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from blankbook.history.versions.git import NoGit, fields, run_git

SHORT = 10
"""Digits of a commit that a page shows."""
_START = "\x01"
_CRLF = b"\r\n"
PLAIN = {"100644", "100755"}
"""The modes of plain files: neither a link nor another repository."""
REASON = re.compile(r"^reason: *(\S.*)$", re.IGNORECASE | re.MULTILINE)
"""How a commit's message says why the past was rewritten."""
_SHA1_DIGITS = 40


@dataclass(frozen=True, slots=True)
class Commit:
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
        return self.id[:SHORT]

    @property
    def is_deletion(self) -> bool:
        """Whether the file is no more since then."""
        return not self.blob.strip("0")

    def has(self, body: bytes) -> bool:
        """Say whether the file's bytes are those of the commit.

        Line ends that a checkout has turned into those of its system do not count.
        """
        return self.blob in {blob_of(one, self.blob) for one in {body, body.replace(_CRLF, b"\n")}}


@dataclass(frozen=True, slots=True)
class Step:
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
    """By path: git's hash before and after; empty where there was no plain file."""


@dataclass(frozen=True, slots=True)
class Commits:
    """What git knows of a ledger's files; nothing where there is no git."""

    head: str = ""
    """The commit that is checked out."""
    day: str = ""
    """The day it was committed, as the committer's clock had it."""
    of: Mapping[str, Commit] = field(default_factory=dict)
    """By path in the ledger."""
    steps: tuple[Step, ...] = ()
    """Every commit that touched a file of the ledger, the newest first; merges as one."""

    @property
    def short(self) -> str:
        """The digits of the commit that a page shows."""
        return self.head[:SHORT]


def blob_of(body: bytes, like: str) -> str:
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
    except NoGit:
        return "", ""
    head, _, day = said.strip().partition(" ")
    return head, day


def commits_of(root: Path, head: str, day: str = "") -> Commits:
    """Return the newest commit before or at *head*, of *day*, of every file below *root*.

    Merges are seen from the branch they were made on. A shallow clone says what it has: a file's
    commit is then never older than the oldest that was fetched. Nothing is known where git cannot
    say.
    """
    if not head:
        return Commits()
    try:
        logged = run_git(
            root, "log", f"--format={_START}%H%x02%cs%x02%ct%x02%P%x02%b", "--raw", "-z",
            "--no-abbrev", "--no-renames", "--first-parent", "-m", "--no-ext-diff",
            "--no-textconv", "--relative", head, "--", ".",
        )  # fmt: skip
    except NoGit:
        return Commits()
    newest: dict[str, Commit] = {}
    steps: list[Step] = []
    for step, path, blob, files in _touched(logged):
        if not steps or steps[-1] is not step:
            steps.append(step)
        step.files[path] = files
        newest.setdefault(path, Commit(step.id, step.day, blob))
    return Commits(head, day, newest, tuple(steps))


def _touched(logged: bytes) -> Iterator[tuple[Step, str, str, tuple[str, str]]]:
    """Yield each commit with each path that it touched, the newest first.

    With a path come git's hash of the file, and those of before and after where it was plain.
    """
    now, facts = Step("", "", 0, 0, ""), [""]
    for part in fields(logged):
        text = part.lstrip("\n")
        if facts[0]:  # whatever follows the hashes is a name, however it begins
            modes, blobs = facts[:2], facts[2:4]
            pair = tuple(
                blob if mode in PLAIN else "" for mode, blob in zip(modes, blobs, strict=True)
            )
            yield now, part, blobs[1], (pair[0], pair[1])
            facts = [""]
        elif text.startswith(_START):
            now = _step(text[1:])
        elif text.startswith(":"):
            facts = text[1:].split(" ")


def _step(text: str) -> Step:
    name, day, seconds, parents, body = text.split("\x02", 4)
    said = REASON.search(body)
    return Step(name, day, int(seconds), len(parents.split()), said[1].strip() if said else "")
