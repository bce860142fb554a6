"""The build: read, judge, plan, draw, render, and put the site in its place.

What has not changed is not done again: a blank is read and judged anew when its files, the shop's
rules or the code have changed, and a page or chart is made anew when what it shows has.
"""

import os
import shutil
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.pages import cache as known
from blankbook.pages.cache import Cache, digest, spec_key
from blankbook.pages.publish import MARK, check_place, locked, publish, staging
from blankbook.text.files import LedgerFile, list_files
from blankbook.text.findings import Finding

if TYPE_CHECKING:
    from blankbook.pages.spec import ChartSpec, PageSpec
    from blankbook.records.model import Blank, Ledger, Shop

STATE = ".blankbook"
_HEAVY = (
    "blankbook.pages.charts.draw",
    "blankbook.pages.plan",
    "blankbook.pages.render",
    "blankbook.results.judge",
    "matplotlib.backends.backend_svg",
    "matplotlib.figure",
    "scipy.special",
)
DRAW_APART = 4
"""From this many blanks on, a second process pays."""


class LedgerHasFaults(Exception):  # noqa: N818 - what happened
    """The ledger has errors; nothing was built."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__("the ledger has faults")
        self.findings = findings


class BrokenSite(Exception):  # noqa: N818 - what happened
    """The finished pages do not hold together; nothing was published."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build did."""

    out: Path
    pages: int
    charts: int
    rendered: int
    drawn: int
    seconds: float
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Made:
    """What one blank gave: its row, and the pages and charts with their keys and content."""

    key: str
    row: dict[str, Any]
    specs: "tuple[PageSpec | ChartSpec, ...]"
    html: Mapping[str, str]
    """By path: bodies of pages that are new."""
    svg: Mapping[str, bytes]
    """By path: charts that are new."""


def build_site(root: Path, out: Path, *, jobs: int | None = None, fresh: bool = False) -> Built:
    """Build the ledger at *root* into *out*.

    Raises: LedgerHasFaults, BrokenSite, publish.Refused, publish.Busy, OSError.
    """
    start = time.perf_counter()
    check_place(out, root)
    with locked(root / STATE) as writable:
        cache = Cache() if fresh or not writable else known.load(root / STATE)
        fingerprint = known.code_fingerprint()
        files = list_files(root)
        if cache.fingerprint != fingerprint or cache.out != str(out):
            cache = Cache(fingerprint, str(out))
        elif _nothing_changed(cache, root, out, files):
            return _built(cache, out, start)
        else:
            known.load_blanks(root / STATE, cache)
        made = _Build(root, out, cache, files, jobs).run()
        if writable:
            known.save(root / STATE, cache)
        return _built(cache, out, start, made)


def _nothing_changed(cache: Cache, root: Path, out: Path, files: list[LedgerFile]) -> bool:
    return (
        bool(cache.outputs)
        and (out / MARK).is_file()
        and known.inputs_untouched(cache, root, (file.path for file in files))
        and known.outputs_untouched(cache, out)
    )


def _built(cache: Cache, out: Path, start: float, made: "_Build | None" = None) -> Built:
    pages = sum(path.endswith(".html") for path in cache.outputs)
    charts = sum(path.startswith("charts/") for path in cache.outputs)
    seconds = time.perf_counter() - start
    if made is None:
        return Built(out, pages, charts, 0, 0, seconds)
    rendered, drawn = len(made.html), len(made.svg)
    return Built(out, pages, charts, rendered, drawn, seconds, made.findings)


