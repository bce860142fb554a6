"""What a blank's page does not show in full: its rounds and deliveries before the newest.

They are for whoever wants to see every reading, and only grow; with them apart, a blank's page
stays as light after ten years as after one.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from blankbook.pages.blank.delivery_tables import earlier_deliveries
from blankbook.pages.blank.page_photos import Picture, shown
from blankbook.pages.blank.round_tables import earlier_rounds
from blankbook.pages.page_spec import PageSpec
from blankbook.pages.site_paths import blank_path, earlier_path
from blankbook.records.model import Shop
from blankbook.results.result_types import Judged


def earlier_pages(
    judged: Judged, shop: Shop, pictures: Mapping[str, Picture] = MappingProxyType({})
) -> list[PageSpec]:
    """Return the page of a blank's earlier rounds and deliveries, where it has some."""
    blank = judged.blank
    if len(blank.rounds) < 2 and len(blank.deliveries) < 2:
        return []
    context: dict[str, Any] = {
        "up": "../../../",
        "page": blank_path(blank.style.key),
        "name": blank.style.name,
        "supplier": {"key": blank.supplier.key, "name": blank.supplier.name},
        "rounds": earlier_rounds(judged),
        "deliveries": earlier_deliveries(judged, shop.unit),
    }
    shown(context, pictures)
    title = f"{blank.style.name}: earlier rounds and deliveries"
    return [PageSpec(earlier_path(blank.style.key), title, "blank/earlier.html.j2", context)]
