"""A build in which something has changed: read, make, put together, publish.

What has not changed is not done again: a blank is read and judged anew when its files, the shop's
rules, what the whole ledger teaches or the code have changed, and a page or chart is made anew when
what it shows has.
"""

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build import build_cache
from blankbook.build.assemble import Site, put_together, write_pages
from blankbook.build.build_cache import KEY, State
from blankbook.build.changed_files import Survey
from blankbook.build.chart_worker import drawing
from blankbook.build.file_stamps import HASH, Known, tree
from blankbook.build.make_files import Made, Workshop, make_blank, make_pages, warm_up
from blankbook.build.page_foot import differing, foot, foot_of
from blankbook.build.publish import publish, staging
from blankbook.build.read_changed import Learning, Read, changed_blanks, read, usual

if TYPE_CHECKING:
    from blankbook.history.review.recent_commits import RecentChanges
    from blankbook.pages.clients.client_rows import ClientChart
    from blankbook.pages.page_spec import AnyChart, AnyPage
    from blankbook.pages.shop.blank_row import BlankRow
    from blankbook.records.model import Blank

FIXED = ("glossary.html", "guide.html", "method.html")
GUIDE_CHARTS = "charts/guide/"
"""What follows from the shop's rules alone, whatever was measured."""
APART = 4
"""From this many blanks on they are shared out; below, one child draws while the rest is done."""


def rebuild(
    out: Path,
    old: State,
    seen: Survey,
    learning: Learning | None,
    jobs: int | None,
    *,
    public: bool = False,
) -> tuple[State, int, int]:
    """Publish a new site; return what is known now, and how many pages and charts are new.

    Raises: LedgerHasFaults, BrokenSite, OSError.
    """
    if old.code == seen.code:
        build_cache.load_blanks(old)
    few = len(changed_blanks(seen, old.blanks)) < APART
    with drawing(jobs if few else 1) as drawer:
        ledger = read(seen, old.blanks, learning or usual(), jobs)
        site = Site(ledger.shop.name, public)
        odd = differing(seen.root, seen.inputs, seen.commits, old)
        site.foot = foot(seen.commits.short, seen.commits.day, differs=bool(odd))
        site.old_foot = foot_of(old)
        with staging(out) as folder:
            later: list[AnyChart] | None = [] if few else None
            workshop = Workshop(
                *(seen.code, site.frame, seen.held, seen.root, folder / "charts"),
                *(later, public, seen.commits),
            )
            kept = {} if public else kept_pages(old, seen)
            changes = (
                None if public else changes_for_page(seen, ledger, old.told, differs=bool(odd))
            )
            _make(site, ledger, workshop, jobs, changes, fixed=not kept)
            site.specs.update(kept)
            drawer.ask(workshop.folder, later or [])
            write_pages(site, folder / "site")
            site.charts.update(drawer.drawn())
            hashes = put_together(site, workshop.folder, folder / "site", out, seen.held)
            publish(folder / "site", out)
    outputs: Known = {
        path: [*now, hashes[path], site.specs.get(path, "")]
        for path, now in sorted(tree(str(out)).items())
        if now and path in hashes
    }
    state = State(seen.code, seen.code_stamps, seen.inputs, outputs, ledger.findings, ledger.states)
    state.head, state.day, state.differing = seen.commits.head, seen.commits.day, odd
    state.told = {"head": state.head, **asdict(changes)} if changes else {}
    state.commits = {
        path: [one.id, one.day, one.blob] for path, one in seen.commits.by_path.items()
    }
    drawn = sum(path.startswith("charts/") for path in site.charts)
    return state, len(site.bodies), drawn