class _Build:
    """One build under way."""

    def __init__(
        self, root: Path, out: Path, cache: Cache, files: list[LedgerFile], jobs: int | None
    ) -> None:
        self.root, self.out, self.cache, self.jobs = root, out, cache, jobs
        self.files = files
        self.html: dict[str, tuple[str, str]] = {}
        self.svg: dict[str, bytes] = {}
        self.specs: dict[str, str] = {}
        self.findings: tuple[Finding, ...] = ()

    def run(self) -> "_Build":
        """Do everything, and publish at the end."""
        paths = {file.path for file in self.files}
        self.cache.inputs = {p: s for p, s in self.cache.inputs.items() if p in paths}
        ledger, changed = self._load()
        for blank, made in zip(changed, self._make(ledger, changed), strict=True):
            self._take(blank, made)
        self._keep()
        self._make_lists(ledger)
        with staging(self.out) as folder:
            written = self._write(folder / "site", ledger.shop.name)
            self._check(folder / "site", written)
            publish(folder / "site", self.out)
        self._stamp_outputs(written)
        return self

    def _load(self) -> "tuple[Ledger, list[str]]":
        """Return the ledger with every blank that must be looked at again, and their keys."""
        from blankbook.records.load import load_ledger

        keys = self._blank_keys()
        changed = [b for b, key in keys.items() if self.cache.blanks.get(b, {}).get("key") != key]
        loaded = load_ledger(self.root, only=set(changed), workers=self.jobs)
        self.findings = loaded.findings
        if loaded.ledger is None or any(one.level == "error" for one in loaded.findings):
            raise LedgerHasFaults(loaded.findings)
        self.cache.blanks = {b: r for b, r in self.cache.blanks.items() if b in keys}
        for blank in changed:
            self.cache.blanks[blank] = {"key": keys[blank]}
        return loaded.ledger, changed

    def _blank_keys(self) -> dict[str, str]:
        """Return, for each blank, a hash of all that its page can depend on."""
        hashes = {
            file.path: self.cache.hash_of(self.root, file.path)
            for file in self.files
            if (self.root / file.path).is_file()
        }
        own: dict[str, list[str]] = {}
        for file in self.files:
            if file.blank:
                own.setdefault(file.blank, []).append(file.path)
        shop = hashes.get("shop.yaml", "")
        return {
            blank: digest(
                self.cache.fingerprint,
                shop,
                hashes.get(f"suppliers/{blank.partition('/')[0]}.yaml", ""),
                *(part for path in sorted(paths) for part in (path, hashes.get(path, ""))),
            )
            for blank, paths in sorted(own.items())
        }

    def _make(self, ledger: "Ledger", changed: list[str]) -> list[Made]:
        from blankbook.records.fork import in_processes

        blanks = [ledger.blanks[key] for key in changed]
        apart = len(blanks) >= DRAW_APART
        if apart:
            _warm()
        fresh = self._is_fresh()
        work: Callable[[Blank], Made] = lambda blank: make_blank(  # noqa: E731 - forked, not pickled
            blank, ledger.shop, self.cache.fingerprint, fresh
        )
        return in_processes(blanks, work, self.jobs, worth=apart)

    def _is_fresh(self) -> Callable[[str, str], bool]:
        """Return a test for whether the old site holds a path made with this very key."""
        outputs, out = self.cache.outputs, self.out
        return lambda path, key: _holds(out, path, outputs.get(path), key)

    def _take(self, blank: str, made: Made) -> None:
        """Add what one blank gave."""
        state = self.cache.blanks[blank]
        state["row"] = made.row
        state["made"] = {}
        for spec in made.specs:
            state["made"][spec.path] = spec_key(spec, self.cache.fingerprint)
        titles = {spec.path: getattr(spec, "title", "") for spec in made.specs}
        self.html.update({path: (titles[path], body) for path, body in made.html.items()})
        self.svg.update(made.svg)

    def _keep(self) -> None:
        """Note what belongs to the site, and make again what the old site has lost."""
        lost = []
        fresh = self._is_fresh()
        for blank, state in self.cache.blanks.items():
            self.specs.update(state["made"])
            new = self.html.keys() | self.svg.keys()
            if any(p not in new and not fresh(p, key) for p, key in state["made"].items()):
                lost.append(blank)
        if lost:
            self._make_lost(lost)

    def _make_lost(self, lost: list[str]) -> None:
        from blankbook.records.load import load_ledger

        again = load_ledger(self.root, only=set(lost), workers=self.jobs).ledger
        if again is None:
            raise LedgerHasFaults(())
        for blank, made in zip(lost, self._make(again, lost), strict=True):
            self._take(blank, made)

    def _make_lists(self, ledger: "Ledger") -> None:
        """Make the pages that need no more than rows, and those that need none."""
        from blankbook.pages import plan

        rows = [self.cache.blanks[key]["row"] for key in sorted(self.cache.blanks)]
        pages = [
            plan.catalogue_page(rows, ledger.shop),
            plan.suppliers_page(ledger.suppliers, rows, ledger.shop),
            *(
                plan.supplier_page(supplier, rows, ledger.shop)
                for _, supplier in sorted(ledger.suppliers.items())
            ),
            *plan.fixed_pages(ledger.shop),
        ]
        fresh = self._is_fresh()
        for page in pages:
            bodies, charts = make_new((page, *page.charts), self.cache.fingerprint, fresh)
            self.html.update({path: (page.title, body) for path, body in bodies.items()})
            self.svg.update(charts)
            specs: tuple[PageSpec | ChartSpec, ...] = (page, *page.charts)
            for spec in specs:
                self.specs[spec.path] = spec_key(spec, self.cache.fingerprint)

    def _write(self, site: Path, name: str) -> dict[str, str]:
        """Write the whole site into a new folder; return the hash of every file."""
        from blankbook.pages.mkdocs_adapter import Body, render_site

        bodies = [Body(path, title, html) for path, (title, html) in sorted(self.html.items())]
        render_site(bodies, name, site)
        for path, content in self.svg.items():
            place = site / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(content)
        for path in self.specs:
            if path not in self.html and path not in self.svg:
                _carry_over(self.out / path, site / path)
        shutil.copyfile(site.parent / MARK, site / MARK)
        return {path: self._hash(site, path) for path in _all_files(site)}

    def _hash(self, site: Path, path: str) -> str:
        old = self.cache.outputs.get(path)
        kept = path in self.specs and path not in self.html and path not in self.svg
        return str(old[3]) if kept and old else digest((site / path).read_bytes())

    def _check(self, site: Path, written: Iterable[str]) -> None:
        from blankbook.pages.links import broken_links

        missing = sorted(self.specs.keys() - set(written))
        broken = [f"{path} was not made" for path in missing]
        broken += broken_links(site, self.html)
        if broken:
            raise BrokenSite("; ".join(broken[:5]))

    def _stamp_outputs(self, written: Mapping[str, str]) -> None:
        self.cache.outputs = {
            path: [*known.stamp(self.out / path), made, self.specs.get(path, "")]
            for path, made in sorted(written.items())
        }


