"""The review of a change between any two versions of the ledger."""

import tempfile
from pathlib import Path

from blankbook.history.kept import Kept
from blankbook.history.reviewed import BlankReview, Review
from blankbook.history.revisions import Revision
from blankbook.history.sides import Sides, touched_between
from blankbook.history.snapshots import snapshot
from blankbook.history.told import told_between

__all__ = ["BlankReview", "Review", "review"]


def review(root: Path, old: Revision, new: Revision, kept: Kept | None = None) -> Review:
    """Return what differs between two versions of the ledger at *root*.

    What every blank teaches, and where one stands, is taken from *kept* where it is known there,
    and put there where it is not.
    Raises: NoGit, OSError.
    """
    held = snapshot(root, old), snapshot(root, new)
    if not touched_between(held):
        return Review(old, new, "in", (), (), len(held[0].files), {})
    told = told_between(root, old.commit, new.commit or "HEAD")
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        sides = Sides(root, Path(scratch), (old, new), held, told, kept=kept or Kept())
        return sides.compared().review
