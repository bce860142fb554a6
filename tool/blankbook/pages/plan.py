"""The pages of the site, as plain data: what the build asks for. A further page joins here."""

from blankbook.pages.blank_page import blank_page
from blankbook.pages.changes_page import changes_page
from blankbook.pages.client_pages import client_pages, public_guide
from blankbook.pages.compare import compare_page
from blankbook.pages.earlier_page import earlier_pages
from blankbook.pages.fixed_pages import fixed_pages
from blankbook.pages.list_pages import (
    catalogue_page,
    catalogue_row,
    supplier_page,
    suppliers_page,
)
from blankbook.pages.measuring_page import measuring_page
from blankbook.pages.over_time_page import over_time_page
from blankbook.pages.sheet_page import sheet_page
from blankbook.pages.table_page import table_pages

__all__ = [
    "blank_page",
    "catalogue_page",
    "catalogue_row",
    "changes_page",
    "client_pages",
    "compare_page",
    "earlier_pages",
    "fixed_pages",
    "measuring_page",
    "over_time_page",
    "public_guide",
    "sheet_page",
    "supplier_page",
    "suppliers_page",
    "table_pages",
]
