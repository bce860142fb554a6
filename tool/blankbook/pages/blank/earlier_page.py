"""The pages of a blank's rounds and deliveries before the newest.

They only grow, and only somebody who wants every reading looks at them. With them on pages of
their own, a blank's page is as light after ten years as after one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from blankbook.pages.blank.delivery_tables import earlier_deliveries
from blankbook.pages.blank.delivery_types import EarlierDeliveries
from blankbook.pages.blank.page_photos import Picture
from blankbook.pages.blank.round_tables import round_article
from blankbook.pages.blank.round_types import RoundArticle
from blankbook.pages.over_time.earlier_parts import earlier_parts
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.page_types import SupplierName
from blankbook.pages.site_paths import blank_path
from blankbook.pages.value_words import unit_words
from blankbook.records.model import Shop
from blankbook.results.result_types import Judged


@dataclass(frozen=True, slots=True)
class PartLink:
    """One of several pages."""

    page: str
    name: str
    here: bool


@dataclass(frozen=True, slots=True)
class EarlierContext:
    """All that the page shows."""

    up: str
    page: str
    """The page of the blank."""
    name: str
    supplier: SupplierName
    rounds: tuple[RoundArticle, ...]
    deliveries: EarlierDeliveries
    parts: tuple[PartLink, ...]
    """All pages, the newest first; empty where there is one."""


def earlier_pages(
    judged: Judged, shop: Shop, pictures: Mapping[str, Picture] = MappingProxyType({})
) -> list[PageSpec[EarlierContext]]:
    """Return the pages of a blank's earlier rounds and deliveries, where it has some."""
    blank, parts = judged.blank, earlier_parts(judged.blank)
    pages = []
    deliveries = {row.key: row for row in earlier_deliveries(judged, shop.unit, pictures).rows}
    for part in parts:
        rows = tuple(deliveries[delivery.key] for delivery in part.deliveries)
        links = (PartLink(other.path, other.name, other is part) for other in parts)
        context = EarlierContext(
            up="../../../",
            page=blank_path(blank.style.key),
            name=blank.style.name,
            supplier=SupplierName(key=blank.supplier.key, name=blank.supplier.name),
            rounds=tuple(round_article(round_, pictures) for round_ in part.rounds),
            deliveries=EarlierDeliveries(unit_words(shop.unit), rows),
            parts=tuple(links) if len(parts) > 1 else (),
        )
        title = f"{blank.style.name}: earlier rounds and deliveries"
        title += f", {part.name}" if len(parts) > 1 else ""
        sources = [round_.source for round_ in context.rounds]
        sources += [row.source for row in rows]
        template = "blank/earlier.html.j2"
        pages.append(PageSpec(part.path, title, template, context, sources=tuple(sources)))
    return pages
