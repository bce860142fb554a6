"""A terminal of its own for the program, and the round that is filled in it."""

import os
import select
import signal
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from blankbook.text.yaml_tree import read_tree

ROUND = "blanks/hobnettle/q5/2026-11-16-winter.yaml"
WHO = ("--by", "rv", "--lot", "HN 1126", "--date", "2026-11-24")


def round_tree(root: Path) -> dict[str, Any]:
    """Return what the round's file says."""
    return read_tree("", (root / ROUND).read_text(encoding="utf-8")).tree


def readings_of(root: Path, piece: str) -> dict[str, Any]:
    """Return the readings of one piece."""
    found: dict[str, Any] = next(
        entry for entry in round_tree(root)["pieces"] if entry["piece"] == piece
    )
    return found.get("received") or {}


class Terminal:
    """The program in a terminal of its own, with somebody at its keys."""

    def __init__(
        self, root: Path, *arguments: str, door: str = "enter", columns: int = 80, **more: str
    ) -> None:
        line = [sys.executable, "-m", "blankbook", door, *arguments, "--ledger", str(root)]
        pty = pytest.importorskip("pty", reason="only Unix has it")
        self.child, self.handle = pty.fork()
        if not self.child:  # pragma: no cover - the other process
            os.environ.update({"TERM": "xterm", "COLUMNS": str(columns), "LINES": "24", **more})
            os.execv(sys.executable, line)
        self.seen = ""
        self.past = 0

    def until(self, words: str, seconds: float = 20.0) -> str:
        """Wait until *words* are seen; return what was seen up to them, since the last time."""
        give_up = time.monotonic() + seconds
        while words not in self.seen[self.past :]:
            if not select.select([self.handle], [], [], 0.05)[0]:
                assert time.monotonic() < give_up, self.seen[self.past :]
                continue
            try:
                self.seen += os.read(self.handle, 65536).decode("utf-8", "replace")
            except OSError:
                break
        end = self.seen.find(words, self.past) + len(words)
        told, self.past = self.seen[self.past : end], end
        return told

    def key(self, keys: str) -> None:
        """Press keys."""
        os.write(self.handle, keys.encode())

    def kill(self) -> None:
        """End it as a power cut would."""
        os.kill(self.child, signal.SIGKILL)
        self.end()

    def hang_up(self) -> None:
        """Close the terminal's window."""
        os.close(self.handle)
        os.waitpid(self.child, 0)

    def end(self, seconds: float = 20.0) -> int:
        """Wait for its end and return its exit code; kill it where it does not end."""
        give_up = time.monotonic() + seconds
        while not (ended := os.waitpid(self.child, os.WNOHANG))[0]:
            if time.monotonic() > give_up:
                os.kill(self.child, signal.SIGKILL)
                os.waitpid(self.child, 0)
                raise AssertionError(f"still running: {self.seen[self.past :]}")
            time.sleep(0.01)
        os.close(self.handle)
        return os.waitstatus_to_exitcode(ended[1])
