"""The foot of every page, which says what the site was made from.

Each commit changes the foot of every page, and nothing else of most. So the foot is no part of a
page's key: a page that stays gets the new foot in the place of the old one.
"""

from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build.build_errors import BrokenSiteError
from blankbook.build.file_stamps import HASH_INDEX, FileStates

if TYPE_CHECKING:
    from blankbook.build.build_cache import BuildState
    from blankbook.history.versions.file_commits import Commits


def foot_text(commit: str, day: str, *, differs: bool) -> str:
    """Return the foot of a site; without a *commit* it names none.

    It is the same in markup: nothing in it must be escaped, so it can be found and replaced.
    """
    at = f", commit {commit} of {day}" if commit else ""
    more = " with uncommitted changes" if commit and differs else ""
    return (
        f"Built by blankbook from the ledger of the shop{at}{more}. "
        "Measurements are of garments laid flat, not of bodies."
    )


def foot_of_state(state: "BuildState") -> str:
    """Return the foot that the site of an earlier build has on every page."""
    from blankbook.history.versions.file_commits import SHORT_DIGITS

    return foot_text(state.head[:SHORT_DIGITS], state.day, differs=bool(state.uncommitted))


def uncommitted_files(
    root: Path, inputs: FileStates, commits: "Commits", old: "BuildState"
) -> list[str]:
    """Return the records, and photos that they name, that are not as they were committed.

    *inputs* are the files that the site is made from. What the last build, *old*, has compared is
    not read again.
    """
    if not commits.head:
        return []
    return sorted(path for path in inputs if _differs(root, path, inputs, commits, old)) + sorted(
        path for path in commits.by_path if path not in inputs and _is_gone(path, commits)
    )


def _differs(
    root: Path, path: str, inputs: FileStates, commits: "Commits", old: "BuildState"
) -> bool:
    commit, there = commits.by_path.get(path), bool(inputs[path][HASH_INDEX])
    committed = commit is not None and not commit.is_deletion
    if commit is None or not (there and committed):
        return there != committed
    known = old.inputs.get(path)
    if (
        known
        and known[HASH_INDEX] == inputs[path][HASH_INDEX]
        and old.commits.get(path, "")[-1:] == [commit.blob]
    ):
        return path in old.uncommitted
    try:
        return not commit.has(_bytes(root / path))
    except OSError:
        return True


def _bytes(place: Path) -> bytes:
    return place.read_bytes()


def _is_gone(path: str, commits: "Commits") -> bool:
    """Say whether a committed record is missing in the folder."""
    from blankbook.text.ledger_files import ledger_file_at

    return not commits.by_path[path].is_deletion and ledger_file_at(path) is not None


def replace_foot(page: bytes, old: str, new: str) -> bytes:
    """Return a finished page with its foot replaced.

    Raises: BrokenSiteError.
    """
    before, found, after = page.rpartition(old.encode())
    if not found:
        raise BrokenSiteError("a page has no foot")
    return before + new.encode() + after
