"""What the commits between two versions say of each file: who committed it, and why."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.versions.file_commits import REASON_LINE, SHORT_DIGITS
from blankbook.history.versions.git import GitError, nul_separated, run_git

_START = "\x01"
"""Begins a commit in the printed log; no path of a ledger begins with it."""


@dataclass(frozen=True, slots=True)
class CommitNote:
    """What one commit says of itself."""

    id: str
    day: str
    subject: str
    reason: str = ""
    """What stands after ``Reason:`` in its message."""
    by: str = ""
    """Who committed it, as git knows them."""

    @property
    def short(self) -> str:
        """The digits that a review shows."""
        return self.id[:SHORT_DIGITS]


def notes_between(root: Path, old: str, new: str) -> Mapping[str, tuple[CommitNote, ...]]:
    """Return the commits after *old* up to *new* by the paths they touched, the newest first.

    Git is called once. Where it cannot say, nothing is returned.
    """
    try:
        logged = run_git(
            root, "log", f"--format={_START}%H%x02%cs%x02%an%x02%s%x02%b", "--name-only", "-z",
            "--no-renames", "--no-ext-diff", "--no-textconv", "--relative",
            "--end-of-options", f"{old}..{new}", "--", ".",
        )  # fmt: skip
    except GitError:
        return {}
    found: dict[str, tuple[CommitNote, ...]] = {}
    note: CommitNote | None = None
    for part in nul_separated(logged):
        text = part.lstrip("\n")
        if text.startswith(_START) and text.count("\x02") >= 4:
            digits, day, by, subject, body = text[1:].split("\x02", 4)
            reason = REASON_LINE.search(body)
            note = CommitNote(digits, day, subject, reason[1] if reason else "", by)
        elif text and note:
            found[text] = (*found.get(text, ()), note)
    return found
