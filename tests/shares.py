"""How much of a long test is run by day: a share that each commit chooses anew.

``pytest`` runs the share, ``pytest --night`` all of it. A test marked ``night`` is run at night
only. Of a run of everything, one marked ``seldom(n)`` is taken by day for one commit in *n*, each
of its cases for another.
"""

import functools
import os
import subprocess
import zlib
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


@functools.cache
def _commit() -> int:
    """Return the hash of the commit as a number; 0 without git."""
    command = ["git", "rev-parse", "HEAD"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    return int(done.stdout.strip() or "0", 16)


def first_of(one_in: int) -> int:
    """Return where a share begins, from 0 to below *one_in*, by the hash of the commit.

    The commits after each other so run all of it.
    """
    return _commit() % one_in


def is_of_everything(config: pytest.Config) -> bool:
    """Say whether a run was asked for all tests, and not for some by name."""
    whole = [str(ROOT / path) for path in config.getini("testpaths")]
    return sorted(str(ROOT / path) for path in config.args) == sorted(whole)


def is_left_for_the_night(item: pytest.Item) -> bool:
    """Say whether a test is not run by day: one for the night, or one whose turn it is not."""
    seldom = item.get_closest_marker("seldom")
    if item.get_closest_marker("night"):
        return True
    if seldom is None or not is_of_everything(item.config):
        return False
    one_in = int(seldom.args[0])
    return zlib.crc32(item.nodeid.encode()) % one_in != first_of(one_in)


def share(items: Sequence[Item], *, one_in: int) -> list[Item]:
    """Return every so-manieth item by day, and each at night."""
    return list(items) if is_night() else list(items[first_of(one_in) :: one_in])
