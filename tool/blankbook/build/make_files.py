"""What goes into the site: judged, planned, and made where the old site does not have it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build.changed_files import holds
from blankbook.build.content_keys import chart_key, file_key, page_key
from blankbook.build.file_stamps import Known, digest
from blankbook.history.versions.file_commits import Commits
from blankbook.pages.record_sources import RecordCommit, commit_of

if TYPE_CHECKING:
    from blankbook.pages.blank.page_photos import Picture
    from blankbook.pages.page_spec import AnyChart, AnyPage, FileSpec
    from blankbook.pages.shop.blank_row import BlankRow
    from blankbook.records.model import Blank, Shop

_HEAVY = (
    "blankbook.pages.draw.drawings",
    "blankbook.pages.all_pages",
    "blankbook.pages.render",
    "blankbook.results.judge_blank",
    "matplotlib.backends.backend_svg",
    "scipy.special",
)


@dataclass(frozen=True, slots=True)
class Workshop:
    """What making needs besides what is to be shown."""

    code: str
    frame: str
    """What stands on every page, around what is its own: the name of the site."""
    held: Known
    """What the old site has."""
    root: Path
    """Of the ledger: where photos are."""
    folder: Path
    """Where new charts are put, by their path in the site."""
    drawn_later: "list[AnyChart] | None" = None
    """Where charts are only listed; otherwise each is drawn when its page is made."""
    public: bool = False
    """Whether a blank is only judged: outsiders see none of its own pages."""
    commits: "Commits" = field(default_factory=Commits)
    """What git knows of the records."""


@dataclass(frozen=True, slots=True)
class Body:
    """A page to be put into the theme."""

    path: str
    """``blanks/tarn-thrush/h6.html``."""
    title: str
    html: str
    feed: str = ""
    """The feed that the page's head names."""


@dataclass(frozen=True, slots=True)
class Made:
    """What was planned, with what of it is new."""

    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of every page and chart, new or not."""
    bodies: list[Body] = field(default_factory=list)
    charts: dict[str, str] = field(default_factory=dict)
    """By path: the hash of every new chart, and of every other new file."""
    row: "BlankRow | None" = None
    """What the lists know of a blank."""


def warm_up() -> None:
    """Load what every child needs, once, before there are children."""
    import importlib

    for name in _HEAVY:
        importlib.import_module(name)


def make_blank(blank: "Blank", shop: "Shop", learned: Any, workshop: Workshop) -> Made:
    """Return all that one blank gives to the site; *learned* is what the ledger teaches of it."""
    from blankbook.pages import all_pages
    from blankbook.pages.blank.page_photos import pictures_of
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learned_from_data

    judged = judge(blank, shop, learned_from_data(learned))
    made, history = Made(), None
    if not workshop.public:
        pictures = pictures_of(workshop.root, blank)
        pages: list[AnyPage] = [
            all_pages.blank_page(judged, shop, pictures),
            all_pages.sheet_page(blank, shop),
        ]
        pages += all_pages.earlier_pages(judged, shop, pictures)
        history = all_pages.over_time_page(judged, shop)
        pages += [history] if history else []
        paths = [one.source.path for one in blank.planned]
        sources = {path: (workshop.root / path).read_bytes() for path in paths}
        pages += all_pages.table_pages(blank, shop, sources)
        made = make_pages(pages, workshop)
        make_pictures(pictures.values(), workshop, made)
    return Made(made.specs, made.bodies, made.charts, all_pages.blank_row(judged, history))


def make_pictures(pictures: "Iterable[Picture]", workshop: Workshop, made: Made) -> None:
    """Add the pictures to what was made; those that the old site has are not drawn again."""
    from blankbook.pages.blank.page_photos import LARGE, SMALL, jpeg_bytes

    for one in pictures:
        for path, most in ((one.large, LARGE), (one.small, SMALL)):
            key = made.specs[path] = digest(workshop.code, path, one.key)
            if not holds(workshop.held, path, key):
                made.charts[path] = _put(workshop.folder / path, jpeg_bytes(one, most))


def make_pages(pages: "Iterable[AnyPage]", workshop: Workshop) -> Made:
    """Return the pages and their charts; what the old site has is not made again."""
    made = Made()
    for page in pages:
        commits = _copy_sources(page, workshop, made)
        key = made.specs[page.path] = page_key(page, commits, workshop.code, workshop.frame)
        if not holds(workshop.held, page.path, key):
            made.bodies.append(make_body(page, commits))
        for chart in page.charts:
            key = made.specs[chart.path] = chart_key(chart, workshop.code)
            if holds(workshop.held, chart.path, key):
                continue
            if workshop.drawn_later is not None:
                workshop.drawn_later.append(chart)
            else:
                made.charts[chart.path] = draw_into(workshop.folder, chart)
        for file in page.files:
            key = made.specs[file.path] = file_key(file, workshop.code)
            if not holds(workshop.held, file.path, key):
                made.charts[file.path] = write_into(workshop.folder, file)
    return made


def _copy_sources(page: "AnyPage", workshop: Workshop, made: Made) -> dict[str, RecordCommit]:
    """Copy each record that a page leads to into the site; return their commits, by path."""
    commits = {}
    for source in page.sources:
        body = (workshop.root / source.path).read_bytes()
        if commit := commit_of(source.path, body, workshop.commits):
            commits[source.path] = commit
        if source.copy in made.specs:  # another page of the blank has brought it
            continue
        key = made.specs[source.copy] = digest(source.copy, body)
        if not holds(workshop.held, source.copy, key):
            made.charts[source.copy] = _put(workshop.folder / source.copy, body)
    return commits


def make_body(page: "AnyPage", commits: Mapping[str, RecordCommit]) -> Body:
    """Return what stands in the page; *commits* are those of its sources, by path."""
    from blankbook.pages.render import render_body, without_end_tags

    return Body(page.path, page.title, without_end_tags(render_body(page, commits)), page.feed)


def draw_into(folder: Path, chart: "AnyChart") -> str:
    """Draw a chart into its place below *folder*; return its hash."""
    from blankbook.pages.draw.drawings import draw

    return _put(folder / chart.path, draw(chart))


def write_into(folder: Path, file: "FileSpec") -> str:
    """Write a file into its place below *folder*; return its hash."""
    return _put(folder / file.path, file.text.encode())


def _put(place: Path, body: bytes) -> str:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(body)
    return digest(body)
