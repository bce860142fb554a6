"""How strictly a supplier's deliveries are inspected: what each blank tells, and what follows.

The rules look at all deliveries of a supplier in the order of their days, whatever the style, so
each blank gives its own as plain facts, and the sum of them goes back to every blank. What a plan
says of a delivery is what counts here, and not what a person decided in spite of it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.records.model import Blank, Shop
from blankbook.results.deliveries.inspection import Fared, bad_pieces, fares
from blankbook.results.methods.sampling_plans import Outcome
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.methods.switching_rules import Delivery, State, after, arrives

NONE_YET = "no delivery of this supplier counts yet"

Fact = dict[str, Any]
"""Of one delivery, JSON-able: key, day, counts, and what bears on the series."""


@dataclass(frozen=True, slots=True)
class Series:
    """How strictly the deliveries of a supplier were, and are, to be inspected."""

    steps: Mapping[str, Severity]
    """By ``supplier/style/delivery``."""
    whys: Mapping[str, str]
    """By the same: what follows from it, in words."""
    then: Severity = Severity.NORMAL
    """For the next delivery of any style."""
    why: str = NONE_YET

    def as_data(self) -> dict[str, Any]:
        """Return it as JSON-able data."""
        return {
            "steps": {key: str(severity) for key, severity in self.steps.items()},
            "whys": dict(self.whys),
            "then": str(self.then),
            "why": self.why,
        }

    def of(self, style: str) -> "Series":
        """Return it with the steps of one style's deliveries alone."""
        own = {
            key: severity for key, severity in self.steps.items() if key.rpartition("/")[0] == style
        }
        return Series(own, {key: self.whys[key] for key in own}, self.then, self.why)


def series_of(data: Mapping[str, Any]) -> Series:
    """Return a series from its data."""
    steps = {key: Severity(name) for key, name in data["steps"].items()}
    return Series(steps, dict(data["whys"]), Severity(data["then"]), data["why"])


def delivery_facts(blank: Blank, shop: Shop) -> list[Fact]:
    """Return what the deliveries of a blank add to their supplier's series."""
    return [
        {
            "key": fact_key(blank, delivery.key),
            "date": delivery.date.isoformat(),
            "size": delivery.size,
            "inspected": delivery.inspected,
            "bad": bad_pieces(blank, delivery, shop).count,
            "again": fact_key(blank, delivery.again) if delivery.again else "",
            "sent_back": bool(delivery.decision and delivery.decision.decision == "rejected"),
            "changed": bool(delivery.changed),
            "corrected": bool(delivery.corrected),
        }
        for delivery in blank.deliveries
    ]


def fact_key(blank: Blank, delivery: str) -> str:
    """Return the key of a delivery in the whole ledger."""
    return f"{blank.style.key}/{delivery}"


def series(facts: Iterable[Fact], shop: Shop) -> Series:
    """Return how strictly each delivery of one supplier is inspected, in the order of their days.

    One of which too few pieces were looked at is no finished inspection: it changes nothing. One
    that comes back does not count either, where what it names was rejected or sent back.
    """
    wanted = shop.inspection.reduced == "when_earned"
    state, steps, whys, why = State(), {}, {}, NONE_YET
    returned = set()
    for fact in sorted(facts, key=lambda fact: (fact["date"], fact["key"])):
        state = arrives(state, fact["corrected"])
        steps[fact["key"]] = state.severity
        fared = _fared(fact, state.severity, shop)
        if fact["sent_back"] or fared.outcome == Outcome.REJECTED:
            returned.add(fact["key"])
        if fared.outcome is None:
            whys[fact["key"]] = "too few pieces were looked at: it does not count"
            continue
        first = fact["again"] not in returned
        delivery = Delivery(fared.outcome, first, not fact["changed"], fact["corrected"])
        state, why = after(state, delivery, wanted)
        whys[fact["key"]] = why
    return Series(steps, whys, state.severity, why)


def _fared(fact: Fact, severity: Severity, shop: Shop) -> Fared:
    return fares(fact["size"], fact["inspected"], fact["bad"], severity, shop.inspection)


def inspections(contributions: Mapping[str, Any], shop: Shop) -> dict[str, dict[str, Any] | None]:
    """Return what each blank must know of its supplier's series, by key; None without deliveries.

    A blank is handed the steps of its own deliveries and what holds for the next, so that a
    delivery of another style touches it only where that changes.
    """
    by_supplier: dict[str, list[Fact]] = {}
    for key, contribution in contributions.items():
        by_supplier.setdefault(key.partition("/")[0], []).extend(contribution.get("deliveries", ()))
    found = {supplier: series(facts, shop) for supplier, facts in by_supplier.items()}
    return {
        key: found[supplier].of(key).as_data() if by_supplier[supplier] else None
        for key in contributions
        for supplier in (key.partition("/")[0],)
    }
