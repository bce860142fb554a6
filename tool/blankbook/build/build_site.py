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
from blankbook.build.publish import repair
from blankbook.build.trust.build_lock import build_lock
from blankbook.build.trust.kept_files import CACHE_FOLDER, KeptFiles, kept_files
from blankbook.build.trust.output_place import check_place
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.build.read_changed import Learning

__all__ = ["BrokenSiteError", "BuildResult", "LedgerFaultsError", "build_site"]

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
    out = Path(os.path.abspath(out))  # noqa: PTH100 - a linked place keeps its own name
    check_place(out, root)
    with build_lock(root / CACHE_FOLDER) as writable:
        repair(out)
        cache = kept_files(root, _cache_name(root, out, public), writable=writable)
        state = BuildState() if fresh else build_cache.load(cache)
        inputs = read_inputs(root, out, state, public=public)
        rendered = drawn = 0
        is_new_commit = (inputs.commits.head, inputs.commits.day) != (state.head, state.day)
        if inputs.nothing_changed and is_new_commit:
            from blankbook.build.new_commit import publish_new_foot

            publish_new_foot(out, state, inputs)
            saved = _could_save(lambda: build_cache.save_index(cache, state))
        elif inputs.nothing_changed:
            saved = _refresh_stamps(cache, state, inputs)
        else:
            from blankbook.build.rebuild import rebuild

            state, rendered, drawn = rebuild(out, state, inputs, learning, jobs, public=public)
            saved = _could_save(lambda: build_cache.save(cache, state))
    notes = tuple(filter(None, (cache.note, "" if saved else CACHE_NOT_SAVED)))
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


def _refresh_stamps(cache: KeptFiles, state: BuildState, inputs: BuildInputs) -> bool:
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
