"""The cheapest purchase, held to an integer program that a reference library solves."""

import random
from collections.abc import Mapping
from decimal import Decimal

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from blankbook.records.model import Line, Pack, PriceBreak
from blankbook.results.ordering.least_cost import cost_of, fewest_pieces, least_cost
from blankbook.results.ordering.terms_of_order import PurchaseTerms
from shares import examples

SCOPES = ("order", "colour", "size_and_colour")
CASES = examples(day=250, night=1000)
A_LOT = 1200


def random_case(chance: random.Random) -> tuple[dict[Line, int], PurchaseTerms]:
    """Return a need and terms as shops meet them."""
    colours = ["black", "moss", "white"][: chance.randint(1, 3)]
    sizes = ["S", "M", "L", "XL", "2XL"][: chance.randint(1, 5)]
    needed = {
        (colour, size): chance.randint(1, 30)
        for colour in colours
        for size in sizes
        if chance.random() < 0.8
    }
    needed = needed or {("black", "M"): chance.randint(1, 40)}
    each = Decimal(chance.randint(300, 900)) / 100
    breaks, pieces, price = [], 1, each
    for _ in range(chance.randint(0, 3)):
        pieces += chance.randint(2, 50)
        price = (price * Decimal(chance.randint(80, 99)) / 100).quantize(Decimal("0.01"))
        breaks.append(PriceBreak(pieces, price))
    pack = Pack(chance.choice((2, 6, 12)), chance.random() < 0.5) if chance.random() < 0.5 else None
    freight = Decimal(chance.randint(5, 40)) if chance.random() < 0.6 else None
    terms = PurchaseTerms(
        each,
        {"2XL": Decimal(chance.randint(0, 300)) / 100, "XL": Decimal(chance.choice((0, 50))) / 100},
        tuple(breaks),
        chance.choice(SCOPES),
        pack,
        chance.choice((None, None, 6, 12, 40)),
        chance.choice(SCOPES),
        chance.choice((None, None, Decimal(chance.randint(20, 300)))),
        freight,
        Decimal(chance.randint(50, 500)) if freight and chance.random() < 0.7 else None,
    )
    return needed, terms


def groups_of(lines: list[Line], scope: str) -> list[list[int]]:
    """Return the lines that count together, by their places."""
    keys = [{"order": "", "colour": line[0]}.get(scope, line) for line in lines]
    return [[at for at, key in enumerate(keys) if key == own] for own in dict.fromkeys(keys)]


class Program:
    """An integer program: for each line and price the pieces, and which price is reached."""

    def __init__(self, needed: Mapping[Line, int], terms: PurchaseTerms) -> None:
        self.lines, self.terms = list(needed), terms
        self.tiers = [(1, terms.each), *((b.pieces, b.each) for b in terms.breaks)]
        self.groups = groups_of(self.lines, terms.together)
        self.count = 0
        self.pieces = [[self.new() for _ in self.tiers] for _ in self.lines]
        self.reached = [[self.new() for _ in self.tiers] for _ in self.groups]
        self.free, self.packs = self.new(), self.new()
        self.line_packs = [self.new() for _ in self.lines]
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.build(needed)

    def new(self) -> int:
        """Return the place of one more unknown."""
        self.count += 1
        return self.count - 1

    def cost(self, line: int, tier: int) -> float:
        """Return the price of one piece."""
        return float(self.tiers[tier][1] + self.terms.extra.get(self.lines[line][1], Decimal(0)))

    def goods(self) -> dict[int, float]:
        """Return what the pieces cost together."""
        places = [(at, k) for at in range(len(self.lines)) for k in range(len(self.tiers))]
        return {self.pieces[at][k]: self.cost(at, k) for at, k in places}

    def build(self, needed: Mapping[Line, int]) -> None:
        """Write down what must hold."""
        terms, most = self.terms, float(A_LOT)
        for at, line in enumerate(self.lines):
            own = dict.fromkeys(self.pieces[at], 1.0)
            self.rows.append((own, needed[line], most))
            if terms.pack and not terms.pack.mixed:
                self.rows.append(({**own, self.line_packs[at]: -terms.pack.pieces}, 0, 0))
        for group, reached in zip(self.groups, self.reached, strict=True):
            self.rows.append((dict.fromkeys(reached, 1.0), 1, 1))
            for k, (least, _) in enumerate(self.tiers):
                top = self.tiers[k + 1][0] - 1 if k + 1 < len(self.tiers) else most
                own = {self.pieces[at][k]: 1.0 for at in group}
                self.rows.append(({**own, reached[k]: -least}, 0, most))
                self.rows.append(({**own, reached[k]: -top}, -np.inf, 0))
        every = {place: 1.0 for row in self.pieces for place in row}
        for group in groups_of(self.lines, terms.minimum_of):
            own = {place: 1.0 for at in group for place in self.pieces[at]}
            self.rows.append((own, terms.minimum_pieces or 0, most))
        if terms.pack and terms.pack.mixed:
            self.rows.append(({**every, self.packs: -terms.pack.pieces}, 0, 0))
        self.rows.append((self.goods(), float(terms.minimum_money or 0), 1e6))
        if terms.free_from is not None:
            self.rows.append(({**self.goods(), self.free: -float(terms.free_from)}, 0, 1e6))

    def solved(self) -> float:
        """Return the least total cost."""
        target = np.zeros(self.count)
        for place, price in self.goods().items():
            target[place] = price
        freight = float(self.terms.freight or 0)
        target[self.free] = -freight if self.terms.free_from is not None else 0
        rows = np.zeros((len(self.rows), self.count))
        for number, (row, _, _) in enumerate(self.rows):
            for place, value in row.items():
                rows[number, place] = value
        top = np.full(self.count, float(A_LOT))
        top[self.free] = 1.0
        for reached in self.reached:
            top[reached] = 1.0
        found = milp(
            target,
            integrality=np.ones(self.count, int),
            bounds=Bounds(0, top),
            constraints=LinearConstraint(
                rows, [low for _, low, _ in self.rows], [high for _, _, high in self.rows]
            ),
            options={"mip_rel_gap": 0},
        )
        assert found.status == 0, found.message
        return float(found.fun) + freight


