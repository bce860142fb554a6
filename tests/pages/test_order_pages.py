"""The pages of orders: for the shop alone, open ones first, sums that add up."""

from dataclasses import replace
from decimal import Decimal

import pytest

from blankbook.pages.blank.blank_page import BlankContext
from blankbook.pages.orders.order_page import OrderContext
from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.orders.orders_page import OrdersContext, open_orders, orders_page
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.shop.list_pages import SupplierContext
from blankbook.results.ordering.order_results import CLASSES, StatedRisk, calibration
from markup import Markup


def row(key: str, **changes: object) -> OrderRow:
    """Return an order of a list; what is not said is nothing."""
    usual: dict[str, object] = {
        "path": f"orders/a/b/{key}.html", "key": key, "style": "a/b", "blank": "B", "supplier": "A",
        "client": "the choir", "day": key[:10], "is_open": False, "then": "done", "by": "",
        "pieces": 100, "spoiled": 2, "short": 0, "came_back": 4, "said_back": 0.05,
        "wrong": "48.10", "earned": "300.00", "currency": "USD",
    }  # fmt: skip
    return OrderRow(**{**usual, **changes})  # type: ignore[arg-type]


def orders_of(pages: list[AnyPage]) -> list[OrderContext]:
    """Return what the pages of single orders show."""
    return [page.context for page in pages if isinstance(page.context, OrderContext)]


def test_the_front_page_leads_to_the_open_order(
    demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """And to the list of all, which has the open one first with what to do and by when."""
    links = {link.get("href") for link in demo_markup["index.html"].all("a")}
    (listed,) = [page.context for page in demo_pages if isinstance(page.context, OrdersContext)]

    assert "orders.html" in links
    assert [row.key for row in listed.open] == ["2026-11-24-winter-market-order"]
    assert {row.path for row in listed.open} <= links
    assert listed.open[0].by == "2026-12-07"
    assert len(listed.closed) >= 3
    assert [row.day for row in listed.closed] == sorted(
        (r.day for r in listed.closed), reverse=True
    )


def test_parts_of_the_risk_add_up_on_the_page(demo_pages: list[AnyPage]) -> None:
    """To the cent; and each leads to a check of the blank's page."""
    every = orders_of(demo_pages)
    for order in every:
        assert sum(Decimal(risk.cost) for risk in order.risks) == Decimal(order.risk_total)
        assert all("#" in risk.link and risk.finding for risk in order.risks)

    assert len(every) >= 4


def test_each_finding_is_there(demo_pages: list[AnyPage], demo_markup: dict[str, Markup]) -> None:
    """The part of the blank's page that a risk leads to exists."""
    for order in orders_of(demo_pages):
        for risk in order.risks:
            path, _, anchor = risk.link.partition("#")
            assert demo_markup[path].by_id(anchor), risk


def test_what_is_due_first_comes_first() -> None:
    """An open order without a day comes last."""
    rows = [
        row("2026-01-01-a-order", is_open=True),
        row("2026-01-02-b-order", is_open=True, by="2026-03-01"),
        row("2026-01-03-c-order", is_open=True, by="2026-02-01"),
        row("2026-01-04-d-order"),
    ]

    assert [order.key[11] for order in open_orders(rows)] == ["c", "b", "a"]


def test_what_was_said_is_held_against_what_came() -> None:
    """Said 5 in 100, was 4 of 100; in one line until there are ten orders, then by class."""
    few = calibration([StatedRisk(0.05, 90, 4)])
    many = calibration([StatedRisk(0.02, 100, 1)] * 6 + [StatedRisk(0.2, 50, 12)] * 6)

    assert [(f.orders, round(f.said, 2), f.was) for f in few] == [(1, 4.5, 4)]
    assert [(f.orders, round(f.said), f.was) for f in many] == [(6, 12, 6), (6, 60, 72)]
    assert CLASSES[0][0] == 0.0
    assert CLASSES[-1][1] == 1.0


def test_each_supplier_has_its_share() -> None:
    """Of all that came back or was short, whose blanks it was."""
    rows = [
        row("2026-01-01-a-order"),
        row("2026-01-02-b-order", style="z/b", supplier="Z", came_back=12),
    ]
    context = orders_page(rows, "USD").context

    assert [(sums.name, sums.share) for sums in context.suppliers] == [("A", "25 %"), ("Z", "75 %")]
    assert context.blanks[0].earned == "300.00"
    assert context.held[0].said == "5.0 in 100"
    assert context.held[0].was == "16 of 200 shirts"


def test_blanks_of_one_name_have_sums_of_their_own() -> None:
    """A sum is of a blank of a supplier, whatever it is called; a price not stated is said."""
    rows = [
        row("2026-01-01-a-order"),
        row("2026-01-02-b-order", style="z/b", supplier="Z", earned=""),
        row("2026-01-03-c-order", style="z/b", supplier="Z", earned="20.00"),
    ]
    context = orders_page(rows, "USD").context

    assert [(sums.path, sums.orders) for sums in context.blanks] == [
        ("blanks/a/b.html", 1),
        ("blanks/z/b.html", 2),
    ]
    assert context.blanks[1].earned == "20.00 (1 of 2 orders)"


def test_each_blank_shows_what_its_orders_came_to(
    demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """What it earned, spoiled and cost in returns, as on the list of all; open ones beside."""
    (listed,) = [page.context for page in demo_pages if isinstance(page.context, OrdersContext)]
    blanks = {p.path: p.context for p in demo_pages if isinstance(p.context, BlankContext)}

    assert len(listed.blanks) >= 2
    for sums in listed.blanks:
        own = blanks[sums.path]
        assert replace(own.came_to, share=sums.share) == sums
        assert sum(Decimal(row.earned or 0) for row in own.orders) == Decimal(
            own.came_to.earned.partition(" ")[0]
        )
        text = demo_markup[sums.path].by_id("orders")
        assert text
        assert own.came_to.wrong in demo_markup[sums.path].text
    assert sum(len(own.orders) for own in blanks.values()) == len(listed.closed)
    assert sum(len(own.open) for own in blanks.values()) == len(listed.open)


def test_each_supplier_s_page_has_its_share(
    demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """The shares of all suppliers are all that went wrong."""
    (listed,) = [page.context for page in demo_pages if isinstance(page.context, OrdersContext)]
    suppliers = {p.path: p.context for p in demo_pages if isinstance(p.context, SupplierContext)}

    for sums in listed.suppliers:
        assert suppliers[sums.path].orders == sums
        assert f"{sums.share} was of its blanks" in demo_markup[sums.path].text
    assert sum(bool(own.orders) for own in suppliers.values()) == len(listed.suppliers)
    whole = sum(row.came_back + row.short for row in listed.closed)
    assert sum(sums.went_wrong for sums in listed.suppliers) == whole


@pytest.mark.parametrize(
    "word",
    ["winter market", "harbour festival", "swimming club", "came back", "earned", "spoiled"],
)
def test_clients_see_nothing_of_it(
    word: str, demo_pages: list[AnyPage], demo_markup: dict[str, Markup]
) -> None:
    """No page that is made for clients names an order, or leads to one."""
    own = [page.path for page in demo_pages if page.path.startswith(("clients", "sizes/"))]

    assert own
    for path in own:
        text = demo_markup[path].text
        assert word not in text
        assert not [a for a in demo_markup[path].all("a") if "order" in (a.get("href") or "")]
