"""The purchase that costs least: packs, price breaks, a smallest order and freight, exactly.

Every purchase that can cost no more than a good guess is looked at, where sums that are alike are
kept once. All amounts are whole numbers of the smallest unit that the terms name, so nothing is
rounded on the way.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

from blankbook.records.model import Line
from blankbook.records.money import NOTHING
from blankbook.results.ordering.terms_of_order import PurchaseTerms


@dataclass(frozen=True, slots=True)
class PurchaseCost:
    """What is bought, and what it costs; amounts are exact."""

    pieces: Mapping[Line, int]
    goods: Decimal
    freight: Decimal

    @property
    def total(self) -> Decimal:
        """Goods and freight."""
        return self.goods + self.freight

    @property
    def count(self) -> int:
        """How many pieces."""
        return sum(self.pieces.values())


@dataclass(frozen=True, slots=True)
class _Group:
    """Lines of one colour that cost the same, so that further pieces may be of any of them."""

    lines: tuple[Line, ...]
    base: tuple[int, ...]
    """By line: the fewest pieces that may be bought."""
    extra: int


Choice: TypeAlias = tuple[_Group, int]
"""A group, and how many steps of pieces are bought beyond its base."""
States: TypeAlias = dict[tuple[int, int], tuple[Choice, ...]]
"""By count and by cost (or extras alone, where the price is not known yet): one way to it."""


def least_cost(needed: Mapping[Line, int], terms: PurchaseTerms) -> PurchaseCost:
    """Return the cheapest purchase of at least what is *needed*; nothing else is bought.

    Raises: ValueError where nothing is needed.
    """
    if not needed or min(needed.values()) < 1:
        raise ValueError("nothing is needed")
    # The best of a few guesses bounds the search; most often it is the answer already.
    bound = min((cost_of(guess, terms) for guess in _guesses(needed, terms)), key=_by_cost)
    found = _Search(needed, terms, bound).cheapest()
    return min((bound, cost_of(found, terms)), key=_by_cost) if found else bound


def _by_cost(cost: PurchaseCost) -> tuple[Decimal, int]:
    """Return what is compared: of two that cost the same, more pieces are better."""
    return cost.total, -cost.count


def fewest_pieces(needed: Mapping[Line, int], terms: PurchaseTerms) -> PurchaseCost:
    """Return the cost of what is needed, in whole packs and up to the smallest order alone."""
    return cost_of(next(_guesses(needed, terms)), terms)


def cost_of(pieces: Mapping[Line, int], terms: PurchaseTerms) -> PurchaseCost:
    """Return what so many pieces cost."""
    counts: dict[Line | str, int] = {}
    for line, number in pieces.items():
        key = _together(line, terms.together)
        counts[key] = counts.get(key, 0) + number
    goods = sum(
        (
            number
            * (
                terms.each_of(counts[_together(line, terms.together)])
                + terms.extra.get(line[1], NOTHING)
            )
            for line, number in pieces.items()
        ),
        NOTHING,
    )
    freight = terms.freight or NOTHING
    if terms.free_from is not None and goods >= terms.free_from:
        freight = NOTHING
    return PurchaseCost(dict(pieces), goods, freight)


def _together(line: Line, scope: str) -> Line | str:
    return {"order": "", "colour": line[0]}.get(scope, line)


def _guesses(needed: Mapping[Line, int], terms: PurchaseTerms) -> Iterator[dict[Line, int]]:
    """Yield purchases that the terms allow: the fewest pieces, and as many as a break takes."""
    step = _pack_step(terms)
    scope, least = terms.minimum_of, terms.minimum_pieces or 0
    for target in (0, *(price.pieces for price in terms.breaks)):
        wanted = {scope: least}
        wanted[terms.together] = max(wanted.get(terms.together, 0), target)
        own = wanted.get("size_and_colour", 0)
        pieces = {line: -(-max(number, own) // step) * step for line, number in needed.items()}
        for colour in dict.fromkeys(line[0] for line in needed):
            mine = [line for line in needed if line[0] == colour]
            line = min(mine, key=lambda line: terms.price_of(line[1]))
            short = wanted.get("colour", 0) - sum(pieces[line] for line in mine)
            pieces[line] += max(-(-short // step) * step, 0)
        line = min(needed, key=lambda line: terms.price_of(line[1]))
        mixed = terms.pack.pieces if terms.pack and terms.pack.mixed else 1
        money = terms.minimum_money or NOTHING
        while (
            (count := sum(pieces.values())) < wanted.get("order", 0)
            or count % mixed
            or cost_of(pieces, terms).goods < money
        ):
            pieces[line] += step
        yield pieces


def _pack_step(terms: PurchaseTerms) -> int:
    """Return how many pieces of one size and colour are bought at a time."""
    return terms.pack.pieces if terms.pack and not terms.pack.mixed else 1


class _Search:
    """All purchases that cost no more than one that is known."""

    def __init__(
        self, needed: Mapping[Line, int], terms: PurchaseTerms, known: PurchaseCost
    ) -> None:
        self.needed, self.terms = needed, terms
        # A break that takes more money than the known purchase costs cannot make it cheaper.
        reached = [price for price in terms.breaks if price.pieces * price.each <= known.total]
        amounts = [terms.each, *terms.extra.values(), *(price.each for price in terms.breaks)]
        stated = [terms.minimum_money, terms.freight, terms.free_from]
        amounts += [amount for amount in stated if amount is not None]
        self.unit = min(Decimal(1).scaleb(_exponent(amount)) for amount in amounts)
        self.least_each = self._whole(min([terms.each, *(price.each for price in reached)]))
        self.freight = self._whole(terms.freight or NOTHING)
        self.free_from = None if terms.free_from is None else self._whole(terms.free_from)
        self.least_money = self._whole(terms.minimum_money or NOTHING)
        self.reach = max(self.least_money, self.free_from or 0)
        self.step = _pack_step(terms)
        self.groups = list(self._groups())
        self.limit = self._whole(known.total)
        self.room = self.limit - sum(self._lowest(group) for group in self.groups)

    def _whole(self, amount: Decimal) -> int:
        return int(amount / self.unit)

    def _groups(self) -> Iterator[_Group]:
        scope, least = self.terms.minimum_of, self.terms.minimum_pieces or 0
        found: dict[tuple[str, int, Line | None], list[Line]] = {}
        for line in self.needed:
            extra = self._whole(self.terms.extra.get(line[1], NOTHING))
            alone = line if self.terms.together == "size_and_colour" else None
            found.setdefault((line[0], extra, alone), []).append(line)
        own = least if scope == "size_and_colour" else 0
        for (_, extra, _), lines in found.items():
            base = [-(-max(self.needed[line], own) // self.step) * self.step for line in lines]
            yield _Group(tuple(lines), tuple(base), extra)

    def _lowest(self, group: _Group) -> int:
        return sum(group.base) * (self.least_each + group.extra)

    def cheapest(self) -> dict[Line, int] | None:
        """Return the cheapest purchase, or None where none costs less than the known one."""
        order: States = {(0, 0): ()}
        lowest = 0
        for colour in dict.fromkeys(line[0] for line in self.needed):
            states: States = {(0, 0): ()}
            own = 0
            for group in (g for g in self.groups if g.lines[0][0] == colour):
                own += self._lowest(group)
                priced = self._is_priced("size_and_colour")
                states = self._joined(states, self._options(group), own + self.room, priced=priced)
            if self.terms.minimum_of == "colour":
                states = _at_least(states, self.terms.minimum_pieces or 0)
            if self.terms.together == "colour":
                states = self._priced(states)
            lowest += own
            priced = self._is_priced("colour")
            order = self._joined(order, states, lowest + self.room, priced=priced)
        return self._cheapest_of(order)

    def _is_priced(self, level: str) -> bool:
        """Say whether values at this level are whole costs, and not only extras."""
        levels = ("size_and_colour", "colour", "order")
        return levels.index(self.terms.together) <= levels.index(level)

    def _options(self, group: _Group) -> States:
        """Return the counts of a group's pieces with their extras, or their whole cost."""
        dear = self.step * (self.least_each + group.extra)
        most = self.room // dear if dear > 0 else 0
        start = sum(group.base)
        found: States = {}
        for more in range(most + 1):
            count = start + more * self.step
            found[count, count * group.extra] = ((group, more),)
        return self._priced(found) if self._is_priced("size_and_colour") else found

    def _priced(self, states: States) -> States:
        return {
            (count, extras + count * self._whole(self.terms.each_of(count))): choice
            for (count, extras), choice in states.items()
        }

    def _joined(self, first: States, second: States, most: int, *, priced: bool) -> States:
        """Return the sums of two sets of states that can still cost at most *most*."""
        found: States = {}
        for (count, value), choice in first.items():
            for (other, added), chosen in second.items():
                sums = count + other, value + added
                low = sums[1] if priced else sums[1] + self.least_each * sums[0]
                if low <= most and sums not in found:
                    found[sums] = (*choice, *chosen)
        return self._distinct(found, priced=priced)

    def _distinct(self, states: States, *, priced: bool) -> States:
        """Return one state of each kind that can still end differently.

        Once pieces are priced, their count matters only to the smallest order and to mixed packs.
        Without an amount to reach, only the cheapest of a count matters.
        """
        found: States = {}
        pack = self.terms.pack.pieces if self.terms.pack and self.terms.pack.mixed else 1
        least = self.terms.minimum_pieces or 0
        cheapest: dict[int, int] = {}
        for (count, value), choice in sorted(states.items(), key=lambda item: item[0][1]):
            kept = count
            if priced and count > least:
                kept = least + (count - least) % pack
            if self.reach and value < self.reach:
                found.setdefault((kept, value), choice)
            elif kept not in cheapest:
                cheapest[kept] = value
                found[kept, value] = choice
        return found

    def _cheapest_of(self, order: States) -> dict[Line, int] | None:
        least = self.terms.minimum_pieces or 0
        if self.terms.minimum_of == "order":
            order = _at_least(order, least)
        if self.terms.pack and self.terms.pack.mixed:
            pack = self.terms.pack.pieces
            order = {state: choice for state, choice in order.items() if not state[0] % pack}
        if self.terms.together == "order":
            order = self._priced(order)
        best: tuple[int, int] | None = None
        chosen: tuple[Choice, ...] = ()
        for (count, goods), choice in order.items():
            if goods < self.least_money:
                continue
            free = self.free_from is not None and goods >= self.free_from
            total = goods + (0 if free else self.freight)
            if total <= self.limit and (best is None or (total, -count) < best):
                best, chosen = (total, -count), choice
        return None if best is None else self._lines(chosen)

    def _lines(self, chosen: Iterable[Choice]) -> dict[Line, int]:
        """Return the pieces of each line; further ones go where they are needed most."""
        found: dict[Line, int] = {}
        for group, more in chosen:
            found |= dict(zip(group.lines, group.base, strict=True))
            for _ in range(more):
                line = min(group.lines, key=lambda line: found[line] / self.needed[line])
                found[line] += self.step
        return {line: found[line] for line in self.needed}


def _at_least(states: States, least: int) -> States:
    return {state: choice for state, choice in states.items() if state[0] >= least}


def _exponent(amount: Decimal) -> int:
    exponent = amount.normalize().as_tuple().exponent
    return min(exponent, 0) if isinstance(exponent, int) else 0
