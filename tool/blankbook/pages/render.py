"""A page through its template to HTML. What a person typed is data, and is always escaped."""

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
"""End tags that may be left out here (HTML Living Standard, 13.1.2.4, Optional tags)."""


@lru_cache(maxsize=1)
def _environment() -> Any:
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("blankbook.templates", ""),
        autoescape=True,
        undefined=jinja2.StrictUndefined,  # a misspelt name is a fault of ours, not an empty text
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
    """Return the text of a file that stands alone, without the theme around it."""
    text: str = _environment().get_template(template).render(_names(context))
    return text


def _names(context: TemplateContext) -> dict[str, Any]:
    return {field.name: getattr(context, field.name) for field in fields(context)}


def without_end_tags(html: str) -> str:
    """Return the same page in fewer bytes, without the end tags that HTML does not need.

    What a person typed is escaped by now, so whatever looks like a tag is one.
    """
    return _UNSAID.sub("", html)
