"""The keys of what is made: the same key, the same bytes."""

import json
from dataclasses import fields
from typing import Any

from blankbook.build.file_stamps import digest
from blankbook.pages.page_spec import AnyChart, FileSpec, PageSpec


def canonical(data: Any) -> str:
    """Return the one text of data that its hash is made from: JSON, and frozen values in it."""
    return json.dumps(data, sort_keys=True, ensure_ascii=False, allow_nan=False, default=_as_list)


def _as_list(value: Any) -> list[Any]:
    """Return a frozen value as the name of its class and all that it holds, in order.

    Raises: TypeError, where it is none.
    """
    return [type(value).__name__, *(getattr(value, field.name) for field in fields(value))]


def page_key(page: PageSpec, code: str, frame: str) -> str:
    """Return the key of a page: the same key, the same bytes. *frame* is what surrounds it."""
    shown = canonical([page.template, page.title, page.feed, page.context])
    return digest(code, frame, page.path, shown)


def file_key(file: FileSpec, code: str) -> str:
    """Return the key of a file that stands beside the pages."""
    return digest(code, file.path, file.text)


def chart_key(chart: AnyChart, code: str) -> str:
    """Return the key of a chart."""
    shown = canonical([chart.alt, chart.width, chart.height, chart.data])
    return digest(code, chart.path, shown)
