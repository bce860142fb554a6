"""What a build has read, kept for the reviews that come after it.

A review asks what every blank teaches, also those that differ in nothing. A build has worked that
out for all of them, so the first review after it reads no more than the blanks that differ.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from blankbook.history.review.blank_paths import names_of
from blankbook.history.review.review_cache import Kept, is_our_own, load, save
from blankbook.history.versions.snapshots import committed


def keep_ahead(
    root: Path, folder: str, commit: str, code: tuple[str, dict[str, Any]], given: Mapping[str, Any]
) -> None:
    """Keep in a folder of the ledger what blanks teach as *commit* has them; *given* is that.

    *code* is the hash of the program, and what that was made from.
    Raises: NoGit.
    """
    if not is_our_own(root, folder):
        return
    known = load(root / folder)
    kept = known if known.code == code[0] else Kept(code[0])
    kept.stamps = code[1]
    for key, name in names_of(committed(root, commit), kept.code, committed=True).items():
        if key in given and not kept.has("given", name):
            kept.put("given", name, given[key])
    save(root / folder, kept)
