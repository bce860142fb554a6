"""The keys of what a build makes: with the same key, the same bytes come out."""

import json
from collections.abc import Mapping
from typing import Any

from blankbook.build.file_stamps import digest
from blankbook.build.frozen_json import as_list
from blankbook.pages.page_spec import AnyChart, AnyPage, FileSpec
from blankbook.pages.record_sources import RecordCommit


def canonical_json(data: Any) -> str:
    """Return the text of data that its hash is made from: JSON, also of frozen values in it."""
    return json.dumps(data, sort_keys=True, ensure_ascii=False, allow_nan=False, default=as_list)


def page_key(page: AnyPage, commits: Mapping[str, RecordCommit], code: str, frame: str) -> str:
    """Return the key of a page.

    *commits* are those of its sources, by path; *frame* is what surrounds it.
    """
    shown = canonical_json(
        [page.template, page.title, page.feed, page.markdown, page.context, commits]
    )
    return digest(code, frame, page.path, shown)


def file_key(file: FileSpec, code: str) -> str:
    """Return the key of a file that stands beside the pages."""
    return digest(code, file.path, file.text)


def chart_key(chart: AnyChart, code: str) -> str:
    """Return the key of a chart."""
    shown = canonical_json([chart.alt, chart.width, chart.height, chart.data])
    return digest(code, chart.path, shown)
