"""The review of a change between any two versions of the ledger."""

import tempfile
from pathlib import Path

from blankbook.history.review.compare_versions import Sides
from blankbook.history.review.review_cache import Kept
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.version_pair import Pair, touched_between

__all__ = ["BlankReview", "Review", "review"]


def review(pair: Pair, kept: Kept | None = None) -> Review:
    """Return what differs between two versions of a ledger.

    What every blank teaches, and where one stands, is taken from *kept* where it is known there,
    and put there where it is not.
    Raises: NoGit, OSError.
    """
    root, (old, new), held = pair.root, pair.asked, pair.held
    if not touched_between(held):
        return Review(old, new, "in", (), (), len(held[0].files), {})
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        sides = Sides(root, Path(scratch), pair.asked, held, pair.told, kept=kept or Kept())
        return sides.compared().review
