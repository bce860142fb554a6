"""Further looks against what they cost and the days they take; what to offer in place of a size."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from blankbook.records.model import OrderRules
from blankbook.records.money import NOTHING, rounded
from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.ordering.coming_lot import ComingLot
from blankbook.results.ordering.further_look import Look, Stake, looks_for, value_of_look
from blankbook.results.ordering.order_days import OrderDays
from blankbook.results.ordering.order_risk import OrderRisk
from blankbook.results.ordering.shirt_costs import ShirtCosts
from blankbook.results.result_types import Judged
from blankbook.words.answers import Advice

LEAST_WORTH = Decimal("0.50")
"""A look that is expected to save less is not worth a person's time."""
_APPROVED = {str(Advice.APPROVED), str(Advice.CONDITIONS)}


@dataclass(frozen=True, slots=True)
class WeighedLook:
    """A look, with what it is expected to save and what it costs."""

    look: Look
    saves: Decimal
    costs: Decimal
    days: int
    fits: bool
    """Whether it leaves time for the order."""

    @property
    def net(self) -> Decimal:
        """What it saves beyond its cost."""
        return self.saves - self.costs


@dataclass(frozen=True, slots=True)
class InsteadOffer:
    """What to offer where a size should not go out."""

    size: str
    why: str
    blank: str
    """``supplier/style`` of an approved blank that stands in; empty where there is none."""
    offered: str
    """The size of it to order, or the neighbour that is kept of two that are alike."""
    more: Decimal | None
    """What a piece costs more, negative where it costs less; None where no price is known."""


def offers(
    judged: Judged,
    pieces: Mapping[str, int],
    costs: ShirtCosts,
    prices: Mapping[str, Decimal],
) -> tuple[InsteadOffer, ...]:
    """Return what to offer for each size of the order that may not be ordered today."""
    standing = judged.standing
    found = []
    for alike in standing.alike:
        if alike.leave in pieces and alike.offer in judged.blank.style.sizes:
            why = f"{alike.leave} cannot be told from {alike.offer}"
            found.append(InsteadOffer(alike.leave, why, "", alike.offer, None))
    why_left = {left.size: left.why for left in standing.left_out}
    for size in pieces:
        if size in standing.sizes or any(offer.size == size for offer in found):
            continue
        blank, other, more = _stand_in(judged, size, costs, prices)
        found.append(InsteadOffer(size, why_left.get(size, standing.sentence), blank, other, more))
    return tuple(found)


def _stand_in(
    judged: Judged, size: str, costs: ShirtCosts, prices: Mapping[str, Decimal]
) -> tuple[str, str, Decimal | None]:
    """Return the nearest approved blank that has the size, which size of it, and what it adds."""
    for near in stand_ins(judged.case):
        if near.decision in _APPROVED and size in near.instead:
            other, _ = near.instead[size]
            price = prices.get(near.key)
            return near.key, other, None if price is None else price - costs.blank(size)
    return "", "", None


def weighed_looks(
    lot: ComingLot,
    risk: OrderRisk,
    pieces: Mapping[str, int],
    costs: ShirtCosts,
    instead: Sequence[InsteadOffer],
    rules: OrderRules,
    days: OrderDays,
) -> tuple[WeighedLook, ...]:
    """Return every look that is weighed, the best first; those that fit come before the others."""
    usual = [_stake(size, count, costs, instead, rules) for size, count in pieces.items()]
    lead = days.lead or 0
    found = []
    for look in looks_for(usual, risk.chances):
        took = _days(look, lead)
        stakes = usual
        if days.fits(took + lead):
            stakes = [_with_another_lot(s, look, pieces[s.size], risk, rules) for s in usual]
        elif look.kind == "inspect":
            # The pieces are there already, so that serving a size otherwise also sends them back.
            back = float(rules.sending_back or NOTHING)
            stakes = [Stake(s.size, s.wrong, s.instead + back * pieces[s.size]) for s in usual]
        saves = rounded(Decimal(repr(round(value_of_look(lot, stakes, look), 6))))
        found.append(WeighedLook(look, saves, _cost(look, costs, rules), took, days.fits(took)))
    found.sort(key=lambda look: (not look.fits, -look.net, look.costs))
    return tuple(found)


def _stake(
    size: str,
    count: int,
    costs: ShirtCosts,
    instead: Sequence[InsteadOffer],
    rules: OrderRules,
) -> Stake:
    """Return what a size can lose, and what it costs to serve it otherwise.

    Without a stand-in and a selling price nobody knows what going without costs; then it is as dear
    as the worst, and no look can save anything.
    """
    wrong = float(costs.comes_back(size)) * count * rules.comes_back
    offer = next((offer for offer in instead if offer.size == size and offer.more), None)
    if offer and offer.more is not None:
        return Stake(size, wrong, max(float(offer.more), 0.0) * count)
    short = costs.short(size)
    return Stake(size, wrong, wrong if short is None else float(short) * count)


def _with_another_lot(
    stake: Stake, look: Look, count: int, risk: OrderRisk, rules: OrderRules
) -> Stake:
    """Return a size that may also wait for another lot, which is as likely to be wrong as this.

    Before the order, waiting costs nothing but days; once the pieces are there, they go back.
    """
    back = float(rules.sending_back or NOTHING) * count if look.kind == "inspect" else 0.0
    again = back + risk.chances[stake.size] * stake.wrong
    return Stake(stake.size, stake.wrong, min(stake.instead + back, again))


def _days(look: Look, lead: int) -> int:
    """Return how long a look takes before the order can go out (an inspection: none)."""
    return {"inspect": 0, "wash": lead + 2}.get(look.kind, lead + 1)


def _cost(look: Look, costs: ShirtCosts, rules: OrderRules) -> Decimal:
    """Return what a look costs: pieces at the price of single ones, their freight, and the work."""
    work = rules.measuring or NOTHING
    if look.kind == "inspect":
        return rounded(work * look.each * len(look.sizes))
    if look.kind == "wash":
        work += rules.washing or NOTHING
    goods = sum((look.each * (costs.terms.price_of(size) + work) for size in look.sizes), NOTHING)
    return rounded(goods + (costs.terms.freight or NOTHING))
