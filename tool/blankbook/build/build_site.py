"""The build: look for changes, make anew what they touch, and note down what is known now.

What only a build with changes needs stands in `rebuild`, so that no other build loads it.
"""

import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.build import build_cache
from blankbook.build.build_cache import BuildState
from blankbook.build.build_errors import BrokenSiteError, LedgerFaultsError
from blankbook.build.build_inputs import BuildInputs, read_inputs
from blankbook.build.file_stamps import digest
from blankbook.build.publish import build_lock, check_place, repair
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.build.read_changed import Learning

__all__ = ["BrokenSiteError", "BuildResult", "LedgerFaultsError", "build_site"]

CACHE_FOLDER = ".blankbook"
CACHE_NOT_WRITABLE = "the ledger cannot be written to, so nothing is kept for the next build"
CACHE_NOT_SAVED = (
    "the site is there, but not what the next build could use; it will make everything anew"
)


@dataclass(frozen=True, slots=True)
class BuildResult:
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
) -> BuildResult:
    """Build the ledger at *root* into *out*, with *jobs* processes, or as many as there are cores.

    A *public* site has what outsiders may see, and nothing else.

    Raises: LedgerFaultsError, BrokenSiteError, RefusedPlaceError, BusyError, OSError.
    """
    start = time.perf_counter()
    check_place(out, root)
    with build_lock(root / CACHE_FOLDER) as writable:
        repair(out)
        cache = root / CACHE_FOLDER / _cache_name(root, out, public)
        state = BuildState() if fresh or not writable else build_cache.load(cache)
        inputs = read_inputs(root, out, state, public=public)
        rendered = drawn = 0
        is_new_commit = (inputs.commits.head, inputs.commits.day) != (state.head, state.day)
        if inputs.nothing_changed and is_new_commit:
            from blankbook.build.new_commit import publish_new_foot

            publish_new_foot(out, state, inputs)
            saved = not writable or _could_save(lambda: build_cache.save_index(cache, state))
        elif inputs.nothing_changed:
            saved = not writable or _refresh_stamps(cache, state, inputs)
        else:
            from blankbook.build.rebuild import rebuild

            state, rendered, drawn = rebuild(out, state, inputs, learning, jobs, public=public)
            saved = not writable or _could_save(lambda: build_cache.save(cache, state))
    notes = () if writable and saved else (CACHE_NOT_SAVED,) if writable else (CACHE_NOT_WRITABLE,)
    pages = sum(path.endswith(".html") for path in state.outputs)
    charts = sum(path.startswith("charts/") for path in state.outputs)
    found = tuple(Finding(*finding) for finding in state.findings)
    return BuildResult(
        out, pages, charts, rendered, drawn, time.perf_counter() - start, found, notes
    )


def _cache_name(root: Path, out: Path, public: bool) -> str:
    """Return the folder of one site's cache: named by its place as seen from the ledger.

    So ledger and site can move together. A public site and the shop's own may share a place, but
    never a cache.
    """
    place = os.path.relpath(out.resolve(), root.resolve())
    return digest(place, "public")[:12] if public else digest(place)[:12]


def _refresh_stamps(cache: Path, state: BuildState, inputs: BuildInputs) -> bool:
    """Save stamps that are new though nothing has changed, so that the next build need not read.

    Return whether there was room for it.
    """
    now = (inputs.file_states, inputs.kept_outputs, inputs.code_stamps)
    if now == (state.inputs, state.outputs, state.code_stamps):
        return True
    state.inputs, state.outputs, state.code_stamps = now
    return _could_save(lambda: build_cache.save_index(cache, state))


def _could_save(save: Callable[[], None]) -> bool:
    """Say whether there was room for the cache; the site is whole either way."""
    try:
        save()
    except OSError:
        return False
    return True
