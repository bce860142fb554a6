"""The charts of the demo shop, and of blanks that tests write down."""

from pathlib import Path

import pytest

from blankbook.pages.blank.blank_page import blank_page
from blankbook.pages.charts import all_charts
from blankbook.pages.clients.client_pages import client_pages
from blankbook.pages.clients.client_rows import client_chart
from blankbook.pages.over_time.over_time_page import over_time_page
from blankbook.pages.page_spec import AnyChart
from blankbook.pages.shop.method_page import method_page
from blankbook.records.load_ledger import load_ledger
from blankbook.results.judge_blank import judge
from blankbook.results.result_types import Judged
from blankbook.words.points import POINTS
from made_blanks import shop


def charts_of(judged: Judged) -> list[AnyChart]:
    """Return every chart that one blank has on its page."""
    return [*blank_page(judged, judged.case.shop).charts]


def over_time_charts(judged: Judged) -> list[AnyChart]:
    """Return the charts of a blank over time, its strip last."""
    page = over_time_page(judged, judged.case.shop)
    return [*page.charts] if page else []


@pytest.fixture(scope="session")
def demo(demo_ledger: Path) -> dict[str, Judged]:
    """Return every blank of the demo shop, judged."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    return {key: judge(blank, ledger.shop) for key, blank in ledger.blanks.items()}


@pytest.fixture(scope="session")
def demo_charts(demo: dict[str, Judged]) -> list[AnyChart]:
    """Return every chart of the demo shop's site."""
    found = [spec for judged in demo.values() for spec in charts_of(judged)]
    found += [spec for judged in demo.values() for spec in over_time_charts(judged)]
    clients = {key: chart for key, judged in demo.items() if (chart := client_chart(judged))}
    found += [spec for page in client_pages(clients) for spec in page.charts]
    found += method_page(shop()).charts
    return [*found, *(all_charts.guide_chart(point) for point in POINTS)]
