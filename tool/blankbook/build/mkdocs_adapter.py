"""The one module that knows MkDocs: pages go in as finished HTML and come out in our theme.

Behind its HTML a page of the handbook has Markdown of ours, which MkDocs converts.

MkDocs promises no programming interface, so little of it is used: its configuration, its build, its
list of files, and its `File` and `Page`. `tests/build/test_mkdocs_adapter.py` tests each of them.
Nothing that a person typed passes through Markdown, nobody's own mkdocs.yml is read, and no plugin
runs but the one below, which hands the pages over.
"""

import logging
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.resources import files as package_files
from pathlib import Path
from typing import Any

from blankbook.build.make_files import PageBody

NAVIGATION = (
    ("index.html", "Catalogue"),
    ("suppliers.html", "Suppliers"),
    ("clients.html", "Size charts"),
    ("method.html", "Method"),
    ("guide.html", "Measuring guide"),
    ("glossary.html", "Glossary"),
    ("handbook/index.html", "Handbook"),
)
"""The navigation: path and name of the same few pages, however many blanks there are."""
PUBLIC_NAVIGATION = (("index.html", "Size charts"), ("guide.html", "How we measure"))
"""The navigation of a site for outsiders."""


class MkDocsError(Exception):
    """MkDocs warned of something; the site is not published."""


def render_site(
    bodies: Sequence[PageBody],
    site_name: str,
    target: Path,
    *,
    foot: str = "",
    public: bool = False,
) -> None:
    """Write the pages and the theme's own files into the new folder *target*.

    Every page ends with *foot*. A *public* site has its own navigation.

    Raises: MkDocsError with what MkDocs said; OSError.
    """
    from mkdocs.commands.build import build
    from mkdocs.exceptions import MkDocsException

    with collected_warnings() as messages, tempfile.TemporaryDirectory(dir=target.parent) as empty:
        try:
            build(_configuration(bodies, site_name, Path(empty), target, foot, public))
        except (MkDocsException, SystemExit) as error:
            messages.append(str(error))
    if messages:
        raise MkDocsError("; ".join(messages))


@contextmanager
def collected_warnings() -> Iterator[list[str]]:
    """Give the list to which every warning and error of MkDocs goes; none is printed."""
    collector = _Collector()
    logger = logging.getLogger("mkdocs")
    level, propagate = logger.level, logger.propagate
    logger.addHandler(collector)
    logger.setLevel(logging.WARNING)
    logger.propagate = False
    try:
        yield collector.messages
    finally:
        logger.removeHandler(collector)
        logger.setLevel(level)
        logger.propagate = propagate


class _Collector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


def _configuration(
    bodies: Sequence[PageBody], site_name: str, empty: Path, target: Path, foot: str, public: bool
) -> Any:
    """Return MkDocs' configuration, without a file. *empty* is a folder in which it finds no pages.

    Raises: MkDocsError.
    """
    from mkdocs.config.defaults import MkDocsConfig

    config = MkDocsConfig()
    config.load_dict(
        {
            "site_name": site_name,
            "site_url": "",
            "docs_dir": str(empty),
            "site_dir": str(target),
            "use_directory_urls": False,
            "plugins": [],
            "markdown_extensions": ["blankbook.pages.handbook.handbook_markup"],
            # what leads to pages that an earlier build made; links are followed in the whole site
            "validation": {"links": {"not_found": "ignore", "unrecognized_links": "ignore"}},
            "theme": {"name": None, "custom_dir": str(package_files("blankbook.theme"))},
            "extra": {
                "places": [list(place) for place in (PUBLIC_NAVIGATION if public else NAVIGATION)],
                "foot": foot,
            },
        }
    )
    failed, warned = config.validate()
    if failed or warned:
        raise MkDocsError("; ".join(f"{key}: {why}" for key, why in (*failed, *warned)))
    config.plugins["blankbook"] = _page_plugin(bodies)
    return config


def _page_plugin(bodies: Sequence[PageBody]) -> Any:
    """Return the plugin that adds finished pages to MkDocs' list of files."""
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import File
    from mkdocs.structure.pages import Page
    from mkdocs.structure.toc import TableOfContents

    class FinishedPage(Page):
        """A page that is finished already, but for Markdown of ours behind it."""

        def __init__(self, body: PageBody, file: Any, config: Any) -> None:
            self.body = body
            super().__init__(None, file, config)

        def read_source(self, config: Any) -> None:  # noqa: ARG002 - MkDocs' signature
            self.markdown = self.body.markdown
            self.meta = {"title": self.body.title, "feed": self.body.feed}

        def render(self, config: Any, files: Any) -> None:
            self.content = self.body.html
            self.toc = TableOfContents([])
            if self.body.markdown:
                super().render(config, files)
                self.content = f'{self.body.html}\n<div class="handbook">\n{self.content}\n</div>'

    class PagePlugin(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
        """Gives MkDocs the pages."""

        def on_files(self, files: Any, *, config: Any) -> Any:
            # the theme's site maps name the day of the build, so two builds would differ
            config.theme.static_templates.clear()
            for body in bodies:
                name = body.path.removesuffix(".html") + ".md"
                file = File.generated(config, name, content="")
                file.page = FinishedPage(body, file, config)
                files.append(file)
            return files

    return PagePlugin()
