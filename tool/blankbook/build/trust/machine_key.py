"""The key by which a build knows again what it kept itself: one for each person and machine."""

import contextlib
import os
import secrets
import sys
from pathlib import Path

from blankbook.text.writing.held_folder import HeldFolder, held

KEY_BYTES = 32
_NAME, _FOLDER = "key", "blankbook"


def machine_key(root: Path) -> bytes:
    """Return the key, which is made at its first use; empty where none can be kept.

    It never lies in the ledger at *root*: what came with a ledger must not bring its own key.
    """
    try:
        base = state_folder()
        if base.resolve().is_relative_to(root.resolve()):
            return b""
        base.mkdir(parents=True, exist_ok=True)
        with held(base, base / _FOLDER, make=True) as folder:
            return _read(folder) or _make(folder)
    except (OSError, RuntimeError):  # no home, a full disk, or nothing may be written there
        return b""


def state_folder() -> Path:
    """Return where programs keep what they know on this machine.

    By the XDG Base Directory Specification 0.8; elsewhere where the system has it.
    Raises: RuntimeError, FileNotFoundError where there is no home.
    """
    given = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_STATE_HOME", "")
    if given and Path(given).is_absolute():
        return Path(given)
    home = Path.home()
    if not home.is_dir():
        raise FileNotFoundError(str(home))
    return home / ("Library/Application Support" if sys.platform == "darwin" else ".local/state")


def _read(folder: HeldFolder) -> bytes:
    """Return the key that is there; empty where there is none that only its owner could write."""
    found = folder.look(_NAME)
    if found is None:
        return b""
    ours = not hasattr(os, "geteuid") or (found.st_uid == os.geteuid() and not found.st_mode & 0o77)
    key = folder.read(_NAME) if ours else b""
    if len(key) != KEY_BYTES:
        folder.remove(_NAME)
        return b""
    return key


def _make(folder: HeldFolder) -> bytes:
    """Make the key; of two builds that do so at once, both get the same."""
    handle, part = folder.new_part("part-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(secrets.token_bytes(KEY_BYTES))
        with contextlib.suppress(FileExistsError):
            folder.link(part, _NAME)
        return _read(folder)
    finally:
        folder.remove(part)
