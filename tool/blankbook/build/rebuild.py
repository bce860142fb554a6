"""A build in which something has changed: read, make, assemble, publish.

A blank is read and judged anew when its files, the shop's rules, what the whole ledger teaches
about it, or the code have changed. A page or chart is made anew when what it shows has changed.
"""

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build import build_cache
from blankbook.build.assemble import NewSite, assemble_site, write_pages
from blankbook.build.build_cache import KEY_INDEX, BuildState
from blankbook.build.build_inputs import BuildInputs
from blankbook.build.chart_worker import chart_worker
from blankbook.build.file_stamps import HASH_INDEX, FileStates, stamp_tree
from blankbook.build.make_files import (
    BuildContext,
    MadeFiles,
    load_heavy_modules,
    make_blank,
    make_pages,
)
from blankbook.build.page_foot import foot_of_state, foot_text, uncommitted_files
from blankbook.build.publish import publish, staging_folder
from blankbook.build.read_changed import (
    Learning,
    LedgerRead,
    changed_blanks,
    ledger_learning,
    read_ledger,
)

if TYPE_CHECKING:
    from blankbook.history.review.recent_commits import RecentChanges
    from blankbook.pages.page_spec import AnyChart, AnyPage
    from blankbook.pages.shop.blank_row import BlankRow
    from blankbook.records.model import Blank

RULES_ONLY_PAGES = ("glossary.html", "guide.html", "method.html")
"""The pages that follow from the shop's rules alone, whatever was measured."""
RULES_ONLY_CHARTS = ("charts/guide/", "charts/method.")
"""Where the charts of the measuring guide and the method page are: they follow from them too."""
SHARE_OUT_FROM = 4
"""From this many changed blanks on, processes share them out. With fewer, one child process draws
while this one does the rest."""


def rebuild(
    out: Path,
    old: BuildState,
    inputs: BuildInputs,
    learning: Learning | None,
    jobs: int | None,
    *,
    public: bool = False,
) -> tuple[BuildState, int, int]:
    """Publish a new site; return what is known now, and how many pages and charts are new.

    Raises: LedgerFaultsError, BrokenSiteError, OSError.
    """
    if old.code == inputs.code:
        build_cache.load_blanks(old)
    few = len(changed_blanks(inputs, old.blanks)) < SHARE_OUT_FROM
    with chart_worker(jobs if few else 1) as worker:
        ledger = read_ledger(inputs, old.blanks, learning or ledger_learning(), jobs)
        site = NewSite(ledger.shop.name, public)
        uncommitted = uncommitted_files(inputs.root, inputs.file_states, inputs.commits, old)
        site.foot = foot_text(inputs.commits.short, inputs.commits.day, differs=bool(uncommitted))
        site.old_foot = foot_of_state(old)
        with staging_folder(out) as folder:
            later: list[AnyChart] | None = [] if few else None
            context = BuildContext(
                *(inputs.code, site.frame, inputs.kept_outputs, inputs.root, folder / "charts"),
                *(later, public, inputs.commits),
            )
            changes, unchanged = None, dict[str, str]()
            if not public:
                unchanged = unchanged_rule_pages(old, inputs)
                changes = read_recent_changes(
                    inputs, ledger, old.recent_changes, differs=bool(uncommitted)
                )
            _make_site(site, ledger, context, jobs, changes, rule_pages=not unchanged)
            site.specs.update(unchanged)
            worker.request(context.charts_folder, later or [])
            write_pages(site, folder / "site")
            site.charts.update(worker.wait())
            hashes = assemble_site(
                site, context.charts_folder, folder / "site", out, inputs.kept_outputs
            )
            publish(folder / "site", out)
    outputs: FileStates = {
        path: [*stamp, hashes[path], site.specs.get(path, "")]
        for path, stamp in sorted(stamp_tree(str(out)).items())
        if stamp and path in hashes
    }
    state = _new_state(inputs, outputs, ledger, changes)
    state.uncommitted = uncommitted
    drawn = sum(path.startswith("charts/") for path in site.charts)
    return state, len(site.bodies), drawn


def _new_state(
    inputs: BuildInputs, outputs: FileStates, ledger: LedgerRead, changes: "RecentChanges | None"
) -> BuildState:
    """Return what is known after the build, but for what is not committed."""
    commits = inputs.commits
    state = BuildState(
        inputs.code, inputs.code_stamps, inputs.file_states, outputs, ledger.findings, ledger.states
    )
    state.head, state.day = commits.head, commits.day
    state.recent_changes = {"head": commits.head, **asdict(changes)} if changes else {}
    state.commits = {
        path: [commit.id, commit.day, commit.blob] for path, commit in commits.by_path.items()
    }
    return state