def make_blank(
    blank: "Blank", shop: "Shop", fingerprint: str, fresh: Callable[[str, str], bool]
) -> Made:
    """Return everything that one blank gives to the site; what the old site has is left out."""
    from blankbook.pages import plan
    from blankbook.results.judge import judge

    judged = judge(blank, shop)
    page = plan.blank_page(judged, shop)
    specs: tuple[PageSpec | ChartSpec, ...] = (page, *page.charts)
    bodies, charts = make_new(specs, fingerprint, fresh)
    return Made(blank.style.key, plan.catalogue_row(judged), specs, bodies, charts)


def make_new(
    specs: "Iterable[PageSpec | ChartSpec]",
    fingerprint: str,
    fresh: Callable[[str, str], bool],
) -> tuple[dict[str, str], dict[str, bytes]]:
    """Return the bodies and the charts of those specs that the old site does not hold."""
    from blankbook.pages.render import render_body
    from blankbook.pages.spec import PageSpec

    bodies: dict[str, str] = {}
    charts: dict[str, bytes] = {}
    for spec in specs:
        if fresh(spec.path, spec_key(spec, fingerprint)):
            continue
        if isinstance(spec, PageSpec):
            bodies[spec.path] = render_body(spec)
        else:
            from blankbook.pages.charts.draw import draw

            charts[spec.path] = draw(spec)
    return bodies, charts


def _warm() -> None:
    """Load what every child needs, once, before there are children."""
    import importlib

    for name in _HEAVY:
        importlib.import_module(name)


def _holds(out: Path, path: str, old: "list[Any] | None", key: str) -> bool:
    """Say whether the site at *out* has *path*, made with *key* and untouched since."""
    if old is None or len(old) < 5 or old[4] != key:
        return False
    try:
        place = out / path
        return not place.is_symlink() and digest(place.read_bytes()) == old[3]
    except OSError:
        return False


def _carry_over(old: Path, new: Path) -> None:
    """Bring a file of the old site into the new one, without copying where the disk can."""
    new.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(old, new)
    except OSError:
        shutil.copy2(old, new)


def _all_files(site: Path) -> list[str]:
    found = []
    for folder, _, names in os.walk(site):
        base = Path(folder).relative_to(site)
        found += [(base / name).as_posix() for name in names]
    return sorted(found)
