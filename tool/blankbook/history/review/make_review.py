"""The review of a change between any two versions of the ledger."""

from blankbook.history.review.compare_versions import VersionComparison
from blankbook.history.review.review_types import BlankReview, Review
from blankbook.history.versions.version_pair import VersionPair, changed_paths
from blankbook.text.writing.scratch_folder import scratch_folder

__all__ = ["BlankReview", "Review", "make_review"]


def make_review(pair: VersionPair) -> Review:
    """Return what differs between two versions of a ledger.

    Raises: GitError, OSError.
    """
    if not changed_paths(pair.snapshots):
        return Review(*pair.revisions, "in", (), (), len(pair.snapshots[0].files), {})
    with scratch_folder() as scratch:
        comparison = VersionComparison(
            pair.root, scratch, pair.revisions, pair.snapshots, pair.notes
        )
        return comparison.result().review
