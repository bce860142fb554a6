"""The approved round that a delivery is compared with."""

from blankbook.records.model import Blank, Delivery, Round
from blankbook.results.over_lots.lot_history import ACCEPTING_DECISIONS


def approved_round(blank: Blank, delivery: Delivery) -> Round | None:
    """Return the round to compare with: the named one, else the last approved before."""
    rounds = [round_ for round_ in blank.rounds if round_.date <= delivery.date]
    if delivery.approved:
        return next((round_ for round_ in rounds if round_.key == delivery.approved), None)
    approved = [e for e in rounds if e.decision and e.decision.decision in ACCEPTING_DECISIONS]
    return approved[-1] if approved else None
