"""How much of a long test is run by day: a share that each commit chooses anew.

``pytest`` runs the share, ``pytest --night`` all of it, with the tests marked ``night`` besides.
"""

import os
import subprocess
from collections.abc import Sequence
from typing import TypeVar

import pytest

from support import ROOT

Item = TypeVar("Item")
COLLECTED = pytest.StashKey[frozenset[str]]()
"""The names of all that was collected, before any was left for the night."""
NIGHT = "BLANKBOOK_NIGHT"
"""The variable that ``--night`` sets before anything is collected."""


def is_night() -> bool:
    """Say whether everything is run."""
    return NIGHT in os.environ


def examples(*, day: int, night: int) -> int:
    """Return how many examples of a property are tried."""
    return night if is_night() else day


def first_of(one_in: int) -> int:
    """Return where a share begins, from 0 to below *one_in*, by the hash of the commit.

    The commits after each other so run all of it. Without git it begins at 0.
    """
    command = ["git", "rev-parse", "HEAD"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    return int(done.stdout.strip() or "0", 16) % one_in


def share(items: Sequence[Item], *, one_in: int) -> list[Item]:
    """Return every so-manieth item by day, and each at night."""
    return list(items) if is_night() else list(items[first_of(one_in) :: one_in])
