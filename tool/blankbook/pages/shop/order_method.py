"""How the working out of bulk orders fares over simulated orders, for the method page."""

import json
from dataclasses import dataclass
from importlib.resources import files

from blankbook.pages.value_words import DASH


@dataclass(frozen=True, slots=True)
class OrderTrial:
    """One line of the table: what was said, and what came of it."""

    what: str
    said: str
    was: str


@dataclass(frozen=True, slots=True)
class OrderMethod:
    """The simulation of orders, as it was last run and written."""

    orders: int
    seed: int
    date: str
    rows: tuple[OrderTrial, ...]


def order_method() -> OrderMethod:
    """Return what the method page says of orders."""
    place = files("blankbook.pages.shop") / "order_trials.json"
    data = json.loads(place.read_text(encoding="utf-8"))
    rows = (
        OrderTrial(
            row["what"], DASH if row["said"] is None else f"{row['said']:.3f}", f"{row['was']:.3f}"
        )
        for row in data["rows"]
    )
    return OrderMethod(data["orders"], data["seed"], data["date"], tuple(rows))
