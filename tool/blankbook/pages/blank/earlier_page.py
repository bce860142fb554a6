"""The page of a blank's rounds and deliveries before the newest.

They only grow, and only somebody who wants every reading looks at them. With them on a page of
their own, a blank's page is as light after ten years as after one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from blankbook.pages.blank.delivery_tables import earlier_deliveries
from blankbook.pages.blank.delivery_types import EarlierDeliveries
from blankbook.pages.blank.page_photos import Picture
from blankbook.pages.blank.round_tables import earlier_rounds
from blankbook.pages.blank.round_types import RoundArticle
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.page_types import SupplierName
from blankbook.pages.site_paths import blank_path, earlier_path
from blankbook.records.model import Shop
from blankbook.results.result_types import Judged


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


def earlier_pages(
    judged: Judged, shop: Shop, pictures: Mapping[str, Picture] = MappingProxyType({})
) -> list[PageSpec[EarlierContext]]:
    """Return the page of a blank's earlier rounds and deliveries, where it has some."""
    blank = judged.blank
    if len(blank.rounds) < 2 and len(blank.deliveries) < 2:
        return []
    context = EarlierContext(
        up="../../../",
        page=blank_path(blank.style.key),
        name=blank.style.name,
        supplier=SupplierName(key=blank.supplier.key, name=blank.supplier.name),
        rounds=earlier_rounds(judged, pictures),
        deliveries=earlier_deliveries(judged, shop.unit, pictures),
    )
    title = f"{blank.style.name}: earlier rounds and deliveries"
    sources = [round_.source for round_ in context.rounds]
    sources += [delivery.source for delivery in context.deliveries.rows]
    return [
        PageSpec(
            earlier_path(blank.style.key),
            title,
            "blank/earlier.html.j2",
            context,
            sources=tuple(sources),
        )
    ]
