"""The pages of the demo shop, as specs and as HTML."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from blankbook.build.make_files import PageBody
from blankbook.build.mkdocs_adapter import render_site
from blankbook.pages import all_pages
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import render_body
from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Ledger, Shop
from blankbook.results.judge_blank import judge
from blankbook.results.learning.ledger_learning import blank_contribution, learn, learned_from_data
from blankbook.results.result_types import Judged
from markup import Markup


@pytest.fixture(scope="session")
def judged_demo(demo_ledger: Path) -> list[Judged]:
    """Return every blank of the demo shop, judged."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    taught = learn(_contributions(ledger), ledger.shop, ledger.studies)
    return [
        judge(blank, ledger.shop, learned_from_data(taught[key]))
        for key, blank in ledger.blanks.items()
    ]


@pytest.fixture(scope="session")
def demo_pages(demo_ledger: Path, judged_demo: list[Judged]) -> list[AnyPage]:
    """Return every page of the demo shop's site."""
    ledger = load_ledger(demo_ledger).ledger
    assert ledger
    shop = ledger.shop
    over_time = [all_pages.over_time_page(judged, shop) for judged in judged_demo]
    ordered = [all_pages.order_pages(judged) for judged in judged_demo]
    rows = [
        all_pages.blank_row(judged, history, orders)
        for judged, history, (_, orders) in zip(judged_demo, over_time, ordered, strict=True)
    ]
    return [
        *(page for pages, _ in ordered for page in pages),
        *(
            all_pages.blank_page(judged, shop, orders=orders)
            for judged, (_, orders) in zip(judged_demo, ordered, strict=True)
        ),
        *(page for judged in judged_demo for page in all_pages.earlier_pages(judged, shop)),
        *(page for page in over_time if page),
        *all_pages.shop_pages(shop, ledger.suppliers, ledger.studies, rows, _contributions(ledger)),
        *(all_pages.sheet_page(judged.blank, shop) for judged in judged_demo),
        *(page for judged in judged_demo for page in _tables(demo_ledger, judged, shop)),
    ]


def _tables(root: Path, judged: Judged, shop: Shop) -> Sequence[AnyPage]:
    paths = [planned.source.path for planned in judged.blank.planned]
    return all_pages.table_pages(
        judged.blank, shop, {path: (root / path).read_bytes() for path in paths}
    )


def _contributions(ledger: Ledger) -> dict[str, Any]:
    return {key: blank_contribution(blank, ledger.shop) for key, blank in ledger.blanks.items()}


@pytest.fixture(scope="session")
def demo_markup(
    demo_pages: list[AnyPage], tmp_path_factory: pytest.TempPathFactory
) -> dict[str, Markup]:
    """Return every page of the demo shop's site, taken apart, the handbook as MkDocs made it."""
    bodies = {page.path: render_body(page) for page in demo_pages}
    written = [
        PageBody(page.path, page.title, bodies[page.path], markdown=page.markdown)
        for page in demo_pages
        if page.markdown
    ]
    site = tmp_path_factory.mktemp("handbook") / "site"
    render_site(written, "Shop", site)
    for page in written:
        whole = (site / page.path).read_text(encoding="utf-8")
        _, _, rest = whole.partition("<main ")
        bodies[page.path] = rest.partition(">")[2].partition("</main>")[0]
    return {path: Markup(body) for path, body in bodies.items()}
