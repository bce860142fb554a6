"""The review of a change between any two versions of the ledger."""

import tempfile
from pathlib import Path

from blankbook.history.review.compare_versions import VersionComparison
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.version_pair import VersionPair, changed_paths

__all__ = ["BlankReview", "Review", "make_review"]


def make_review(pair: VersionPair) -> Review:
    """Return what differs between two versions of a ledger.

    Raises: GitError, OSError.
    """
    if not changed_paths(pair.snapshots):
        return Review(*pair.revisions, "in", (), (), len(pair.snapshots[0].files), {})
    with tempfile.TemporaryDirectory(prefix="blankbook-") as scratch:
        comparison = VersionComparison(
            pair.root, Path(scratch), pair.revisions, pair.snapshots, pair.notes
        )
        return comparison.result().review
