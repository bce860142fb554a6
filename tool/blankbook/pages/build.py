"""The build: look, read, make, put together, publish, and note down what is known now.

What has not changed is not done again: a blank is read and judged anew when its files, the shop's
rules, what the whole ledger teaches or the code have changed, and a page or chart is made anew when
what it shows has.
"""

import os
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.pages import cache
from blankbook.pages.assemble import BrokenSite, Site, put_together, write_pages
from blankbook.pages.cache import State
from blankbook.pages.drawer import drawing
from blankbook.pages.make import Made, Workshop, make_blank, make_pages, warm_up
from blankbook.pages.publish import check_place, locked, publish, put_right, staging
from blankbook.pages.reading import Learning, LedgerHasFaults, Read, changed_blanks, read
from blankbook.pages.stamps import Known, digest, tree
from blankbook.pages.survey import Survey, survey
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.pages.spec import ChartSpec, PageSpec
    from blankbook.records.model import Blank

__all__ = ["BrokenSite", "Built", "LedgerHasFaults", "build_site"]

STATE = ".blankbook"
APART = 4
"""From this many blanks on they are shared out; below, one child draws while the rest is done."""
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
    learning: Learning | None = None,
) -> Built:
    """Build the ledger at *root* into *out*, with *jobs* processes, or as many as there are cores.

    Raises: LedgerHasFaults, BrokenSite, publish.Refused, publish.Busy, OSError.
    """
    start = time.perf_counter()
    check_place(out, root)
    with locked(root / STATE) as writable:
        put_right(out)
        memory = root / STATE / _name(root, out)
        state = State() if fresh or not writable else cache.load(memory)
        seen = survey(root, out, state)
        rendered = drawn = 0
        if seen.nothing_changed:
            kept = not writable or _refresh(memory, state, seen)
        else:
            state, rendered, drawn = _build(out, state, seen, learning or Learning(), jobs)
            kept = not writable or _noted(lambda: cache.save(memory, state))
    notes = () if writable and kept else (NOT_KEPT,) if writable else (NO_MEMORY,)
    pages = sum(path.endswith(".html") for path in state.outputs)
    charts = sum(path.startswith("charts/") for path in state.outputs)
    found = tuple(Finding(*one) for one in state.findings)
    return Built(out, pages, charts, rendered, drawn, time.perf_counter() - start, found, notes)


def _name(root: Path, out: Path) -> str:
    """Return where the state of one site is kept: beside that of others, and movable."""
    return digest(os.path.relpath(out.resolve(), root.resolve()))[:12]


def _refresh(memory: Path, state: State, seen: Survey) -> bool:
    """Note down stamps that are new though nothing has changed, to spare the next build a look."""
    now = (seen.inputs, seen.held, seen.code_stamps)
    if now == (state.inputs, state.outputs, state.code_stamps):
        return True
    state.inputs, state.outputs, state.code_stamps = now
    return _noted(lambda: cache.save_index(memory, state))


def _noted(save: Callable[[], None]) -> bool:
    """Say whether there was room to note down what is known; the site is whole either way."""
    try:
        save()
    except OSError:
        return False
    return True


def _build(
    out: Path, old: State, seen: Survey, learning: Learning, jobs: int | None
) -> tuple[State, int, int]:
    """Publish a new site; return what is known now, and how many pages and charts are new."""
    if old.code == seen.code:
        cache.load_blanks(old)
    few = len(changed_blanks(seen, old.blanks)) < APART
    with drawing(jobs if few else 1) as drawer:
        ledger = read(seen, old.blanks, learning, jobs)
        site = Site(ledger.shop.name)
        with staging(out) as folder:
            later: list[ChartSpec] | None = [] if few else None
            workshop = Workshop(seen.code, site.name, seen.held, folder / "charts", later)
            _make(site, ledger, workshop, jobs)
            drawer.ask(workshop.folder, later or [])
            write_pages(site, folder / "site")
            site.charts.update(drawer.drawn())
            hashes = put_together(site, workshop.folder, folder / "site", out, seen.held)
            publish(folder / "site", out)
    outputs: Known = {
        path: [*(now or [0, 0, 0, 0]), hashes[path], site.specs.get(path, "")]
        for path, now in sorted(tree(str(out)).items())
        if path in hashes
    }
    state = State(seen.code, seen.code_stamps, seen.inputs, outputs, ledger.findings, ledger.states)
    return state, len(site.bodies), len(site.charts)


def _make(site: Site, ledger: Read, workshop: Workshop, jobs: int | None) -> None:
    """Make every blank that must be made, on all cores, and then what lists them."""
    from blankbook.records.fork import in_processes

    def work(blank: "Blank") -> Made:
        return make_blank(blank, ledger.shop, workshop)

    apart = workshop.drawn_later is None
    if apart:
        warm_up()
    for blank, made in zip(
        ledger.blanks, in_processes(ledger.blanks, work, jobs, worth=apart), strict=True
    ):
        state = ledger.states[blank.style.key]
        state.row, state.specs = made.row, made.specs
        site.take(made)
    for state in ledger.states.values():
        site.specs.update(state.specs)
    site.take(make_pages(_lists(ledger), workshop))


def _lists(ledger: Read) -> "list[PageSpec]":
    """Return the pages that need no more than rows, and those that need none."""
    from blankbook.pages import plan

    rows = [state.row for _, state in sorted(ledger.states.items())]
    suppliers = [one for _, one in sorted(ledger.suppliers.items())]
    return [
        plan.catalogue_page(rows, ledger.shop),
        plan.suppliers_page(ledger.suppliers, rows, ledger.shop),
        *(plan.supplier_page(supplier, rows, ledger.shop) for supplier in suppliers),
        *plan.fixed_pages(ledger.shop),
    ]
