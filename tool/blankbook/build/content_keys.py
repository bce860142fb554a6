"""The keys of what is made: the same key, the same bytes."""

import json
from typing import Any

from blankbook.build.file_stamps import digest
from blankbook.pages.page_spec import ChartSpec, FileSpec, PageSpec


def canonical(data: Any) -> str:
    """Return the one text of JSON-able data that its hash is made from."""
    return json.dumps(data, sort_keys=True, ensure_ascii=False, allow_nan=False)


def page_key(page: PageSpec, code: str, frame: str) -> str:
    """Return the key of a page: the same key, the same bytes. *frame* is what surrounds it."""
    shown = canonical([page.template, page.title, page.feed, page.context])
    return digest(code, frame, page.path, shown)


def file_key(file: FileSpec, code: str) -> str:
    """Return the key of a file that stands beside the pages."""
    return digest(code, file.path, file.text)


def chart_key(chart: ChartSpec, code: str) -> str:
    """Return the key of a chart."""
    shown = canonical([chart.kind, chart.alt, chart.width, chart.height, chart.data])
    return digest(code, chart.path, shown)
