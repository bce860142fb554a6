"""What is kept in the ledger between builds, believed only where this machine has kept it.

A ledger may be cloned, and bring along a memory that vouches for forged pages. So each file is
signed with a key that lies outside of the ledger, and nothing that git tracks is believed.
"""

import contextlib
import hashlib
import hmac
import os
import stat
from dataclasses import dataclass
from pathlib import Path

from blankbook.build.trust.machine_key import machine_key
from blankbook.text.writing.held_folder import InTheWayError, held

VERSION = 2
CACHE_FOLDER = ".blankbook"
NAMES = ("index.json", "blanks.json")
CACHE_NOT_WRITABLE = "the ledger cannot be written to, so nothing is kept for the next build"
CACHE_WITHOUT_KEY = "your home cannot be written to, so nothing is kept for the next build"
CACHE_FOREIGN = (
    f"what {CACHE_FOLDER} holds was not kept by you on this machine, or is damaged; "
    "everything was made anew"
)
CACHE_TRACKED = (
    f"git tracks {CACHE_FOLDER}, so nothing in it is used or kept, and everything is made anew; "
    f"write: git rm -r --cached {CACHE_FOLDER}"
)


@dataclass(slots=True)
class KeptFiles:
    """What is kept for one site."""

    root: Path
    name: str
    """Of the site's folder among the ledger's own files."""
    key: bytes
    """Empty where nothing is believed and nothing kept."""
    note: str = ""
    """Why that is, or what was not believed."""

    @property
    def place(self) -> Path:
        """The site's folder."""
        return self.root / CACHE_FOLDER / self.name

    def read(self, name: str) -> bytes:
        """Return what this machine has kept under a name; empty where it has kept nothing."""
        if not self.key:
            return b""
        try:
            with held(self.root, self.place) as folder:
                head, _, body = folder.read(name).partition(b"\n")
        except (FileNotFoundError, NotADirectoryError):
            return b""
        except OSError:
            head, body = b"", b""
        if not hmac.compare_digest(head, self._head(name, body)):
            self.note = CACHE_FOREIGN
            return b""
        return body

    def write(self, name: str, body: bytes) -> None:
        """Keep something under a name; it takes the old one's place in one step.

        Raises: OSError.
        """
        with held(self.root, self.place, make=True) as folder:
            handle, part = folder.new_part(f"{name}.", f".{os.getpid()}.part")
            try:
                with os.fdopen(handle, "wb") as file:
                    file.write(self._head(name, body) + b"\n" + body)
                folder.rename(part, name)
            except BaseException:
                with contextlib.suppress(OSError):
                    folder.remove(part)
                raise

    def _head(self, name: str, body: bytes) -> bytes:
        what = f"{VERSION} {self.name} {name}\n".encode()
        mark = hmac.new(self.key, what + body, hashlib.sha256).hexdigest()
        return f"blankbook {VERSION} {mark}".encode()


def kept_files(root: Path, name: str, *, writable: bool) -> KeptFiles:
    """Return what is kept for a site, by the *name* of its folder.

    Raises: InTheWayError where a link stands there.
    """
    kept = KeptFiles(root, name, b"")
    with (
        contextlib.suppress(FileNotFoundError, NotADirectoryError, PermissionError),
        held(root, kept.place) as folder,
    ):
        for file in NAMES:
            if (found := folder.look(file)) and stat.S_ISLNK(found.st_mode):
                raise InTheWayError(kept.place / file)
    if not writable:
        kept.note = CACHE_NOT_WRITABLE
    elif _git_tracks(root):
        kept.note = CACHE_TRACKED
    else:
        kept.key = machine_key(root)
        kept.note = "" if kept.key else CACHE_WITHOUT_KEY
    return kept


def _git_tracks(root: Path) -> bool:
    """Say whether git tracks anything of what is kept; where git cannot say, it is not asked."""
    from blankbook.history.versions.git import GitError, run_git

    try:
        return bool(run_git(root, "ls-files", "-z", "--", CACHE_FOLDER))
    except GitError:
        return False
