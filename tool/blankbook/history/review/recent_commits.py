"""The last commits that changed records, and what each of them means.

What a commit means follows from it and the one before it alone, so it is worked out once and kept
between builds. The walk begins at the newest commit: of that one it is known what every blank
contributes to judging the others. Of each version before, only the blanks that the commit touched
are read again. The bytes of all versions come from git in one call.
"""

import hashlib
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from blankbook.history.report.short_lines import ChangeSummary, change_summaries
from blankbook.history.review.commit_walk import CommitVisit, touches_records, walk_back
from blankbook.history.review.compare_versions import VersionComparison
from blankbook.history.versions.commit_notes import CommitNote, notes_between
from blankbook.history.versions.file_commits import SHORT_DIGITS, Commit, Commits
from blankbook.history.versions.git import is_shallow
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import is_photo, read_blobs
from blankbook.text.ledger_files import ledger_file_at
from blankbook.text.writing.scratch_folder import scratch_folder

MOST_COMMITS = 20
"""Commits that are looked at; those before them are counted."""
MOST_JUDGED = 6
"""With more changed blanks than this, or other rules for all, a commit is told without judging."""
MOST_PARTS = 8
"""Blanks and suppliers that are told of in one commit; the rest are counted."""
_FIRST_BYTES = {
    **dict.fromkeys((".jpg", "jpeg"), b"\xff\xd8\xff\xe0"),
    ".png": b"\x89PNG\r\n\x1a\n",
    "webp": b"RIFF\0\0\0\0WEBPVP8 ",
}
"""How a photo begins, by the last four characters of its name."""
ChangeEntry = dict[str, Any]
"""What is told of one commit, as JSON data: ``id``, ``key``, ``commit``, ``day``, ``at``, ``parts``
and ``rest``."""


@dataclass(frozen=True, slots=True)
class RecentChanges:
    """The last changes of the ledger."""

    entries: tuple[ChangeEntry, ...]
    """The newest first; one without parts changed nothing in meaning."""
    earlier: int
    """How many commits before them touched records as well."""
    is_shallow: bool
    """Whether only a part of the history was fetched, which ends with these entries."""
    first_key: str
    """The key of the ledger's first commit; empty where it was not fetched."""


def recent_changes(
    root: Path,
    commits: Commits,
    known: Mapping[str, ChangeEntry],
    contributions: Mapping[str, Any] | None,
) -> RecentChanges:
    """Return the last changes; *known* is what was told before, by commit.

    *contributions* are those of each blank as it was committed last, where they are known.
    Raises: GitError, OSError.
    """
    touching = [commit for commit in commits.newest_first if touches_records(commit)]
    shown = touching[:MOST_COMMITS]
    is_cut = bool(touching) and not touching[-1].parents and is_shallow(root)
    if is_cut:  # the oldest that was fetched seems to add the whole ledger
        shown = [commit for commit in shown if commit.parents]
    missing = {commit.id for commit in shown if commit.parents and commit.id not in known}
    made = {**known, **(_read_entries(root, commits, missing, contributions) if missing else {})}
    for commit in shown:
        if not commit.parents:
            made[commit.id] = _entry(commit, [ChangeSummary("shop", "", (_beginning(commit),))])
    entries = tuple(made[commit.id] for commit in shown)
    first_key = _key(touching[-1]) if touching and not is_cut else ""
    return RecentChanges(entries, len(touching) - len(shown) - is_cut, is_cut, first_key)


def _beginning(commit: Commit) -> str:
    """Return what is said of the commit that a ledger begins with."""
    files = [file for path in commit.files if (file := ledger_file_at(path))]
    blanks = sum(file.kind == "style" for file in files)
    suppliers = sum(file.kind == "supplier" for file in files)
    counts = [
        f"{number} {word}{'' if number == 1 else 's'}"
        for number, word in ((blanks, "blank"), (suppliers, "supplier"))
    ]
    return f"the ledger begins: {', '.join(counts)}"


