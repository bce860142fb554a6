"""What could stand in for a blank, as its page shows it."""

from typing import Any

from blankbook.pages.shop.compare_pages import COMPARE_PAGE
from blankbook.pages.site_paths import blank_path
from blankbook.pages.value_words import sign_of
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.result_types import Judged, StandIn


def replacements(judged: Judged) -> list[dict[str, Any]]:
    """Return the nearest vetted blanks, with the size to order instead of each."""
    own = judged.blank.style.key
    return [_near(near, own) for near in stand_ins(judged.case)]


def _near(near: StandIn, own: str) -> dict[str, Any]:
    return {
        "name": near.name,
        "path": blank_path(near.key),
        "compare": f"{COMPARE_PAGE}#lay={own},{near.key}",
        "distance": f"{near.distance:.1f}",
        "shared": near.shared,
        "instead": [
            {"size": size, "other": other, "off": "" if off < 1 else f"{off:.1f}"}
            for size, (other, off) in near.instead.items()
        ],
        "differs": list(near.differs),
        "decision": sign_of(near.decision) if near.decision else None,
    }
