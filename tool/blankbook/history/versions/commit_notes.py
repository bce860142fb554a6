"""What the commits between two versions say about each file: who wrote it down, and why."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.versions.file_commits import REASON
from blankbook.history.versions.git import NoGit, fields, run_git

_START = "\x01"


@dataclass(frozen=True, slots=True)
class Told:
    """What one commit says of itself."""

    id: str
    day: str
    subject: str
    reason: str = ""
    """What stands after ``Reason:`` in its message."""
    by: str = ""
    """Who wrote it down, as git knows them."""


def told_between(root: Path, old: str, new: str) -> Mapping[str, tuple[Told, ...]]:
    """Return the commits after *old* until *new* by the paths they touched, the newest first.

    One call. Nothing where git cannot say.
    """
    try:
        logged = run_git(
            root, "log", f"--format={_START}%H%x02%cs%x02%an%x02%s%x02%b", "--name-only", "-z",
            "--no-renames", "--no-ext-diff", "--no-textconv", "--relative",
            "--end-of-options", f"{old}..{new}", "--", ".",
        )  # fmt: skip
    except NoGit:
        return {}
    found: dict[str, tuple[Told, ...]] = {}
    now: Told | None = None
    for part in fields(logged):
        text = part.lstrip("\n")
        if text.startswith(_START) and text.count("\x02") >= 4:
            name, day, by, subject, body = text[1:].split("\x02", 4)
            said = REASON.search(body)
            now = Told(name, day, subject, said[1] if said else "", by)
        elif text and now:
            found[text] = (*found.get(text, ()), now)
    return found
