"""How strictly a supplier's deliveries are inspected, one after the other.

The rules look at all deliveries of a supplier in the order of their days, whatever the style. So
each blank contributes its deliveries as facts, and the series goes back to every blank. The outcome
of the plan counts here, and not what a person decided in spite of it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from blankbook.records.model import Blank, Shop
from blankbook.results.deliveries.inspection import InspectionResult, bad_pieces, inspection_result
from blankbook.results.methods.sampling_plans import Outcome
from blankbook.results.methods.sampling_tables import Severity
from blankbook.results.methods.switching_rules import (
    InspectedDelivery,
    SwitchingState,
    state_after,
    state_at_arrival,
)

NONE_YET = "no delivery of this supplier counts yet"

DeliveryFact = dict[str, Any]
"""One delivery as JSON data: key, day, counts, and what else bears on the series."""


@dataclass(frozen=True, slots=True)
class InspectionSeries:
    """How strictly the deliveries of a supplier were, and are, to be inspected."""

    steps: Mapping[str, Severity]
    """By ``supplier/style/delivery``."""
    whys: Mapping[str, str]
    """By the same key: what follows from the delivery, in words."""
    then: Severity = Severity.NORMAL
    """For the next delivery of any style."""
    why: str = NONE_YET

    def as_data(self) -> dict[str, Any]:
        """Return the series as JSON data."""
        return {
            "steps": {key: str(severity) for key, severity in self.steps.items()},
            "whys": dict(self.whys),
            "then": str(self.then),
            "why": self.why,
        }

    def of(self, style: str) -> "InspectionSeries":
        """Return the series with the deliveries of one style alone."""
        own = {
            key: severity for key, severity in self.steps.items() if key.rpartition("/")[0] == style
        }
        return InspectionSeries(own, {key: self.whys[key] for key in own}, self.then, self.why)


def series_from_data(data: Mapping[str, Any]) -> InspectionSeries:
    """Return a series from its data."""
    steps = {key: Severity(name) for key, name in data["steps"].items()}
    return InspectionSeries(steps, dict(data["whys"]), Severity(data["then"]), data["why"])


def delivery_facts(blank: Blank, shop: Shop) -> list[DeliveryFact]:
    """Return what the deliveries of a blank add to their supplier's series."""
    return [
        {
            "key": delivery_key(blank, delivery.key),
            "date": delivery.date.isoformat(),
            "size": delivery.size,
            "inspected": delivery.inspected,
            "bad": bad_pieces(blank, delivery, shop).count,
            "again": delivery_key(blank, delivery.again) if delivery.again else "",
            "sent_back": bool(delivery.decision and delivery.decision.decision == "rejected"),
            "changed": bool(delivery.changed),
            "corrected": bool(delivery.corrected),
        }
        for delivery in blank.deliveries
    ]


def delivery_key(blank: Blank, delivery: str) -> str:
    """Return the key of a delivery in the whole ledger."""
    return f"{blank.style.key}/{delivery}"


def inspection_series(facts: Iterable[DeliveryFact], shop: Shop) -> InspectionSeries:
    """Return how strictly each delivery of one supplier is inspected, in the order of their days.

    A delivery with too few pieces looked at is not inspected yet and changes nothing. One that is
    handed in again after a rejection does not count either.
    """
    wanted = shop.inspection.reduced == "when_earned"
    state, steps, whys, why = SwitchingState(), {}, {}, NONE_YET
    returned = set()
    for fact in sorted(facts, key=lambda fact: (fact["date"], fact["key"])):
        state = state_at_arrival(state, fact["corrected"])
        steps[fact["key"]] = state.severity
        inspection = _inspection(fact, state.severity, shop)
        if fact["sent_back"] or inspection.outcome == Outcome.REJECTED:
            returned.add(fact["key"])
        if inspection.outcome is None:
            whys[fact["key"]] = "too few pieces were looked at: it does not count"
            continue
        first = fact["again"] not in returned
        delivery = InspectedDelivery(
            inspection.outcome, first, not fact["changed"], fact["corrected"]
        )
        state, why = state_after(state, delivery, wanted)
        whys[fact["key"]] = why
    return InspectionSeries(steps, whys, state.severity, why)


def _inspection(fact: DeliveryFact, severity: Severity, shop: Shop) -> InspectionResult:
    return inspection_result(
        fact["size"], fact["inspected"], fact["bad"], severity, shop.inspection
    )


def series_by_blank(
    contributions: Mapping[str, Any], shop: Shop
) -> dict[str, dict[str, Any] | None]:
    """Return what each blank needs of its supplier's series, by key; None without deliveries.

    A blank gets the steps of its own deliveries and the severity of the next one, so a delivery of
    another style changes it only where that severity changes.
    """
    by_supplier: dict[str, list[DeliveryFact]] = {}
    for key, contribution in contributions.items():
        by_supplier.setdefault(key.partition("/")[0], []).extend(contribution.get("deliveries", ()))
    found = {supplier: inspection_series(facts, shop) for supplier, facts in by_supplier.items()}
    return {
        key: found[supplier].of(key).as_data() if by_supplier[supplier] else None
        for key in contributions
        for supplier in (key.partition("/")[0],)
    }
