"""A folder for a while where the system keeps such; what killed runs left there is removed."""

import contextlib
import os
import shutil
import stat
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

SCRATCH_PREFIX = "blankbook-"
LEFTOVER_SECONDS = 3600.0
"""Age at which such a folder is a leftover of a process that was killed."""


@contextlib.contextmanager
def scratch_folder() -> Iterator[Path]:
    """Give an empty folder that nobody else can read, and remove it at the end.

    Raises: OSError.
    """
    _remove_leftovers(Path(tempfile.gettempdir()))
    with tempfile.TemporaryDirectory(prefix=SCRATCH_PREFIX) as folder:
        yield Path(folder)


def _remove_leftovers(place: Path) -> None:
    """Remove old folders of ours. Others use the same place: a link or another's folder stays."""
    with contextlib.suppress(OSError):
        for left in place.glob(f"{SCRATCH_PREFIX}*"):
            found = left.lstat()
            ours = not hasattr(os, "geteuid") or found.st_uid == os.geteuid()
            old = time.time() - found.st_mtime > LEFTOVER_SECONDS
            if stat.S_ISDIR(found.st_mode) and ours and old:
                shutil.rmtree(left, ignore_errors=True)