def kept_pages(old: State, seen: Survey) -> dict[str, str]:
    """Return the pages and charts that only the shop's rules decide, where they are as they were.

    Working out the method page takes longer than all else that one changed round asks for. By path:
    the key. Empty where the code or the rules have changed, or one of them is missing.
    """
    rules = [known.get("shop.yaml") for known in (old.inputs, seen.inputs)]
    same = old.code == seen.code and all(rules) and rules[0][HASH] == rules[1][HASH]  # type: ignore[index]
    paths = [path for path in old.outputs if path in FIXED or path.startswith(GUIDE_CHARTS)]
    if not same or not {*FIXED} <= {*paths} or any(path not in seen.held for path in paths):
        return {}
    return {path: str(seen.held[path][KEY]) for path in paths}


def changes_for_page(
    seen: Survey, ledger: Read, told: dict[str, Any], *, differs: bool
) -> "RecentChanges | None":
    """Return what the last commits mean; *told* is what the last build knew of that.

    None where git does not say. With *differs*, what the blanks teach is not what was committed.
    """
    from blankbook.history.review.recent_commits import RecentChanges, recent_changes
    from blankbook.history.versions.file_commits import read_commits
    from blankbook.history.versions.git import GitError

    commits = seen.commits
    if not commits.head:
        return None
    if told.get("head") == commits.head:
        return RecentChanges(**{name: told[name] for name in RecentChanges.__slots__})
    if not commits.newest_first:
        commits = read_commits(seen.root, commits.head, commits.day)
    known = {one["id"]: one for one in told.get("entries", ())}
    try:
        return recent_changes(seen.root, commits, known, None if differs else ledger.contributions)
    except (GitError, OSError):
        return None


def _make(
    site: Site,
    ledger: Read,
    workshop: Workshop,
    jobs: int | None,
    changes: "RecentChanges | None",
    *,
    fixed: bool,
) -> None:
    """Make every blank that must be made, on all cores, and then what lists them."""
    from blankbook.records.processes import map_in_processes

    def work(blank: "Blank") -> Made:
        return make_blank(blank, ledger.shop, ledger.learned[blank.style.key], workshop)

    apart = workshop.drawn_later is None
    if apart:
        warm_up()
    for blank, made in zip(
        ledger.blanks, map_in_processes(ledger.blanks, work, jobs, worth=apart), strict=True
    ):
        state = ledger.states[blank.style.key]
        state.row, state.specs = made.row, made.specs
        site.take(made)
    for state in ledger.states.values():
        site.specs.update(state.specs)
    pages = _outside(ledger) if workshop.public else _lists(ledger, changes, fixed=fixed)
    site.take(make_pages(pages, workshop))


def _lists(ledger: Read, changes: "RecentChanges | None", *, fixed: bool) -> "list[AnyPage]":
    """Return the pages that need no more than rows, and where asked those that need none."""
    from blankbook.pages import all_pages

    rows = _rows(ledger)
    suppliers = [one for _, one in sorted(ledger.suppliers.items())]
    changed = (
        all_pages.changes_page(changes, rows, ledger.suppliers, ledger.shop) if changes else None
    )
    return [
        all_pages.catalogue_page(rows, ledger.shop, changed),
        *([changed] if changed else ()),
        all_pages.suppliers_page(ledger.suppliers, rows, ledger.shop),
        *(all_pages.supplier_page(supplier, rows, ledger.shop) for supplier in suppliers),
        all_pages.measuring_page(ledger.shop, ledger.studies, ledger.contributions),
        all_pages.compare_page(ledger.shop),
        *all_pages.client_pages(_client_charts(rows)),
        *(all_pages.fixed_pages(ledger.shop) if fixed else ()),
    ]


def _outside(ledger: Read) -> "list[AnyPage]":
    """Return all the pages that outsiders may see."""
    from blankbook.pages import all_pages

    charts = _client_charts(_rows(ledger))
    return [*all_pages.client_pages(charts, public=True), all_pages.public_guide()]


def _rows(ledger: Read) -> "list[BlankRow]":
    """Return what the lists know of every blank: each has been made by now, or was before."""
    return [state.row for _, state in sorted(ledger.states.items()) if state.row]


def _client_charts(rows: "Sequence[BlankRow]") -> "dict[str, ClientChart]":
    return {row.listed.key: row.client for row in rows if row.client}
