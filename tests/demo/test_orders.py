"""The demo shop's orders: each shows what its note says."""

from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from blankbook.records.model import Ledger, Order
from blankbook.records.model.order_record import by_size


@pytest.fixture(scope="module")
def ledger(demo_ledger: Path) -> Ledger:
    """Return the demo shop's ledger."""
    found = load_ledger(demo_ledger).ledger
    assert found
    return found


def order(ledger: Ledger, word: str) -> Order:
    """Return the order of that word."""
    every = [order for blank in ledger.blanks.values() for order in blank.orders]
    return next(order for order in every if word in order.key)


def test_the_allowance_just_sufficed(ledger: Ledger) -> None:
    """The school got every shirt, and of S, M and L not one good one was left."""
    school = order(ledger, "school")
    assert school.bought
    assert school.outcome
    came, needed = by_size(school.bought.pieces), by_size(school.needed)
    spare = {s: came[s] - school.outcome.spoiled.get(s, 0) - needed[s] for s in needed}

    assert spare == {"S": 0, "M": 0, "L": 0, "XL": 1}
    assert not school.outcome.short


def test_a_further_sample_saved_the_festival(ledger: Ledger) -> None:
    """Between the order's day and the purchase a lot was measured and sent back."""
    festival = order(ledger, "festival")
    assert festival.bought
    measured = [
        round_
        for round_ in ledger.blanks[festival.style].rounds
        if festival.date <= round_.date <= festival.bought.date and round_.decision
    ]
    decided = [round_.decision.decision for round_ in measured if round_.decision]

    assert decided == ["rejected", "approved"]
    assert festival.bought.samples > 0


def test_stock_is_what_the_spring_delivery_brought(ledger: Ledger) -> None:
    """The order to stock has a total and no list, and came as it was bought."""
    stock = order(ledger, "stock")
    assert stock.bought
    spring = next(d for d in ledger.blanks[stock.style].deliveries if "spring" in d.key)

    assert not stock.needed
    assert by_size(stock.bought.pieces) == spring.delivered
    assert stock.give_or_take > 0


def test_one_order_is_open(ledger: Ledger) -> None:
    """Over two years there are at least four orders, and the newest has no outcome yet."""
    every = [order for blank in ledger.blanks.values() for order in blank.orders]
    open_ = [order for order in every if order.outcome is None]
    days = sorted(order.date for order in every)

    assert len(every) >= 4
    assert [order.key for order in open_] == ["2026-11-24-winter-market-order"]
    assert 365 < (days[-1] - days[0]).days < 2 * 366
