"""The functions that return the pages of the site: what the build calls. A new page joins here."""

from blankbook.pages.blank.blank_page import blank_page
from blankbook.pages.blank.earlier_page import earlier_pages
from blankbook.pages.blank.over_time_page import over_time_page
from blankbook.pages.clients.client_pages import client_pages, public_guide
from blankbook.pages.handbook.handbook_pages import handbook_pages
from blankbook.pages.orders.order_page import order_pages
from blankbook.pages.orders.orders_page import orders_page
from blankbook.pages.shop.blank_row import blank_row
from blankbook.pages.shop.changes_page import changes_page
from blankbook.pages.shop.compare_pages import compare_page
from blankbook.pages.shop.fixed_pages import fixed_pages
from blankbook.pages.shop.list_pages import catalogue_page, supplier_page, suppliers_page
from blankbook.pages.shop.measuring_page import measuring_page
from blankbook.pages.table.phone_page import table_pages
from blankbook.pages.table.print_sheet import sheet_page

__all__ = [
    "blank_page",
    "blank_row",
    "catalogue_page",
    "changes_page",
    "client_pages",
    "compare_page",
    "earlier_pages",
    "fixed_pages",
    "handbook_pages",
    "measuring_page",
    "order_pages",
    "orders_page",
    "over_time_page",
    "public_guide",
    "sheet_page",
    "supplier_page",
    "suppliers_page",
    "table_pages",
]
