"""Page specs to HTML. What a person typed is data to a template, and is always escaped."""

import re
from collections.abc import Mapping
from dataclasses import fields
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from blankbook.pages.page_spec import AnyPage, TemplateContext
from blankbook.pages.record_sources import RecordCommit
from blankbook.pages.value_words import unbroken

_UNSAID = re.compile(r"\s*</(?:td|th|tr|thead|tbody|tfoot|li|dt|dd)>\s*")
"""End tags that HTML lets go, wherever they stand (HTML Living Standard, 13.1.2.4)."""


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
    environment.filters["unbroken"] = unbroken
    return environment


def render_body(page: AnyPage, commits: Mapping[str, RecordCommit] = MappingProxyType({})) -> str:
    """Return the body of a page as HTML; *commits* are those of its sources, by path."""
    names = _names(page.context)
    text: str = (
        _environment().get_template(page.template).render(names, title=page.title, commits=commits)
    )
    return text


def render_text(template: str, context: TemplateContext) -> str:
    """Return a text that no theme goes around: a file that stands alone."""
    text: str = _environment().get_template(template).render(_names(context))
    return text


def _names(context: TemplateContext) -> dict[str, Any]:
    return {field.name: getattr(context, field.name) for field in fields(context)}


def without_end_tags(html: str) -> str:
    """Return the same page in fewer bytes: without the end tags that nobody needs to write.

    What a person typed is escaped by now, so whatever looks like a tag is one.
    """
    return _UNSAID.sub("", html)
