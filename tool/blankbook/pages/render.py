"""A page through its template to HTML. What a person typed is data, and is always escaped."""

import re
from collections.abc import Mapping
from dataclasses import fields
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from blankbook.pages.cell_heads import with_cell_heads
from blankbook.pages.page_spec import AnyPage, TemplateContext
from blankbook.pages.record_sources import RecordCommit
from blankbook.pages.value_words import unbroken

_UNSAID = re.compile(r"\s*</(?:td|th|tr|thead|tbody|tfoot|li|dt|dd)>\s*")
"""End tags that may be left out here (HTML Living Standard, 13.1.2.4, Optional tags)."""
_START = re.compile("<[a-z][^>]*>")
_QUOTED = re.compile(
    r' (class|scope|role|width|height|tabindex|loading|data-h|colspan|rowspan|aria-[a-z]+)="'
    r'([\w-]+)"(?=[ >])',
    re.ASCII,
)
"""Values that need no quotes (HTML Living Standard, 13.1.2.3, Attributes); never a link's."""


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
    return with_cell_heads(text)


def render_text(template: str, context: TemplateContext) -> str:
    """Return the text of a file that stands alone, without the theme around it."""
    text: str = _environment().get_template(template).render(_names(context))
    return text


def _names(context: TemplateContext) -> dict[str, Any]:
    return {field.name: getattr(context, field.name) for field in fields(context)}


def in_fewer_bytes(html: str) -> str:
    """Return the same page without the end tags and the quotes that HTML does not need.

    What a person typed is escaped by now, so whatever looks like a tag is one.

    >>> in_fewer_bytes('<tr><td class="num" title="a b">1</td></tr>')
    '<tr><td class=num title="a b">1'
    """
    return _START.sub(lambda tag: _QUOTED.sub(r" \1=\2", tag[0]), _UNSAID.sub("", html))
