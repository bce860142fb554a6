"""The build: look whether anything has changed, build anew if so, and note down what is known now.

What only a build with changes needs is in `rebuild`, and is loaded by no other.
"""

import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build import build_cache
from blankbook.build.build_cache import State
from blankbook.build.build_errors import BrokenSite, LedgerHasFaults
from blankbook.build.changed_files import Survey, survey
from blankbook.build.file_stamps import digest
from blankbook.build.publish import check_place, locked, put_right
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.build.read_changed import Learning

__all__ = ["BrokenSite", "Built", "LedgerHasFaults", "build_site"]

STATE = ".blankbook"
NO_MEMORY = "the ledger cannot be written to, so nothing is kept for the next build"
NOT_KEPT = "the site is there, but not what the next build could use; it will make everything anew"


@dataclass(frozen=True, slots=True)
class Built:
    """What a build did."""

    out: Path
    pages: int
    charts: int
    rendered: int
    """Pages that are new."""
    drawn: int
    """Charts that are new."""
    seconds: float
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    """What a person should know of the build itself."""


def build_site(
    root: Path,
    out: Path,
    *,
    jobs: int | None = None,
    fresh: bool = False,
    public: bool = False,
    learning: "Learning | None" = None,
) -> Built:
    """Build the ledger at *root* into *out*, with *jobs* processes, or as many as there are cores.

    A *public* site has what outsiders may see, and nothing else.

    Raises: LedgerHasFaults, BrokenSite, publish.Refused, publish.Busy, OSError.
    """
    start = time.perf_counter()
    check_place(out, root)
    with locked(root / STATE) as writable:
        put_right(out)
        memory = root / STATE / _name(root, out, public)
        state = State() if fresh or not writable else build_cache.load(memory)
        seen = survey(root, out, state, public=public)
        rendered = drawn = 0
        if seen.nothing_changed and (seen.commits.head, seen.commits.day) != (
            state.head,
            state.day,
        ):
            from blankbook.build.new_commit import new_foot

            new_foot(out, state, seen)
            kept = not writable or _noted(lambda: build_cache.save_index(memory, state))
        elif seen.nothing_changed:
            kept = not writable or _refresh(memory, state, seen)
        else:
            from blankbook.build.rebuild import rebuild

            state, rendered, drawn = rebuild(out, state, seen, learning, jobs, public=public)
            kept = not writable or _noted(lambda: build_cache.save(memory, state))
    notes = () if writable and kept else (NOT_KEPT,) if writable else (NO_MEMORY,)
    pages = sum(path.endswith(".html") for path in state.outputs)
    charts = sum(path.startswith("charts/") for path in state.outputs)
    found = tuple(Finding(*one) for one in state.findings)
    return Built(out, pages, charts, rendered, drawn, time.perf_counter() - start, found, notes)


def _name(root: Path, out: Path, public: bool) -> str:
    """Return where the state of one site is kept: beside that of others, and movable.

    A public site and the shop's own never share one, though they may share a place.
    """
    place = os.path.relpath(out.resolve(), root.resolve())
    return digest(place, "public")[:12] if public else digest(place)[:12]


def _refresh(memory: Path, state: State, seen: Survey) -> bool:
    """Note down stamps that are new though nothing has changed, to spare the next build a look."""
    now = (seen.inputs, seen.held, seen.code_stamps)
    if now == (state.inputs, state.outputs, state.code_stamps):
        return True
    state.inputs, state.outputs, state.code_stamps = now
    return _noted(lambda: build_cache.save_index(memory, state))


def _noted(save: Callable[[], None]) -> bool:
    """Say whether there was room to note down what is known; the site is whole either way."""
    try:
        save()
    except OSError:
        return False
    return True
