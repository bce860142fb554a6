"""Where a size chart comes from: its document, date and page, and what of that is missing."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from blankbook.records.model import Chart
from blankbook.text.findings import visible

_NO_SOURCE = re.compile(
    r"[\W_]*|(x+|n/?a|none|unknown|unclear|tbd|todo|no source|source)\W*", re.IGNORECASE
)
_MONTHS = "january february march april may june july august september october november december"
_MONTH = "|".join(f"{name}|{name[:3]}" for name in _MONTHS.split())
_YEAR = r"(?:19|20)[0-9]{2}"
_DATE = re.compile(
    rf"(?i)\b{_YEAR}-[01]?[0-9](?:-[0-3]?[0-9])?\b"
    rf"|\b[0-3]?[0-9][./ ](?:[01]?[0-9]|{_MONTH})[./ ]{_YEAR}\b"
    rf"|\b(?:{_MONTH})\.? (?:[0-3]?[0-9], )?{_YEAR}\b"
    rf"|\b(?:spring|summer|autumn|fall|winter) {_YEAR}\b|\b{_YEAR}\b",
)
_PAGE = re.compile(
    r"\b(?:pages?|pp?\.|sheet|tab|slide|table) ?[0-9]+(?: ?- ?[0-9]+)?\b", re.IGNORECASE
)
_NO_PAGES = re.compile(
    r"\b(?:web|page of|site|mail|e-mail|letter|phone|call|label|tag)\b", re.IGNORECASE
)
_SAME_AS_BEFORE = "no source given for the new chart: it names that of the chart before it"
_STALE = "no source given for what moved: the source is that of the chart as it was"


@dataclass(frozen=True, slots=True)
class ChartSource:
    """What a chart says of where it comes from."""

    source: str
    """As it was written."""
    dated: str
    """The date that the source names; empty without one."""
    page: str
    """The page or sheet that the source names; empty without one."""
    missing: tuple[str, ...]
    """What is missing of it, in words."""


def chart_source(chart: Chart, before: Chart, *, in_place: bool) -> ChartSource:
    """Return where a chart comes from; *before* is the chart that it replaces.

    A source that stays as it was although the numbers moved is no source: it is that of the old
    numbers.
    """
    source = " ".join(chart.origin.split())
    dated, page = _first_match(_DATE, source), _first_match(_PAGE, source)
    if _NO_SOURCE.fullmatch(source):
        return ChartSource(source, dated, page, ("no source given for the new chart",))
    missing = []
    if source == " ".join(before.origin.split()):
        missing.append(_STALE if in_place else _SAME_AS_BEFORE)
    if not dated:
        missing.append("the source names no date")
    if not page and not _NO_PAGES.search(source):
        missing.append("the source names no page")
    return ChartSource(source, dated, page, tuple(missing))


def _first_match(pattern: re.Pattern[str], text: str) -> str:
    found = pattern.search(text)
    return found[0] if found else ""


def charts_without_source(tree: Any) -> Iterator[str]:
    """Yield the days of the charts in a style's file that have no source at all.

    Such a file has a fault and gives no record, so *tree* is its plain values.
    """
    charts = tree.get("charts") if isinstance(tree, dict) else None
    for chart in charts if isinstance(charts, list) else ():
        if isinstance(chart, dict) and not str(chart.get("source") or "").strip():
            yield visible(str(chart.get("since", "a day that is not given")), 40)
