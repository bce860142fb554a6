"""How the working out of bulk orders fares over simulated orders, for the method page."""

import json
from dataclasses import dataclass
from importlib.resources import files

from blankbook.pages.page_types import FactLine


@dataclass(frozen=True, slots=True)
class OrderMethod:
    """The simulation of orders, as it was last run and written."""

    orders: int
    seed: int
    date: str
    rows: tuple[FactLine, ...]
    """Means over the orders."""


def order_method() -> OrderMethod:
    """Return what the method page says of orders."""
    place = files("blankbook.pages.shop") / "order_trials.json"
    data = json.loads(place.read_text(encoding="utf-8"))
    rows = [
        FactLine(f"{row['what']}{end}", _short(row[key]))
        for row in data["rows"]
        for key, end in (("said", ", as said"), ("was", ""))
        if row[key] is not None
    ]
    return OrderMethod(data["orders"], data["seed"], data["date"], tuple(rows))


def _short(mean: float) -> str:
    """Return a share with three digits, and money with one after the point."""
    return f"{mean:.3f}" if mean < 1 else f"{mean:.1f}"
