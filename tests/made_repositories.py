"""Real git repositories for a test, made quickly: ``from made_repositories import Repository``."""

import os
import subprocess
from pathlib import Path
from typing import Any

import pytest

from blankbook.history.review import read_blanks


def records_opened(monkeypatch: pytest.MonkeyPatch) -> list[tuple[int, str]]:
    """Return version (0 the older) and path of what reviews read from now on; it fills as they do.

    Only what this process reads is seen.
    """
    opened: list[tuple[int, str]] = []
    read = read_blanks.VersionRecords.read

    def seen(self: read_blanks.VersionRecords, side: int, file: Any) -> Any:
        opened.append((side, file.path))
        return read(self, side, file)

    monkeypatch.setattr(read_blanks.VersionRecords, "read", seen)
    return opened


class Repository:
    """A repository that a test commits to; its clock, author and settings are its own."""

    def __init__(self, root: Path, *settings: str) -> None:
        self.root = root
        self.day = 1
        root.mkdir(parents=True, exist_ok=True)
        self.git("init", "--quiet", "--initial-branch=main", *settings)

    def git(self, *arguments: str) -> str:
        """Run git and return what it prints."""
        when = f"2026-01-{self.day:02d}T12:00:00+00:00"
        environment = {
            "PATH": os.environ["PATH"],
            "HOME": str(self.root),
            "GIT_CONFIG_NOSYSTEM": "1",
            "GIT_AUTHOR_NAME": "rv",
            "GIT_AUTHOR_EMAIL": "rv@example.org",
            "GIT_COMMITTER_NAME": "rv",
            "GIT_COMMITTER_EMAIL": "rv@example.org",
            "GIT_AUTHOR_DATE": when,
            "GIT_COMMITTER_DATE": when,
        }
        done = subprocess.run(
            ["git", "-C", str(self.root), *arguments],
            check=True,
            capture_output=True,
            env=environment,
        )
        return done.stdout.decode()

    def write(self, path: str, text: str) -> Path:
        """Write a file."""
        place = self.root / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, encoding="utf-8")
        return place

    def commit(self, why: str = "as it is") -> str:
        """Commit everything, a day after the last time; return the commit's digits."""
        self.day += 1
        self.git("add", "--all")
        self.git("commit", "--quiet", "--allow-empty", "--message", why)
        return self.git("rev-parse", "HEAD").strip()
