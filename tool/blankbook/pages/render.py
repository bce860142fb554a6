"""Page specs to HTML. What a person typed is data to a template, and is always escaped."""

import hashlib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from blankbook.pages.showing import tied
from blankbook.pages.spec import PageSpec


@lru_cache(maxsize=1)
def _environment() -> Any:
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("blankbook.templates", ""),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=False,
    )
    environment.filters["tied"] = tied
    return environment


def render_body(page: PageSpec) -> str:
    """Return the body of a page as HTML."""
    text: str = _environment().get_template(page.template).render(**page.context, title=page.title)
    return text


def template_fingerprint() -> str:
    """Return a hash that changes when a template does."""
    digest = hashlib.blake2b(digest_size=16)
    for entry in sorted(files("blankbook.templates").iterdir(), key=lambda one: one.name):
        if entry.name.endswith(".j2"):
            digest.update(entry.name.encode() + b"\0" + entry.read_bytes() + b"\0")
    return digest.hexdigest()
