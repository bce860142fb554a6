"""What one shirt of an order costs and earns, by size; what nobody states is left out."""

from dataclasses import dataclass
from decimal import Decimal

from blankbook.records.model import Order, Shop
from blankbook.records.money import NOTHING
from blankbook.results.ordering.terms_of_order import PurchaseTerms


@dataclass(frozen=True, slots=True)
class ShirtCosts:
    """Money for one shirt, exact; None where it is not stated anywhere."""

    terms: PurchaseTerms
    each: Decimal
    """What a piece costs at the number that is bought."""
    shirt: Decimal | None
    printing: Decimal | None
    refund: Decimal | None
    stated_short: Decimal | None
    brings: Decimal | None
    """What a shirt that is left over still brings."""

    def blank(self, size: str) -> Decimal:
        """Return what a piece of *size* costs."""
        return self.each + self.terms.extra.get(size, NOTHING)

    def made(self, size: str) -> Decimal:
        """Return what a printed shirt costs."""
        return self.blank(size) + (self.printing or NOTHING)

    def comes_back(self, size: str) -> Decimal:
        """Return what a shirt that comes back costs: a new one, and what is paid beside."""
        return self.made(size) + (self.refund or NOTHING)

    def short(self, size: str) -> Decimal | None:
        """Return what a missing shirt costs: as stated, else what it would have earned."""
        if self.stated_short is not None:
            return self.stated_short
        return None if self.shirt is None else max(self.shirt - self.made(size), NOTHING)

    def left_over(self, size: str) -> Decimal:
        """Return what a blank costs that is left over: what it cost but for what it brings."""
        return max(self.blank(size) - (self.brings or NOTHING), NOTHING)

    @property
    def unstated(self) -> tuple[str, ...]:
        """What nobody has stated, in words."""
        stated = {
            "what a shirt sells for": self.shirt,
            "what printing costs": self.printing,
            "what a shirt that comes back costs": self.refund,
        }
        return tuple(what for what, amount in stated.items() if amount is None)


def shirt_costs(order: Order, shop: Shop, terms: PurchaseTerms, pieces: int) -> ShirtCosts:
    """Return the costs of one shirt where so many *pieces* are bought."""
    own, usual = order.money, shop.orders

    def first(stated: Decimal | None, else_: Decimal | None) -> Decimal | None:
        return else_ if stated is None else stated

    return ShirtCosts(
        terms,
        terms.each_of(pieces),
        own.shirt,
        first(own.printing, usual.printing),
        first(own.refund, usual.refund),
        own.short,
        first(own.left_over, usual.left_over),
    )
