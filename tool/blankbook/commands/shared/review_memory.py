"""What `changes` worked out is kept beside what a build keeps, where a build has been."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blankbook.history.review.review_cache import Kept


@contextmanager
def kept_in(root: Path) -> "Iterator[Kept]":
    """Give what earlier reviews of a ledger worked out, and keep what this one adds.

    Nothing is kept, and nothing taken, where no build has been: a review leaves no folder behind.
    Nor where git holds files of that folder, since what came with a clone is somebody's word.
    """
    from blankbook.history.review.review_cache import Kept, load, save

    folder = _folder(root)
    if folder is None:
        yield Kept()
        return
    from blankbook.build.code_fingerprint import of_code

    known = load(folder)
    code, stamps = of_code(known.stamps, known.code)
    kept = known if code == known.code else Kept(code, new=True)
    kept.new |= stamps != kept.stamps
    kept.stamps = stamps
    yield kept
    save(folder, kept)


def _folder(root: Path) -> Path | None:
    from blankbook.build.build_site import STATE
    from blankbook.history.review.review_cache import is_our_own
    from blankbook.history.versions.git import NoGit

    folder = root / STATE
    if folder.is_symlink() or not folder.is_dir():
        return None
    try:
        return folder if is_our_own(root, STATE) else None
    except NoGit:
        return None
