"""The pages that list blanks: the catalogue, the suppliers, and one supplier."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blankbook.pages.orders.order_rows import OrderRow
from blankbook.pages.orders.order_sums import SumRow, sum_of, through
from blankbook.pages.orders.orders_page import open_orders
from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.page_types import AnswerCount, FactLine, facts_of
from blankbook.pages.record_sources import RecordSource
from blankbook.pages.shop.blank_row import BlankRow, ListedBlank
from blankbook.pages.shop.changes_page import ChangesContext
from blankbook.pages.shop.search_words import words_script
from blankbook.pages.shop.supplier_deliveries import (
    SupplierDeliveries,
    deliveries_summary,
    supplier_deliveries,
)
from blankbook.pages.shop.supplier_lots import SupplierLots, supplier_lots
from blankbook.pages.site_paths import ORDERS, supplier_path
from blankbook.pages.value_words import DASH, sign_of
from blankbook.records.model import Shop, Supplier
from blankbook.results.number_words import say_counted
from blankbook.words.answers import MayOrder
from blankbook.words.garment_terms import SHIPPING_WAYS

SEARCH_FILE = "data/words.js"
"""Everything written about each blank. The catalogue loads it only when somebody searches."""


@dataclass(frozen=True, slots=True)
class ChangesLink:
    """What leads to the page of what changed lately."""

    path: str
    feed: str
    newest: str
    """The day of the newest change."""


@dataclass(frozen=True, slots=True)
class CatalogueContext:
    """All that the front page shows."""

    up: str
    note: str
    currency: str
    rows: tuple[ListedBlank, ...]
    counts: tuple[AnswerCount, ...]
    words: str
    """Where the words are that the search looks in."""
    changed: ChangesLink | None
    orders: tuple[OrderRow, ...]
    """Those that are open, what is due first comes first."""
    all_orders: str
    """The way to the list of orders; empty where there are none."""


@dataclass(frozen=True, slots=True)
class SupplierContext:
    """All that the page of one supplier shows."""

    up: str
    name: str
    source: RecordSource
    website: str
    facts: tuple[FactLine, ...]
    note: str
    rows: tuple[ListedBlank, ...]
    moves: SupplierLots | None
    deliveries: SupplierDeliveries
    orders: SumRow | None
    """What the orders of its blanks came to; None where none is through."""
    currency: str


@dataclass(frozen=True, slots=True)
class SupplierLine:
    """One supplier in the list."""

    name: str
    path: str
    blanks: int
    orderable: int
    lead: str
    deliveries: str
    terms: str


@dataclass(frozen=True, slots=True)
class SuppliersContext:
    """All that the list of suppliers shows."""

    up: str
    shop: str
    rows: tuple[SupplierLine, ...]


def catalogue_page(
    rows: Sequence[BlankRow], shop: Shop, changed: PageSpec[ChangesContext] | None = None
) -> PageSpec[CatalogueContext]:
    """Return the front page: every blank that was vetted, and a link to the page *changed*."""
    listed = sorted((r.listed for r in rows), key=lambda line: (line.rank, line.key))
    counts = (
        AnswerCount(sign_of(kind), sum(line.standing.word == kind for line in listed))
        for kind in MayOrder
    )
    orders = [order for row in rows for order in row.orders]
    context = CatalogueContext(
        up="",
        note=shop.note,
        currency=shop.currency,
        rows=tuple(listed),
        counts=tuple(count for count in counts if count.count),
        words=SEARCH_FILE,
        changed=_changes_link(changed) if changed else None,
        orders=open_orders(orders),
        all_orders=ORDERS if orders else "",
    )
    return PageSpec(
        "index.html",
        "Catalogue",
        "shop/catalogue.html.j2",
        context,
        files=(FileSpec(SEARCH_FILE, words_script({row.listed.key: row.words for row in rows})),),
        feed=changed.feed if changed else "",
    )


def _changes_link(changed: PageSpec[ChangesContext]) -> ChangesLink:
    return ChangesLink(path=changed.path, feed=changed.feed, newest=changed.context.newest)


def supplier_page(
    supplier: Supplier, rows: Sequence[BlankRow], shop: Shop
) -> PageSpec[SupplierContext]:
    """Return the page of one supplier, with the rows of its blanks."""
    days = supplier.lead_time_days
    facts = [
        ("contact", supplier.contact),
        ("terms", supplier.terms),
        ("lead time", "" if days is None else say_counted(days, "day")),
        ("delivery", SHIPPING_WAYS.get(supplier.sends, "")),
        ("smallest order", supplier.minimum),
        ("since", supplier.since.isoformat() if supplier.since else ""),
    ]
    own = sorted((r for r in rows if r.supplier == supplier.key), key=lambda row: row.listed.key)
    closed = through([order for row in rows for order in row.orders])
    ordered = [order for order in closed if order.supplier_key == supplier.key]
    place = supplier_path(supplier.key)
    context = SupplierContext(
        up="../",
        name=supplier.name,
        source=RecordSource(supplier.source.path),
        website=supplier.website,
        facts=facts_of(facts),
        note=supplier.note,
        rows=tuple(row.listed for row in own),
        moves=supplier_lots(own),
        deliveries=supplier_deliveries(own, shop),
        orders=sum_of(ordered, closed, supplier.name, place) if ordered else None,
        currency=shop.currency,
    )
    return PageSpec(
        place,
        supplier.name,
        "shop/supplier.html.j2",
        context,
        sources=(context.source,),
    )


def suppliers_page(
    suppliers: Mapping[str, Supplier], rows: Sequence[BlankRow], shop: Shop
) -> PageSpec[SuppliersContext]:
    """Return the list of suppliers."""
    lines = (_supplier_line(suppliers[key], rows) for key in sorted(suppliers))
    context = SuppliersContext(up="", shop=shop.name, rows=tuple(lines))
    return PageSpec("suppliers.html", "Suppliers", "shop/suppliers.html.j2", context)


def _supplier_line(supplier: Supplier, rows: Sequence[BlankRow]) -> SupplierLine:
    own = [row for row in rows if row.supplier == supplier.key]
    days = supplier.lead_time_days
    return SupplierLine(
        name=supplier.name,
        path=supplier_path(supplier.key),
        blanks=len(own),
        orderable=sum(bool(row.listed.orderable) for row in own),
        lead=DASH if days is None else str(days),
        deliveries=deliveries_summary(own),
        terms=supplier.terms,
    )