def unchanged_rule_pages(old: BuildState, inputs: BuildInputs) -> dict[str, str]:
    """Return the keys of the pages and charts that follow from the shop's rules alone, by path.

    Working out the method page takes longer than all else that one changed round asks for. Empty
    where the code or the rules have changed, or one of the files is missing.
    """
    was, now = old.inputs.get("shop.yaml"), inputs.file_states.get("shop.yaml")
    same_rules = was is not None and now is not None and was[HASH_INDEX] == now[HASH_INDEX]
    paths = [
        path
        for path in old.outputs
        if path in RULES_ONLY_PAGES or path.startswith(RULES_ONLY_CHARTS)
    ]
    is_whole = {*RULES_ONLY_PAGES} <= {*paths} <= inputs.kept_outputs.keys()
    if old.code != inputs.code or not same_rules or not is_whole:
        return {}
    return {path: str(inputs.kept_outputs[path][KEY_INDEX]) for path in paths}


def read_recent_changes(
    inputs: BuildInputs, ledger: LedgerRead, known: dict[str, Any], *, differs: bool
) -> "RecentChanges | None":
    """Return what the last commits mean; *known* is what the last build knew of that.

    None where git does not say. Where the ledger *differs* from what was committed, what its blanks
    contribute now is not what they contributed then.
    """
    from blankbook.history.review.recent_commits import RecentChanges, recent_changes
    from blankbook.history.versions.file_commits import read_commits
    from blankbook.history.versions.git import GitError

    commits = inputs.commits
    if not commits.head:
        return None
    if known.get("head") == commits.head:
        return RecentChanges(**{name: known[name] for name in RecentChanges.__slots__})
    if not commits.newest_first:
        commits = read_commits(inputs.root, commits.head, commits.day)
    entries = {entry["id"]: entry for entry in known.get("entries", ())}
    contributions = None if differs else ledger.contributions
    try:
        return recent_changes(inputs.root, commits, entries, contributions)
    except (GitError, OSError):
        return None


def _make_site(
    site: NewSite,
    ledger: LedgerRead,
    context: BuildContext,
    jobs: int | None,
    changes: "RecentChanges | None",
    *,
    rule_pages: bool,
) -> None:
    """Make every blank that must be made, on all cores, and then the pages that list them."""
    from blankbook.records.processes import map_in_processes

    def work(blank: "Blank") -> MadeFiles:
        return make_blank(blank, ledger.shop, ledger.learned[blank.style.key], context)

    shared_out = context.postponed_charts is None
    if shared_out:
        load_heavy_modules()
    made_blanks = map_in_processes(ledger.blanks, work, jobs, worth=shared_out)
    for blank, made in zip(ledger.blanks, made_blanks, strict=True):
        state = ledger.states[blank.style.key]
        state.row, state.specs = made.row, made.specs
        site.add(made)
    for state in ledger.states.values():
        site.specs.update(state.specs)
    if context.public:
        pages = _public_pages(ledger)
    else:
        pages = _list_pages(ledger, changes, rule_pages=rule_pages)
    site.add(make_pages(pages, context))


def _list_pages(
    ledger: LedgerRead, changes: "RecentChanges | None", *, rule_pages: bool
) -> "list[AnyPage]":
    """Return the pages that rows are enough for, and where asked those of the shop's rules."""
    from blankbook.pages import all_pages

    return all_pages.shop_pages(
        ledger.shop,
        ledger.suppliers,
        ledger.studies,
        _rows(ledger),
        ledger.contributions,
        changes,
        rule_pages=rule_pages,
    )


def _public_pages(ledger: LedgerRead) -> "list[AnyPage]":
    """Return all the pages that outsiders may see."""
    from blankbook.pages import all_pages

    charts = {row.listed.key: row.client for row in _rows(ledger) if row.client}
    return [*all_pages.client_pages(charts, public=True), all_pages.public_guide()]


def _rows(ledger: LedgerRead) -> "list[BlankRow]":
    """Return what the lists know of every blank: each has been made by now, or was before."""
    return [state.row for _, state in sorted(ledger.states.items()) if state.row]
