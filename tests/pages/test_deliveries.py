"""Deliveries on the pages: the same counts, plans and answers as the results, and nothing lost."""

from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from blankbook.pages.blank.blank_page import blank_page
from blankbook.pages.blank.earlier_page import earlier_pages
from blankbook.pages.over_time.over_time_page import over_time_page
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.render import render_body
from blankbook.pages.shop.blank_row import BlankRow, blank_row
from blankbook.pages.shop.list_pages import supplier_page, suppliers_page
from blankbook.records.model import Ledger
from blankbook.records.model.shop_defaults import INSPECTION
from blankbook.results.checks.delivery import delivery_results
from blankbook.results.deliveries.plans_by_size import plans_by_size
from blankbook.results.methods.sampling_plans import single_plan
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.result_types import Judged
from made_deliveries import OTHER, delivery_file, judge_all, load_faultless, series_files
from support import LedgerMaker

N, T, R, S = Severity


@pytest.fixture(scope="module")
def shop_ledger(demo_ledger: Path) -> Ledger:
    """Return the demo shop's records."""
    return load_faultless(demo_ledger)


@pytest.fixture(scope="module")
def all_judged(demo_ledger: Path) -> dict[str, Judged]:
    """Return the demo shop's blanks, judged by what the whole ledger teaches."""
    return judge_all(demo_ledger)


def row_of(judged: Judged) -> BlankRow:
    """Return what the lists show of a blank."""
    return blank_row(judged, over_time_page(judged, judged.case.shop))


def words(html: str) -> str:
    """Return the text of a page with single spaces between its words."""
    import re

    return " ".join(re.sub(r"<[^>]*>", " ", html).replace("\xa0", " ").split())


def both_pages(judged: Judged, ledger: Ledger) -> str:
    """Return a blank's page with the page of what was before the newest behind it."""
    pages: list[AnyPage] = [blank_page(judged, ledger.shop)]
    pages += earlier_pages(judged, ledger.shop)
    return "".join(render_body(page) for page in pages)


