"""Which price and which terms of supply hold on a day."""

import datetime
from collections.abc import Sequence
from dataclasses import fields, replace

from blankbook.records.model.claims import Price, Style, Supplier, Supply


def price_on(style: Style, day: datetime.date) -> Price | None:
    """Return the price that held on *day*: the latest that is not younger; None without any."""
    held = [price for price in style.prices if price.since <= day]
    return held[-1] if held else None


def supply_on(style: Style, supplier: Supplier, day: datetime.date) -> Supply | None:
    """Return the terms that held on *day*: the style's own, and the supplier's for the rest.

    None where neither states any. A lead time that the supplier states without a day counts last.
    """
    own, theirs = _latest(style.supply, day), _latest(supplier.supply, day)
    found = own or theirs
    if own and theirs:
        missing = {
            field.name: getattr(theirs, field.name)
            for field in fields(Supply)
            if field.name not in _TOGETHER and getattr(own, field.name) in (None, "")
        }
        found = replace(own, **missing)
        if own.minimum_pieces is None:
            found = replace(found, minimum_of=theirs.minimum_of)
    if supplier.lead_time_days is not None:
        found = found or Supply(day)
        if found.lead_time_days is None:
            found = replace(found, lead_time_days=supplier.lead_time_days)
    return found


_TOGETHER = {"since", "minimum_of"}


def _latest(terms: Sequence[Supply], day: datetime.date) -> Supply | None:
    held = [stated for stated in terms if stated.since <= day]
    return held[-1] if held else None
