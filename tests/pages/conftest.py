"""The pages of the demo shop, as specs and as HTML."""

from pathlib import Path
from typing import Any

import pytest

from blankbook.pages import plan
from blankbook.pages.render import render_body
from blankbook.pages.spec import PageSpec
from blankbook.records.load import load_ledger
from blankbook.records.model import Ledger, Shop
from blankbook.results.frame import Judged
from blankbook.results.judge import judge
from blankbook.results.learning.learned import contribute, learn, learned_of
from markup import Markup


@pytest.fixture(scope="session")
def judged_demo(demo_ledger: Path) -> list[Judged]:
    """Return every blank of the demo shop, judged."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    taught = learn(_contributions(ledger), ledger.shop, ledger.studies)
    return [
        judge(blank, ledger.shop, learned_of(taught[key])) for key, blank in ledger.blanks.items()
    ]


@pytest.fixture(scope="session")
def demo_pages(demo_ledger: Path, judged_demo: list[Judged]) -> list[PageSpec]:
    """Return every page of the demo shop's site."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    shop = ledger.shop
    over_time = [plan.over_time_page(judged, shop) for judged in judged_demo]
    rows = [plan.catalogue_row(*both) for both in zip(judged_demo, over_time, strict=True)]
    return [
        *(plan.blank_page(judged, shop) for judged in judged_demo),
        *(page for judged in judged_demo for page in plan.earlier_pages(judged, shop)),
        *(page for page in over_time if page),
        *(plan.supplier_page(one, rows, shop) for one in ledger.suppliers.values()),
        plan.catalogue_page(rows, shop),
        plan.suppliers_page(ledger.suppliers, rows, shop),
        plan.compare_page(shop),
        plan.measuring_page(shop, ledger.studies, _contributions(ledger)),
        *plan.fixed_pages(shop),
        *plan.client_pages(rows),
        *(plan.sheet_page(judged.blank, shop) for judged in judged_demo),
        *(page for judged in judged_demo for page in _tables(demo_ledger, judged, shop)),
    ]


def _tables(root: Path, judged: Judged, shop: Shop) -> list[PageSpec]:
    paths = [one.source.path for one in judged.blank.planned]
    return plan.table_pages(
        judged.blank, shop, {path: (root / path).read_bytes() for path in paths}
    )


def _contributions(ledger: Ledger) -> dict[str, Any]:
    return {key: contribute(one, ledger.shop) for key, one in ledger.blanks.items()}


@pytest.fixture(scope="session")
def demo_markup(demo_pages: list[PageSpec]) -> dict[str, Markup]:
    """Return every page of the demo shop's site, taken apart."""
    return {page.path: Markup(render_body(page)) for page in demo_pages}