@pytest.mark.parametrize("severity", [N, T, R])
@pytest.mark.parametrize("level", ["S-2", "I", "II", "III"])
def test_plans_by_size_are_the_plans(severity: Severity, level: str) -> None:
    """Each range holds the plan of every size in it, and no size is left out or there twice."""
    rules = type(INSPECTION)(level, 2.5, "never")
    ranges = plans_by_size(rules, severity)
    assert ranges[0].least == 2
    assert [plan.least for plan in ranges[1:]] == [plan.most + 1 for plan in ranges[:-1]]
    for row in ranges:
        for size in {row.least, (row.least + row.most) // 2, row.most}:
            plan = single_plan(size, level, 2.5, severity)
            assert plan.sample_size == min(row.pieces, size)
            assert (plan.accept, plan.reject) == (row.accept, row.reject)


@pytest.mark.parametrize("key", ["dabchick/d42", "dabchick/d62", "tarn-thrush/h6"])
def test_a_blank_shows_every_delivery(
    key: str, all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """Its counts and its source stand there: the newest on the page, the others one further."""
    html = both_pages(all_judged[key], shop_ledger)
    judged = all_judged[key]
    places = []
    for each in delivery_results(judged.case):
        assert f"{each.inspection.bad} bad of {each.inspection.inspected} looked at" in words(html)
        assert each.delivery.source.path in html
        places.append(html.index(f"<code>{each.delivery.source.path}"))
    assert places == sorted(places, reverse=True)


def test_an_earlier_delivery_is_one_link_away(
    all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """The page names it with its outcome, and leads to the place where all of it stands."""
    for key in ("dabchick/d42", "dabchick/d62", "tarn-thrush/h6"):
        html = render_body(blank_page(all_judged[key], shop_ledger.shop))
        (earlier,) = earlier_pages(all_judged[key], shop_ledger.shop)
        whole = render_body(earlier)
        for each in delivery_results(all_judged[key].case)[:-1]:
            place = f"delivery-{each.delivery.key}"
            assert f'href="{key.partition("/")[2]}/earlier.html#{place}"' in html
            assert f'id="{place}"' in whole
            assert f"{each.inspection.bad} bad of {each.inspection.inspected} looked at" in words(
                html
            )


def test_a_decision_against_the_plan_stands_beside_it(
    all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """D42: kept against the plan, with the reason; the plan's answer is still there."""
    told = words(both_pages(all_judged["dabchick/d42"], shop_ledger))
    assert "■ rejected 2 bad of 20 looked at, and from 2 on it is rejected" in told
    assert "Against the plan. One open seam and one L that is nearly an inch short." in told


def test_faults_by_eye_and_by_tape_add_up(
    all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """D62: a piece that is bad by its tag and by the tape is said to be counted above."""
    (page,) = earlier_pages(all_judged["dabchick/d62"], shop_ledger.shop)
    (crew,) = [row for row in page.context.deliveries.rows if "crew" in row.name]
    counts = [fault.count for fault in crew.faults]
    assert sum(int(count) for count in counts if count.isdigit()) == 3
    assert counts.count("counted above") == 2


def test_a_supplier_lists_the_deliveries_of_all_its_blanks(
    all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    """In the order of their days, with how strictly each was inspected and what follows."""
    rows = [row_of(judged) for judged in all_judged.values()]
    supplier = shop_ledger.suppliers["dabchick"]
    page = supplier_page(supplier, rows, shop_ledger.shop)
    listed = page.context.deliveries.rows
    assert [(row.day, row.severity, row.answer.word) for row in listed] == [
        ("2026-10-13", "tightened", "accepted"),
        ("2026-08-11", "normal", "rejected"),
        ("2026-07-14", "normal", "accepted"),
        ("2026-06-30", "normal", "rejected"),
        ("2026-05-26", "normal", "accepted"),
    ]
    told = words(render_body(page))
    assert "The next one is inspected on tightened inspection." in told
    assert "5 inspected: ● accepted 3, ■ rejected 2, ◐ not shown 0." in told
    short = words(render_body(suppliers_page(shop_ledger.suppliers, rows, shop_ledger.shop)))
    assert "3 of 5 accepted; next tightened" in short


def test_a_supplier_without_deliveries_says_so(
    all_judged: dict[str, Judged], shop_ledger: Ledger
) -> None:
    rows = [row_of(judged) for judged in all_judged.values()]
    page = supplier_page(shop_ledger.suppliers["osierbank"], rows, shop_ledger.shop)
    told = words(render_body(page))
    assert "None was inspected yet." in told
    assert "inspected on normal inspection" in told


def test_rejections_of_one_style_reach_the_page_of_another(ledger_factory: LedgerMaker) -> None:
    """A second rejection makes the plan of the supplier's other style tightened, in a new build."""
    root = ledger_factory(
        {**series_files("ar"), **delivery_file("2024-03-09", folder=OTHER, word="z")}
    )
    build_site(root, root / "catalogue")
    page = root / "catalogue/blanks/tarn-thrush/l4.html"
    assert "(normal inspection)" in words(page.read_text(encoding="utf-8"))
    path, text = next(iter(delivery_file("2024-03-05", inspected=32, bad=5).items()))
    (root / path).write_text(text, encoding="utf-8")
    build_site(root, root / "catalogue")
    told = words(page.read_text(encoding="utf-8"))
    assert "Of 144 pieces look at 32; up to 1 bad is accepted, 2 is rejected (tightened" in told


def test_stopped_acceptance_is_said_on_both_pages(ledger_factory: LedgerMaker) -> None:
    """Five rejected on tightened inspection: nothing is accepted until a repair."""
    root = ledger_factory(series_files("r" * 7))
    found = judge_all(root)
    shop = load_faultless(root).shop
    told = words(render_body(blank_page(found["tarn-thrush/h6"], shop)))
    assert "None is accepted until the supplier has put the cause right" in told
    rows = [row_of(judged) for judged in found.values()]
    supplier = found["tarn-thrush/h6"].blank.supplier
    page = words(render_body(supplier_page(supplier, rows, shop)))
    assert "Acceptance is stopped until the supplier has put the cause right" in page
