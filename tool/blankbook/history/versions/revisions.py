"""What a person means by a version of the ledger: a commit, a branch, a tag, a day."""

import datetime
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.versions.git import GitError, is_shallow, run_git

WORKING_FOLDER = ""
"""The name of what stands in the folder now, committed or not."""


class UnknownRevisionError(Exception):
    """There is no such version here; the message says why."""


@dataclass(frozen=True, slots=True)
class Revision:
    """One version of the ledger."""

    name: str
    """As it was asked for; empty for what stands in the folder now."""
    commit: str = ""
    """All the digits of its commit; empty for what stands in the folder now."""
    day: str = ""
    """The day it was committed."""

    @property
    def in_words(self) -> str:
        """The version in words."""
        return f"{self.name} ({self.day})" if self.commit else "the folder as it is now"


def find_revision(root: Path, name: str) -> Revision:
    """Return the version that *name* means; a day means the last commit until its end.

    Raises: UnknownRevisionError where there is none, GitError where git cannot answer at all.
    """
    if name == WORKING_FOLDER:
        return Revision(WORKING_FOLDER)
    if name.startswith("-") or "\0" in name:
        raise UnknownRevisionError(f"a version must not begin with a dash, found {name}")
    commit = _commit(root, name) or _on_day(root, name)
    if not commit:
        raise UnknownRevisionError(_why_none(root, name))
    day = run_git(root, "show", "--no-patch", "--format=%cs", "--end-of-options", commit)
    return Revision(name, commit, day.decode().strip())


def _commit(root: Path, name: str) -> str:
    """Return the commit that git takes a name for; empty where it knows none."""
    asked = ("rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    try:
        return run_git(root, *asked).decode().strip().splitlines()[-1]
    except (GitError, IndexError):
        return ""


def _on_day(root: Path, name: str) -> str:
    """Return the last commit until the end of a day; empty where *name* is no day."""
    try:
        day = datetime.date.fromisoformat(name)
    except ValueError:
        return ""
    until = f"--until={day.isoformat()}T23:59:59"
    try:
        return run_git(root, "rev-list", "-1", "--first-parent", until, "HEAD").decode().strip()
    except GitError:
        return ""


def _why_none(root: Path, name: str) -> str:
    """Return why nothing was found.

    Raises: GitError where there is no git or no repository.
    """
    run_git(root, "rev-parse", "--git-dir")
    if not _commit(root, "HEAD"):
        return "nothing is committed yet"
    more = ", and only a part of the history was fetched" if is_shallow(root) else ""
    return f"no commit, branch, tag or day of that name: {name}{more}"
