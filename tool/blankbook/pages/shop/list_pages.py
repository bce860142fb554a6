"""The pages that list: the catalogue, the suppliers, and one supplier. They need only rows."""

from collections.abc import Mapping, Sequence
from typing import Any

from blankbook.pages.blank.blank_page import against_advice, chart_context
from blankbook.pages.blank.delivery_tables import delivery_rows
from blankbook.pages.blank.lots_table import lots_table
from blankbook.pages.blank.over_time_page import over_time_link
from blankbook.pages.clients.client_rows import client_row
from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.record_sources import source_of
from blankbook.pages.shop.search_words import uses_of, words_of, words_script
from blankbook.pages.shop.supplier_deliveries import deliveries_summary, supplier_deliveries
from blankbook.pages.site_paths import blank_path, supplier_path, table_path
from blankbook.pages.value_words import DASH, sign_of
from blankbook.records.model import Shop, Supplier
from blankbook.results.checks.delivery import series_for
from blankbook.results.checks.fabric import OUNCE
from blankbook.results.evidence import measured_sizes
from blankbook.results.json_results import newest_decision
from blankbook.results.number_words import say_counted
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged
from blankbook.words.garment_terms import SHIPPING_WAYS

Row = dict[str, Any]

SEARCH_FILE = "data/words.js"
"""Everything written about each blank, for the search; loaded when somebody searches."""


def catalogue_row(judged: Judged, history: PageSpec | None) -> Row:
    """Return all that the catalogue and a supplier's page need of one blank.

    *history* is its page over time, where the site has one.
    """
    from blankbook.pages.charts import all_charts

    style = judged.blank.style
    small = all_charts.sizes_small_chart(judged)
    made = newest_decision(judged)
    fabric = next(iter(judged.of("fabric")), None)
    found = fabric.number(Quantity.MASS) if fabric else None
    follows = series_for(judged.case)
    newest = judged.blank.rounds[-1] if judged.blank.rounds else None
    return {
        "key": style.key,
        "path": blank_path(style.key),
        "name": style.name,
        "supplier": judged.blank.supplier.key,
        "supplier_name": judged.blank.supplier.name,
        "advice": sign_of(judged.verdict.advice),
        "headline": judged.verdict.headline,
        "decision": sign_of(made["decision"]) if made else None,
        "against": against_advice(judged),
        "drawing": chart_context(small) if small else None,
        "fabric": ", ".join(text for text in (style.fibre, style.knit) if text),
        "mass": round((found.value if found else style.mass) or 0, 1) or None,
        "colours": list(style.colours),
        "uses": uses_of(judged),
        "words": words_of(judged),
        "lots": lots_table(judged, judged.case.shop.unit),
        "over_time": over_time_link(history) if history else None,
        "claimed": _both(style.mass),
        "found": _both(found.value if found else None),
        "sizes": list(style.sizes),
        "measured": list(measured_sizes(judged.case)),
        "orderable": list(judged.verdict.orderable),
        "along": _wash(judged, "body_length"),
        "across": _wash(judged, "half_chest"),
        "round": newest.date.isoformat() if newest else "",
        "planned": [
            {"day": planned.planned.isoformat(), "table": table_path(style.key, planned.key)}
            for planned in judged.blank.planned
        ],
        "price": f"{style.prices[-1].each:.2f}" if style.prices else "",
        "wearer": style.wearer,
        "deliveries": delivery_rows(judged),
        "then": str(follows.then),
        "why": follows.why,
        "client": client_row(judged),
    }


def _shown(row: Row) -> Row:
    """Return a row as a page shows it: the words are for the search alone."""
    return {key: value for key, value in row.items() if key not in _ELSEWHERE}


_ELSEWHERE = {"words", "lots", "client", "over_time"}
"""What a line of a list does not show."""


def _both(mass: float | None) -> str:
    return f"{mass:.0f} ({mass / OUNCE:.1f})" if mass else DASH


def _wash(judged: Judged, point: str) -> str:
    """Return the change after the most washes at *point*."""
    tested = [r for r in judged.of("washing") if r.point == point and r.number(Quantity.CHANGE)]
    change = tested[-1].number(Quantity.CHANGE) if tested else None
    return f"{change.value:+.1f}" if change else DASH


