"""What the foot of every page says: what the site was made from.

Each commit changes it on every page, and nothing else of most. So it is the last thing that a page
says, and no part of what is kept between builds: a page that stays gets the new foot in the place
of the old one when the site is put together.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build.build_errors import BrokenSite
from blankbook.build.file_stamps import HASH, Known

if TYPE_CHECKING:
    from blankbook.build.build_cache import State
    from blankbook.history.versions.file_commits import Commits


def foot(commit: str, day: str, *, differs: bool) -> str:
    """Return the foot of a site that was made from a *commit*; nothing is said of it without one.

    Markup has the same words: there is nothing in them to be escaped.
    """
    at = f", commit {commit} of {day}" if commit else ""
    more = " with uncommitted changes" if commit and differs else ""
    return (
        f"Built by blankbook from the ledger of the shop{at}{more}. "
        "Measurements are of garments laid flat, not of bodies."
    )


def foot_of(state: "State") -> str:
    """Return the foot that the site of an earlier build has on every page."""
    from blankbook.history.versions.file_commits import SHORT_DIGITS

    return foot(state.head[:SHORT_DIGITS], state.day, differs=bool(state.differing))


def differing(root: Path, inputs: Known, commits: "Commits", old: "State") -> list[str]:
    """Return the records, and photos that they name, that are not as they were committed.

    *inputs* are all that the site is made from. What the last build, *old*, has compared is not
    read again.
    """
    if not commits.head:
        return []
    return sorted(path for path in inputs if _differs(root, path, inputs, commits, old)) + sorted(
        path for path in commits.by_path if path not in inputs and _is_gone(path, commits)
    )


def _differs(root: Path, path: str, inputs: Known, commits: "Commits", old: "State") -> bool:
    commit, there = commits.by_path.get(path), bool(inputs[path][HASH])
    committed = commit is not None and not commit.is_deletion
    if commit is None or not (there and committed):
        return there != committed
    known = old.inputs.get(path)
    if (
        known
        and known[HASH] == inputs[path][HASH]
        and old.commits.get(path, "")[-1:] == [commit.blob]
    ):
        return path in old.differing
    try:
        return not commit.has(_bytes(root / path))
    except OSError:
        return True


def _bytes(place: Path) -> bytes:
    return place.read_bytes()


def _is_gone(path: str, commits: "Commits") -> bool:
    """Say whether the site would be made from this, if it were still there."""
    from blankbook.text.ledger_files import ledger_file_at

    return not commits.by_path[path].is_deletion and ledger_file_at(path) is not None


def with_foot(page: bytes, old: str, new: str) -> bytes:
    """Return a finished page with its foot replaced.

    Raises: BrokenSite.
    """
    before, found, after = page.rpartition(old.encode())
    if not found:
        raise BrokenSite("a page has no foot")
    return before + new.encode() + after
