"""What could stand in for a blank, as its page shows it."""

from typing import Any

from blankbook.pages.shop.compare_pages import PAGE
from blankbook.pages.site_paths import blank_path
from blankbook.pages.value_words import signed
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.result_types import Judged, Near


def in_its_place(judged: Judged) -> list[dict[str, Any]]:
    """Return the nearest vetted blanks, with the size to order instead of each."""
    own = judged.blank.style.key
    return [_near(one, own) for one in stand_ins(judged.case)]


def _near(one: Near, own: str) -> dict[str, Any]:
    return {
        "name": one.name,
        "path": blank_path(one.key),
        "compare": f"{PAGE}#lay={own},{one.key}",
        "distance": f"{one.distance:.1f}",
        "shared": one.shared,
        "instead": [
            {"size": size, "other": other, "off": "" if off < 1 else f"{off:.1f}"}
            for size, (other, off) in one.instead.items()
        ],
        "differs": list(one.differs),
        "decision": signed(one.decision) if one.decision else None,
    }