def _read_entries(
    root: Path,
    commits: Commits,
    missing: Collection[str],
    contributions: Mapping[str, Any] | None,
) -> dict[str, ChangeEntry]:
    """Return what the *missing* commits mean, by commit.

    Commits between them are compared as well: the older contributions of one are the newer ones
    of the commit before it.
    """
    visits = list(walk_back(commits, missing))
    found: dict[str, ChangeEntry] = {}
    with scratch_folder() as scratch:
        rules = read_blobs(root, _rule_blobs(visits))
        comparisons = [
            _comparison(root, scratch / visit.commit.id, visit, rules) for visit in visits
        ]
        blobs = _read_needed(root, _foreseen(comparisons, known=contributions is not None))
        for visit, comparison in zip(visits, comparisons, strict=True):
            comparison.scratch_folder.mkdir()
            result = replace(
                comparison, newer_contributions=contributions, known_blobs=blobs
            ).result()
            contributions = result.older_contributions
            if visit.commit.id in missing:
                found[visit.commit.id] = _entry(visit.commit, change_summaries(result.review))
    return found


def _rule_blobs(visits: Iterable[CommitVisit]) -> Iterator[str]:
    """Yield git's hashes of the shop's rules and studies that were touched, before and after.

    They are read first: whether the rules differ decides what else must be read.
    """
    for visit in visits:
        for path, before_and_after in visit.commit.files.items():
            if (file := ledger_file_at(path)) and file.kind in {"shop", "study"}:
                yield from before_and_after


def _comparison(
    root: Path, scratch_folder: Path, visit: CommitVisit, rules: Mapping[str, bytes]
) -> VersionComparison:
    commit = visit.commit
    revisions = (
        Revision("before", f"{commit.id}^1"),
        Revision(commit.id[:SHORT_DIGITS], commit.id, commit.day),
    )
    notes = _notes(root, commit)
    return VersionComparison(
        root, scratch_folder, revisions, visit.snapshots, notes, None, rules, MOST_JUDGED
    )


def _foreseen(
    comparisons: Iterable[VersionComparison], *, known: bool
) -> Iterator[VersionComparison]:
    """Yield each comparison as it will be made: with the newer contributions known or not.

    So it is foreseen which bytes each will ask for, before any of them is made.
    """
    for comparison in comparisons:
        yield replace(comparison, newer_contributions={} if known else None)
        known = (known or comparison.judges_any) and not comparison.rules_differ


def _notes(root: Path, commit: Commit) -> dict[str, tuple[CommitNote, ...]]:
    """Return what was said of each file; of a merge, also what its commits say."""
    own = CommitNote(commit.id, commit.day, "", commit.reason)
    found: dict[str, tuple[CommitNote, ...]] = dict.fromkeys(commit.files, (own,))
    if commit.parents > 1 and not commit.reason:
        within = notes_between(root, f"{commit.id}^1", commit.id)
        found |= {path: (own, *within.get(path, ())) for path in commit.files}
    return found


def _read_needed(root: Path, comparisons: Iterable[VersionComparison]) -> dict[str, bytes]:
    """Return the bytes that the comparisons need, by git's hash, in one call.

    A photo is only looked for here, and recognised by its first bytes. So none is fetched.
    """
    needed = {at for comparison in comparisons for at in comparison.needed_blobs()}
    photos = {blob: _FIRST_BYTES[path[-4:].lower()] for path, blob in needed if is_photo(path)}
    return photos | read_blobs(root, (blob for path, blob in needed if not is_photo(path)))


def _entry(commit: Commit, summaries: list[ChangeSummary]) -> ChangeEntry:
    """Return what is told of a commit, as JSON data."""
    shown = [asdict(summary) | {"lines": list(summary.lines)} for summary in summaries[:MOST_PARTS]]
    return {
        "id": commit.id,
        "key": _key(commit),
        "commit": commit.id[:SHORT_DIGITS],
        "day": commit.day,
        "at": commit.at,
        "parts": shown,
        "rest": len(summaries) - len(shown),
    }


def _key(commit: Commit) -> str:
    """Return what no other commit has, nor another ledger that the same commit touched."""
    touched = sorted(f"{path}\0{old}\0{new}" for path, (old, new) in commit.files.items())
    body = "\n".join((commit.id, *touched)).encode("utf-8", "surrogateescape")
    return hashlib.sha256(body, usedforsecurity=False).hexdigest()
