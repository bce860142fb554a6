"""MkDocs, and all that is known of it: pages go in as finished HTML and come out in our theme.

MkDocs has no programming interface that it promises to keep, so little of it is used: its
configuration, its build, and its `File` and `Page`. Nothing that a person typed passes through
Markdown; no plugin runs; nobody's own mkdocs.yml is read.
"""

import json
import logging
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files as package_files
from pathlib import Path
from typing import Any

PLACES = (
    ("index.html", "Catalogue"),
    ("suppliers.html", "Suppliers"),
    ("method.html", "Method"),
    ("guide.html", "Measuring guide"),
    ("glossary.html", "Glossary"),
)
"""The navigation: the same few pages everywhere, however many blanks there are."""

_HOOK = """\
from blankbook.pages.mkdocs_adapter import add_pages


def on_files(files, config):
    return add_pages(files, config)
"""
_pending: "list[Body]" = []


@dataclass(frozen=True, slots=True)
class Body:
    """A page to be put into the theme."""

    path: str
    """``blanks/tarn-thrush/h6.html``."""
    title: str
    html: str


class SiteFault(Exception):  # noqa: N818 - what happened
    """MkDocs warned of something; the site is not published."""


def render_site(bodies: Sequence[Body], site_name: str, target: Path) -> None:
    """Write the pages and the theme's own files into *target*, which is emptied first.

    Raises: SiteFault with what MkDocs said.
    """
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    _pending[:] = bodies
    warnings = _Warnings()
    logger = logging.getLogger("mkdocs")
    before = logger.level, logger.propagate
    logger.addHandler(warnings)
    logger.setLevel(logging.WARNING)
    logger.propagate = False
    try:
        with tempfile.TemporaryDirectory(prefix="blankbook-") as folder:
            config = load_config(str(_write_config(Path(folder), site_name, target)))
            config.plugins.on_startup(command="build", dirty=False)
            try:
                build(config)
            finally:
                config.plugins.on_shutdown()
    finally:
        logger.removeHandler(warnings)
        logger.setLevel(before[0])
        logger.propagate = before[1]
        _pending.clear()
    if warnings.said:
        raise SiteFault("; ".join(warnings.said))
    _tidy(target)


class _Warnings(logging.Handler):
    """Keeps what is said at the level of a warning or above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


def _write_config(folder: Path, site_name: str, target: Path) -> Path:
    """Write the configuration as JSON, which is YAML without its traps."""
    docs = folder / "docs"
    docs.mkdir()
    hook = folder / "blankbook_hook.py"
    hook.write_text(_HOOK, encoding="utf-8")
    config: Mapping[str, Any] = {
        "site_name": site_name,
        "site_url": "",
        "docs_dir": str(docs),
        "site_dir": str(target),
        "use_directory_urls": False,
        "plugins": [],
        "markdown_extensions": [],
        "theme": {"name": None, "custom_dir": str(package_files("blankbook.theme"))},
        "hooks": [str(hook)],
        "extra": {"places": [list(place) for place in PLACES]},
    }
    place = folder / "mkdocs.yml"
    place.write_text(json.dumps(config), encoding="utf-8")
    return place


def add_pages(files: Any, config: Any) -> Any:
    """Add the pending pages to MkDocs' list of files; called by the hook."""
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
            self.meta = {"title": self.body.title}

        def render(self, config: Any, files: Any) -> None:  # noqa: ARG002 - MkDocs' signature
            self.content = self.body.html
            self.toc = TableOfContents([])

    for body in _pending:
        name = body.path.removesuffix(".html") + ".md"
        file = File.generated(config, name, content="")
        file.page = FinishedPage(body, file, config)
        files.append(file)
    return files


def _tidy(target: Path) -> None:
    """Remove what MkDocs adds by itself: site maps, which name a day and no address."""
    for name in ("sitemap.xml", "sitemap.xml.gz"):
        (target / name).unlink(missing_ok=True)
