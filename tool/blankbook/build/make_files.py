"""What goes into the site: each blank judged, each page planned, and made unless it is kept."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blankbook.build.build_inputs import has_output
from blankbook.build.content_keys import chart_key, file_key, page_key
from blankbook.build.file_stamps import FileStates, digest
from blankbook.history.versions.file_commits import Commits
from blankbook.pages.record_sources import RecordCommit, commit_of

if TYPE_CHECKING:
    from blankbook.pages.blank.page_photos import Picture
    from blankbook.pages.orders.order_rows import OrderRow
    from blankbook.pages.page_spec import AnyChart, AnyPage, FileSpec
    from blankbook.pages.shop.blank_row import BlankRow
    from blankbook.records.model import Blank, Shop

_HEAVY_MODULES = (
    "blankbook.pages.draw.drawings",
    "blankbook.pages.all_pages",
    "blankbook.pages.render",
    "blankbook.results.judge_blank",
    "matplotlib.backends.backend_svg",
    "scipy.special",
)


@dataclass(frozen=True, slots=True)
class BuildContext:
    """What making a page needs besides what the page shows."""

    code: str
    """Hash of the code."""
    frame: str
    """What surrounds every page: the name of the site."""
    kept_outputs: FileStates
    """The files of the old site that are as they were made."""
    root: Path
    """The folder of the ledger."""
    charts_folder: Path
    """Where new charts are written, by their path in the site."""
    postponed_charts: "list[AnyChart] | None" = None
    """The charts that another process will draw; None where each is drawn with its page."""
    public: bool = False
    """Whether a blank is only judged: outsiders see none of its own pages."""
    commits: "Commits" = field(default_factory=Commits)
    """What git knows of the records."""


@dataclass(frozen=True, slots=True)
class PageBody:
    """A page before it is put into the theme."""

    path: str
    """``blanks/tarn-thrush/h6.html``."""
    title: str
    html: str
    feed: str = ""
    """The feed that the page's head names."""
    markdown: str = ""
    """Markdown of ours that follows on the HTML."""


@dataclass(frozen=True, slots=True)
class MadeFiles:
    """Pages and charts that were planned, and those of them that were made."""

    specs: dict[str, str] = field(default_factory=dict)
    """By path: the key of every page and chart, new or not."""
    bodies: list[PageBody] = field(default_factory=list)
    charts: dict[str, str] = field(default_factory=dict)
    """By path: the hash of every new chart, and of every other new file."""
    row: "BlankRow | None" = None
    """What the lists know of the blank."""


def load_heavy_modules() -> None:
    """Load what every child process needs, once, before there are any."""
    import importlib

    for name in _HEAVY_MODULES:
        importlib.import_module(name)


def make_blank(blank: "Blank", shop: "Shop", learned: Any, context: BuildContext) -> MadeFiles:
    """Return all that one blank adds to the site; *learned* is what the ledger teaches about it."""
    from blankbook.pages import all_pages
    from blankbook.pages.blank.page_photos import pictures_of
    from blankbook.results.judge_blank import judge
    from blankbook.results.learning.ledger_learning import learned_from_data

    judged = judge(blank, shop, learned_from_data(learned))
    made, history = MadeFiles(), None
    orders: tuple[OrderRow, ...] = ()
    if not context.public:
        photos = pictures_of(context.root, blank)
        own_orders, orders = all_pages.order_pages(judged)
        pages: list[AnyPage] = [
            all_pages.blank_page(judged, shop, photos, orders),
            all_pages.sheet_page(blank, shop),
            *own_orders,
        ]
        pages += all_pages.earlier_pages(judged, shop, photos)
        history = all_pages.over_time_page(judged, shop)
        pages += [history] if history else []
        paths = [round_.source.path for round_ in blank.planned]
        paths += [delivery.source.path for delivery in blank.deliveries]
        sources = {path: (context.root / path).read_bytes() for path in paths}
        pages += all_pages.table_pages(blank, shop, sources)
        pages += all_pages.delivery_pages(judged, sources)
        made = make_pages(pages, context)
        make_photos(photos.values(), context, made)
    return MadeFiles(
        made.specs, made.bodies, made.charts, all_pages.blank_row(judged, history, orders)
    )


def make_photos(photos: "Iterable[Picture]", context: BuildContext, made: MadeFiles) -> None:
    """Add the photos to what was made; those that the old site has are not scaled again."""
    from blankbook.pages.blank.page_photos import LARGE, SMALL, jpeg_bytes

    for photo in photos:
        for path, most in ((photo.large, LARGE), (photo.small, SMALL)):
            key = made.specs[path] = digest(context.code, path, photo.key)
            if not has_output(context.kept_outputs, path, key):
                made.charts[path] = _write_bytes(
                    context.charts_folder / path, jpeg_bytes(photo, most)
                )


def make_pages(pages: "Iterable[AnyPage]", context: BuildContext) -> MadeFiles:
    """Return the pages and their charts; those that the old site has are not made again."""
    made = MadeFiles()
    for page in pages:
        commits = _copy_sources(page, context, made)
        key = made.specs[page.path] = page_key(page, commits, context.code, context.frame)
        if not has_output(context.kept_outputs, page.path, key):
            made.bodies.append(make_body(page, commits))
        for chart in page.charts:
            key = made.specs[chart.path] = chart_key(chart, context.code)
            if has_output(context.kept_outputs, chart.path, key):
                continue
            if context.postponed_charts is not None:
                context.postponed_charts.append(chart)
            else:
                made.charts[chart.path] = write_chart(context.charts_folder, chart)
        for file in page.files:
            key = made.specs[file.path] = file_key(file, context.code)
            if not has_output(context.kept_outputs, file.path, key):
                made.charts[file.path] = write_file(context.charts_folder, file)
    return made


def _copy_sources(
    page: "AnyPage", context: BuildContext, made: MadeFiles
) -> dict[str, RecordCommit]:
    """Copy each record that a page leads to into the site; return their commits, by path."""
    commits = {}
    for source in page.sources:
        body = (context.root / source.path).read_bytes()
        if commit := commit_of(source.path, body, context.commits):
            commits[source.path] = commit
        if source.copy in made.specs:  # another page of the blank has copied it
            continue
        key = made.specs[source.copy] = digest(source.copy, body)
        if not has_output(context.kept_outputs, source.copy, key):
            made.charts[source.copy] = _write_bytes(context.charts_folder / source.copy, body)
    return commits


def make_body(page: "AnyPage", commits: Mapping[str, RecordCommit]) -> PageBody:
    """Return the rendered page; *commits* are those of its sources, by path."""
    from blankbook.pages.render import in_fewer_bytes, render_body

    text = render_body(page, commits)
    html = text if page.markdown else in_fewer_bytes(text)
    return PageBody(page.path, page.title, html, page.feed, page.markdown)


def write_chart(folder: Path, chart: "AnyChart") -> str:
    """Draw a chart into its place below *folder*; return its hash."""
    from blankbook.pages.draw.drawings import draw

    return _write_bytes(folder / chart.path, draw(chart))


def write_file(folder: Path, file: "FileSpec") -> str:
    """Write a file into its place below *folder*; return its hash."""
    return _write_bytes(folder / file.path, file.text.encode())


def _write_bytes(place: Path, body: bytes) -> str:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(body)
    return digest(body)
