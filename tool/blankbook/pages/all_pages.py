"""The functions that return the pages of the site: what the build calls. A new page joins here."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from blankbook.pages.blank.blank_page import blank_page
from blankbook.pages.blank.earlier_page import earlier_pages
from blankbook.pages.clients.client_pages import client_pages, public_guide
from blankbook.pages.handbook.handbook_pages import handbook_pages
from blankbook.pages.orders.order_page import order_pages
from blankbook.pages.orders.orders_page import orders_page
from blankbook.pages.over_time.over_time_page import over_time_page
from blankbook.pages.page_spec import AnyPage
from blankbook.pages.shop.blank_row import BlankRow, blank_row
from blankbook.pages.shop.changes_page import changes_page
from blankbook.pages.shop.compare_pages import compare_page
from blankbook.pages.shop.fixed_pages import fixed_pages
from blankbook.pages.shop.list_pages import catalogue_page, supplier_page, suppliers_page
from blankbook.pages.shop.measuring_page import measuring_page
from blankbook.pages.table.phone_page import delivery_pages, table_pages
from blankbook.pages.table.print_sheet import sheet_page
from blankbook.records.model import Shop, Study, Supplier

if TYPE_CHECKING:
    from blankbook.history.review.recent_commits import RecentChanges

__all__ = [
    "blank_page",
    "blank_row",
    "catalogue_page",
    "client_pages",
    "delivery_pages",
    "earlier_pages",
    "fixed_pages",
    "order_pages",
    "over_time_page",
    "public_guide",
    "sheet_page",
    "shop_pages",
    "supplier_page",
    "suppliers_page",
    "table_pages",
]


def shop_pages(
    shop: Shop,
    suppliers: Mapping[str, Supplier],
    studies: Sequence[Study],
    rows: Sequence[BlankRow],
    contributions: Mapping[str, Any],
    changes: "RecentChanges | None" = None,
    *,
    rule_pages: bool = True,
) -> list[AnyPage]:
    """Return the pages about the whole shop, for which a row of each blank is enough.

    *contributions* are what each blank gives to what the ledger learns, *changes* the last commits.
    Without *rule_pages*, those are left out that follow from the shop's rules alone.
    """
    orders = [order for row in rows for order in row.orders]
    recent = changes_page(changes, rows, suppliers, shop) if changes else None
    return [
        catalogue_page(rows, shop, recent),
        *([recent] if recent else ()),
        *([orders_page(orders, shop.currency)] if orders else ()),
        suppliers_page(suppliers, rows, shop),
        *(supplier_page(supplier, rows, shop) for _, supplier in sorted(suppliers.items())),
        measuring_page(shop, studies, contributions),
        compare_page(shop),
        *client_pages({row.listed.key: row.client for row in rows if row.client}),
        *(fixed_pages(shop) if rule_pages else ()),
        *handbook_pages(),
    ]
