"""MkDocs, and all that is known of it: pages go in as finished HTML and come out in our theme.

MkDocs has no programming interface that it promises to keep, so little of it is used, and
`tests/build/test_mkdocs.py` holds each part: its configuration, its build, its list of files, and
its `File` and `Page`. Nothing that a person typed passes through Markdown; nobody's own mkdocs.yml
is read, and no plugin runs but the one below, which hands the pages over.
"""

import logging
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.resources import files as package_files
from pathlib import Path
from typing import Any

from blankbook.build.make_files import Body

PLACES = (
    ("index.html", "Catalogue"),
    ("suppliers.html", "Suppliers"),
    ("clients.html", "Size charts"),
    ("method.html", "Method"),
    ("guide.html", "Measuring guide"),
    ("glossary.html", "Glossary"),
)
"""The navigation: the same few pages everywhere, however many blanks there are."""
PUBLIC_PLACES = (("index.html", "Size charts"), ("guide.html", "How we measure"))
"""The navigation of a site for outsiders."""


class SiteFault(Exception):  # noqa: N818 - what happened
    """MkDocs warned of something; the site is not published."""


def render_site(
    bodies: Sequence[Body],
    site_name: str,
    target: Path,
    *,
    foot: str = "",
    public: bool = False,
) -> None:
    """Write the pages and the theme's own files into the new folder *target*.

    Every page ends with *foot*. A *public* site has its own navigation.

    Raises: SiteFault with what MkDocs said; OSError.
    """
    from mkdocs.commands.build import build
    from mkdocs.exceptions import MkDocsException

    with warnings_kept() as said, tempfile.TemporaryDirectory(dir=target.parent) as empty:
        try:
            build(_configuration(bodies, site_name, Path(empty), target, foot, public))
        except (MkDocsException, SystemExit) as error:
            said.append(str(error))
    if said:
        raise SiteFault("; ".join(said))


@contextmanager
def warnings_kept() -> Iterator[list[str]]:
    """Give the list of what MkDocs says at the level of a warning or above; nothing is shown."""
    keeper = _Keeper()
    logger = logging.getLogger("mkdocs")
    level, propagate = logger.level, logger.propagate
    logger.addHandler(keeper)
    logger.setLevel(logging.WARNING)
    logger.propagate = False
    try:
        yield keeper.said
    finally:
        logger.removeHandler(keeper)
        logger.setLevel(level)
        logger.propagate = propagate


class _Keeper(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


def _configuration(
    bodies: Sequence[Body], site_name: str, empty: Path, target: Path, foot: str, public: bool
) -> Any:
    """Return MkDocs' configuration, which never was a file. *empty* is where it finds no pages.

    Raises: SiteFault.
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
            "markdown_extensions": [],
            "theme": {"name": None, "custom_dir": str(package_files("blankbook.theme"))},
            "extra": {
                "places": [list(place) for place in (PUBLIC_PLACES if public else PLACES)],
                "foot": foot,
            },
        }
    )
    failed, warned = config.validate()
    if failed or warned:
        raise SiteFault("; ".join(f"{key}: {why}" for key, why in (*failed, *warned)))
    config.plugins["blankbook"] = _giver(bodies)
    return config


def _giver(bodies: Sequence[Body]) -> Any:
    """Return the plugin that adds finished pages to MkDocs' list of files."""
    from mkdocs.plugins import BasePlugin
    from mkdocs.structure.files import File
    from mkdocs.structure.pages import Page
    from mkdocs.structure.toc import TableOfContents

    class FinishedPage(Page):
        """A page that is finished already: neither read nor converted."""

        def __init__(self, body: Body, file: Any, config: Any) -> None:
            self.body = body
            super().__init__(None, file, config)

        def read_source(self, config: Any) -> None:  # noqa: ARG002 - MkDocs' signature
            self.markdown = ""
            self.meta = {"title": self.body.title, "feed": self.body.feed}

        def render(self, config: Any, files: Any) -> None:  # noqa: ARG002 - MkDocs' signature
            self.content = self.body.html
            self.toc = TableOfContents([])

    class Giver(BasePlugin):  # type: ignore[type-arg, no-untyped-call]
        """Gives MkDocs the pages."""

        def on_files(self, files: Any, *, config: Any) -> Any:
            config.theme.static_templates.clear()  # site maps, which name a day and no address
            for body in bodies:
                name = body.path.removesuffix(".html") + ".md"
                file = File.generated(config, name, content="")
                file.page = FinishedPage(body, file, config)
                files.append(file)
            return files

    return Giver()
