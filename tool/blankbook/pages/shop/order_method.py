"""How the working out of bulk orders fares over simulated orders, for the method page."""

import json
from dataclasses import dataclass
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class OrderMethodRow:
    """Means over the orders: what was said before, and what came; a dash where nothing is said."""

    what: str
    said: str
    was: str


@dataclass(frozen=True, slots=True)
class OrderMethod:
    """The simulation of orders, as it was last run and written."""

    orders: int
    seed: int
    date: str
    rows: tuple[OrderMethodRow, ...]


def order_method() -> OrderMethod:
    """Return what the method page says of orders."""
    place = files("blankbook.pages.shop") / "order_trials.json"
    data = json.loads(place.read_text(encoding="utf-8"))
    rows = tuple(
        OrderMethodRow(row["what"], _short(row["said"]), _short(row["was"])) for row in data["rows"]
    )
    return OrderMethod(data["orders"], data["seed"], data["date"], rows)


def _short(mean: float | None) -> str:
    """Return a share with three digits, and money with one after the point."""
    if mean is None:
        return "–"
    return f"{mean:.3f}" if mean < 1 else f"{mean:.1f}"