def catalogue_page(rows: Sequence[Row], shop: Shop, changed: PageSpec | None = None) -> PageSpec:
    """Return the front page: every blank that was vetted, and the way to what *changed*."""
    order = {"approved": 0, "approved with conditions": 1, "hold": 2, "rejected": 3}
    ranked = sorted(rows, key=lambda row: (order[row["advice"]["word"]], row["key"]))
    counts = [
        {"sign": sign_of(word), "count": sum(row["advice"]["word"] == word for row in rows)}
        for word in order
    ]
    context: dict[str, Any] = {
        "up": "",
        "shop": shop.name,
        "note": shop.note,
        "currency": shop.currency,
        "rows": [_shown(row) for row in ranked],
        "counts": [count for count in counts if count["count"]],
        "words": SEARCH_FILE,
        "changed": _way_to(changed) if changed else None,
    }
    script = FileSpec(SEARCH_FILE, words_script(rows))
    return PageSpec(
        "index.html",
        "Catalogue",
        "shop/catalogue.html.j2",
        context,
        (),
        (script,),
        changed.feed if changed else "",
    )


def _way_to(changed: PageSpec) -> Row:
    """Return what leads to the page of what changed."""
    return {"path": changed.path, "feed": changed.feed, "newest": changed.context["newest"]}


def supplier_page(supplier: Supplier, rows: Sequence[Row], shop: Shop) -> PageSpec:
    """Return the page of one supplier, with the rows of its blanks."""
    since = supplier.since.isoformat() if supplier.since else ""
    days = supplier.lead_time_days
    facts = [
        ("contact", supplier.contact),
        ("terms", supplier.terms),
        ("lead time", "" if days is None else say_counted(days, "day")),
        ("delivery", SHIPPING_WAYS.get(supplier.sends, "")),
        ("smallest order", supplier.minimum),
        ("since", since),
    ]
    own = sorted((r for r in rows if r["supplier"] == supplier.key), key=lambda r: str(r["key"]))
    context: dict[str, Any] = {
        "up": "../",
        "name": supplier.name,
        "key": supplier.key,
        "source": source_of(supplier.source.path),
        "website": supplier.website,
        "facts": [{"what": what, "is": text} for what, text in facts if text],
        "note": supplier.note,
        "rows": [_shown(row) for row in own],
        "moves": lots_by_style(own),
        "deliveries": supplier_deliveries(own, shop),
        "currency": shop.currency,
    }
    return PageSpec(supplier_path(supplier.key), supplier.name, "shop/supplier.html.j2", context)


def lots_by_style(rows: Sequence[Row]) -> dict[str, Any] | None:
    """Return how the sizing of a supplier's blanks moves over lots, where there are two or more."""
    found = [
        {"name": r["name"], "path": r["path"], "over_time": r["over_time"], **r["lots"]}
        for r in rows
        if r["lots"]
    ]
    if not found:
        return None
    points = list(dict.fromkeys(point for style in found for point in style["points"]))
    styles = [
        {**style, "rows": [_moved(row, style["points"], points) for row in style["rows"]]}
        for style in found
    ]
    return {"unit": found[0]["unit"], "points": points, "styles": styles}


def _moved(row: Row, own: Sequence[str], points: Sequence[str]) -> Row:
    cells = dict(zip(own, row["cells"], strict=True))
    return {**row, "cells": [cells[p]["mean"] if p in cells else DASH for p in points]}


def suppliers_page(suppliers: Mapping[str, Supplier], rows: Sequence[Row], shop: Shop) -> PageSpec:
    """Return the list of suppliers."""
    listed = []
    for key in sorted(suppliers):
        own = [row for row in rows if row["supplier"] == key]
        supplier = suppliers[key]
        good = sum(row["advice"]["word"].startswith("approved") for row in own)
        days = supplier.lead_time_days
        listed.append(
            {
                "name": supplier.name,
                "path": supplier_path(key),
                "blanks": len(own),
                "approved": good,
                "lead": DASH if days is None else str(days),
                "deliveries": deliveries_summary(own),
                "terms": supplier.terms,
            }
        )
    context: dict[str, Any] = {"up": "", "shop": shop.name, "rows": listed}
    return PageSpec("suppliers.html", "Suppliers", "shop/suppliers.html.j2", context)
