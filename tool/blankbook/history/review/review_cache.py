"""What earlier reviews worked out, each by a hash of all that it follows from.

Nothing here is older than its key: another byte, another rule or another version of the program
asks for it under another name. A file that is damaged, older or foreign is no file.
"""

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from blankbook.history.versions.git import run_git
from blankbook.text.digests import digest

NAME = "changes.json"
PARTS = ("given", "taught", "standings", "said")
MOST = 2000
"""So many of a part stay that this review did not ask for, the newest."""
MOST_SAID = 20
"""The same of what was said, for each is a whole text."""


@dataclass(slots=True)
class Kept:
    """What is known, and what was asked for now."""

    code: str = ""
    """Hash of the code; what another one worked out is of no use."""
    stamps: dict[str, Any] = field(default_factory=dict)
    """What that hash was made from."""
    known: dict[str, dict[str, Any]] = field(default_factory=lambda: {one: {} for one in PARTS})
    asked: dict[str, dict[str, Any]] = field(default_factory=lambda: {one: {} for one in PARTS})
    new: bool = False
    """Whether anything was worked out that was not known."""

    def has(self, part: str, key: str) -> bool:
        """Say whether what has this key is known; nothing is known by an empty one."""
        return bool(key) and (key in self.asked[part] or key in self.known[part])

    def get(self, part: str, key: str) -> Any:
        """Return what is known by a key."""
        found = self.asked[part].get(key) if key in self.asked[part] else self.known[part][key]
        self.asked[part][key] = found
        return found

    def put(self, part: str, key: str, value: Any) -> None:
        """Take in what was worked out, as JSON data; what has no key is not kept."""
        if key:
            self.asked[part][key] = value
            self.new = True


def is_our_own(root: Path, folder: str) -> bool:
    """Say whether git holds no file of a folder of the ledger: what it holds is somebody's word.

    Raises: NoGit.
    """
    return not run_git(root, "ls-files", "-z", "--", folder)


def load(folder: Path) -> Kept:
    """Return what was kept in *folder*, or nothing known."""
    try:
        head, _, body = (folder / NAME).read_bytes().partition(b"\n")
        data = json.loads(body) if head.decode() == _head(body) else None
        known = {part: dict(data[part]) for part in PARTS} if data else {}
        return Kept(str(data["code"]), dict(data["stamps"]), known) if data else Kept()
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return Kept()


def save(folder: Path, kept: Kept) -> None:
    """Keep what was asked for now, and the newest of what was known before.

    Where there is no room, nothing is kept: the next review works it out again.
    """
    if not kept.new:
        return
    data: dict[str, Any] = {"code": kept.code, "stamps": kept.stamps}
    for part in PARTS:
        data[part] = _newest(
            kept.known[part], kept.asked[part], MOST_SAID if part == "said" else MOST
        )
    body = json.dumps(data, separators=(",", ":")).encode()
    made = folder / f"{NAME}.{os.getpid()}.part"
    with suppress(OSError):
        try:
            made.write_bytes(f"{_head(body)}\n".encode() + body)
            made.replace(folder / NAME)
        finally:
            made.unlink(missing_ok=True)


def _newest(known: Mapping[str, Any], asked: Mapping[str, Any], most: int) -> dict[str, Any]:
    older = [(key, value) for key, value in known.items() if key not in asked]
    return dict(older[-most:]) | dict(asked)


def _head(body: bytes) -> str:
    return f"blankbook changes 2 {digest(body)}"
