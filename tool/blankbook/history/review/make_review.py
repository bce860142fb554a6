"""The review of a change between any two versions of the ledger."""

import tempfile
from pathlib import Path

from blankbook.history.review.compare_versions import Sides
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.version_pair import Pair, touched_between

__all__ = ["BlankReview", "Review", "review"]


def review(pair: Pair) -> Review:
    """Return what differs between two versions of a ledger.

    Raises: NoGit, OSError.
    """
    root, (old, new), held = pair.root, pair.asked, pair.held
    if not touched_between(held):
        return Review(old, new, "in", (), (), len(held[0].files), {})
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        sides = Sides(root, Path(scratch), pair.asked, held, pair.told)
        return sides.compared().review
