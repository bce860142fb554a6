"""Two versions of a ledger as git lists them: which files, and what the commits between them say.

Little is loaded here, for all that a review says follows from this: where it was said before, it is
known from here on.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from blankbook.history.review.blank_paths import names_of
from blankbook.history.versions.commit_notes import Told, told_between
from blankbook.history.versions.revisions import Revision
from blankbook.history.versions.snapshots import Snapshot, snapshot
from blankbook.text.digests import digest


@dataclass(frozen=True, slots=True)
class Pair:
    """Two versions, the older first."""

    root: Path
    asked: tuple[Revision, Revision]
    held: tuple[Snapshot, Snapshot]
    told: Mapping[str, tuple[Told, ...]]
    """What commits say of each file; nothing where both hold the same."""

    def name(self, code: str) -> str:
        """Return a hash of all that a review of them follows from; *code* is that of the program.

        Empty where something unknown bears on it, and without a *code*.
        """
        parts = [code]
        for asked, held in zip(self.asked, self.held, strict=True):
            names = names_of(held, code, committed=bool(asked.commit))
            if not all(names.values()):
                return ""
            parts += [asked.name, asked.commit, asked.day]
            parts += [part for both in sorted(held.blobs.items()) for part in both]
            parts += [part for both in sorted(names.items()) for part in both]
        return digest(*parts, repr(sorted(self.told.items())))


def pair_of(root: Path, old: Revision, new: Revision) -> Pair:
    """Return two versions of the ledger at *root*.

    Raises: NoGit.
    """
    held = snapshot(root, old), snapshot(root, new)
    differ = touched_between(held)
    told = told_between(root, old.commit, new.commit or "HEAD") if differ else {}
    return Pair(root, (old, new), held, told)


def touched_between(held: tuple[Snapshot, Snapshot]) -> list[str]:
    """Return the records that are not byte for byte the same in both, by path."""
    one, other = held
    paths = sorted(one.files.keys() | other.files.keys())
    return [path for path in paths if _hash(one, path) != _hash(other, path)]


def _hash(held: Snapshot, path: str) -> str | None:
    return held.blobs[path] if path in held.files else None
