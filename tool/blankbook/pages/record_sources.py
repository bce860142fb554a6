"""Where every number comes from: the record behind it, copied into the site, and its commit."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blankbook.history.versions.file_commits import Commits


@dataclass(frozen=True, slots=True)
class RecordSource:
    """A record of the ledger that a page rests on."""

    path: str
    """In the ledger."""

    @property
    def copy(self) -> str:
        """Where its copy goes in the site: as plain text, which every browser shows."""
        return f"records/{self.path}.txt"


@dataclass(frozen=True, slots=True)
class RecordCommit:
    """The commit that a record comes from."""

    id: str
    day: str
    changed: bool
    """Whether the record is not as it was committed."""


def commit_of(path: str, body: bytes, commits: "Commits") -> RecordCommit | None:
    """Return the commit of a record that holds *body* now; None where git knows none."""
    commit = commits.by_path.get(path)
    return RecordCommit(commit.short, commit.day, not commit.has(body)) if commit else None
