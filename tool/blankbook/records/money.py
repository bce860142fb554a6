"""Money: exact decimals, rounded half up, always in one currency."""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
NOTHING = Decimal(0)


def exact_amount(written: float) -> Decimal:
    """Return an amount as it was written: the shortest decimal that a float stands for.

    >>> exact_amount(4.6), exact_amount(12)
    (Decimal('4.6'), Decimal('12'))
    """
    return Decimal(repr(written))


def rounded(amount: Decimal) -> Decimal:
    """Return an amount to the cent, half a cent up.

    >>> rounded(Decimal("2.345")), rounded(Decimal("-2.345"))
    (Decimal('2.35'), Decimal('-2.35'))
    """
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def say_money(amount: Decimal, currency: str = "") -> str:
    """Return an amount for a person.

    >>> say_money(Decimal("1234.5"), "USD")
    '1234.50 USD'
    """
    return f"{rounded(amount):f} {currency}".strip()


def parts_that_add_up(parts: Iterable[Decimal]) -> list[Decimal]:
    """Return the parts rounded to the cent, so that their sum is the rounded sum of the parts.

    Each is rounded down, and the cents that are then missing go to the largest remainders.

    >>> [str(part) for part in parts_that_add_up([Decimal("0.335"), Decimal("0.335")])]
    ['0.34', '0.33']
    """
    every = list(parts)
    floors = [part // CENT * CENT for part in every]
    missing = int((rounded(sum(every, NOTHING)) - sum(floors, NOTHING)) / CENT)
    order = sorted(range(len(every)), key=lambda at: floors[at] - every[at])
    for at in order[:missing]:
        floors[at] += CENT
    return floors