@pytest.mark.published
def test_it_costs_what_the_integer_program_costs() -> None:
    """Over a thousand random cases, by day a quarter of them, the totals are equal to the cent.

    Source: scipy.optimize.milp (HiGHS, Huangfu and Hall 2018), a general-purpose library.
    """
    chance = random.Random(18)
    differ = []
    for number in range(CASES):
        needed, terms = random_case(chance)
        found = least_cost(needed, terms)
        wanted = Program(needed, terms).solved()
        if abs(float(found.total) - wanted) > 0.005:
            differ.append((number, found.total, wanted, needed, terms))

    assert differ == []


def test_what_is_bought_keeps_the_terms() -> None:
    """Enough of each line, whole packs, the smallest order; and the cost is that of the pieces."""
    chance = random.Random(19)
    for _ in range(300):
        needed, terms = random_case(chance)
        found = least_cost(needed, terms)
        lines = list(needed)
        assert found == cost_of(found.pieces, terms)
        assert all(found.pieces[line] >= number for line, number in needed.items())
        assert found.goods >= (terms.minimum_money or 0)
        for group in groups_of(lines, terms.minimum_of):
            assert sum(found.pieces[lines[at]] for at in group) >= (terms.minimum_pieces or 0)
        if terms.pack:
            counts = [found.count] if terms.pack.mixed else list(found.pieces.values())
            assert [count for count in counts if count % terms.pack.pieces] == []
        assert fewest_pieces(needed, terms).total >= found.total


@pytest.mark.published
def test_an_all_units_discount_is_taken_where_it_is_cheaper() -> None:
    """The price of a break holds for all pieces, so that buying up to it may cost less.

    Source: the all-units discount of inventory textbooks, such as Nahmias, Production and
    Operations Analysis: 500 bags at 0.30, from 500 at 0.29 and from 1000 at 0.28, each price for
    all units; quoted from memory. 490 bags then cost 147.00, and 500 cost 145.00.
    """
    terms = PurchaseTerms(
        Decimal("0.30"),
        breaks=(PriceBreak(500, Decimal("0.29")), PriceBreak(1000, Decimal("0.28"))),
    )
    line = ("", "bag")

    assert least_cost({line: 490}, terms).total == Decimal("145.00")
    assert fewest_pieces({line: 490}, terms).total == Decimal("147.00")
    assert least_cost({line: 480}, terms).total == Decimal("144.00")
    assert least_cost({line: 980}, terms).total == Decimal("280.00")


def test_nothing_is_no_purchase() -> None:
    """An empty need, and a line of none, are refused."""
    for needed in ({}, {("black", "M"): 0}):
        with pytest.raises(ValueError, match="nothing is needed"):
            least_cost(needed, PurchaseTerms(Decimal(4)))
