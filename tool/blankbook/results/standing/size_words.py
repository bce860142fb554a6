"""Sizes, days and lengths as a headline says them."""

import datetime
from collections.abc import Collection, Sequence

from blankbook.records.lengths import say_length
from blankbook.results.number_words import say_list
from blankbook.words.points import POINTS

_COMPARED = {
    # point of measure: (larger, smaller)
    "half_chest": ("wider", "narrower"),
    "body_length": ("longer", "shorter"),
}
"""How a shop says that a shirt is larger or smaller at the points by which sizes are told."""
MOST_WORDS = 15
"""A headline has no more."""


def say_sizes(order: Sequence[str], sizes: Collection[str]) -> str:
    """Return sizes in their order, three and more neighbours as a range.

    >>> say_sizes(("S", "M", "L", "XL", "2XL"), {"S", "M", "L", "2XL"})
    'S to L and 2XL'
    """
    runs: list[list[str]] = []
    for place, size in enumerate(order):
        if size not in sizes:
            continue
        if runs and runs[-1][-1] == order[place - 1]:
            runs[-1].append(size)
        else:
            runs.append([size])
    words = [word for run in runs for word in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]
    return say_list(words)


def say_day(day: datetime.date) -> str:
    """Return a day as it is read aloud.

    >>> say_day(datetime.date(2026, 7, 1))
    '1 July 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def say_off(mm: float, point: str, unit: str, noun: str, verb: str = "is") -> str:
    """Return how far off a *noun* is at a point: "M is 3/4 in narrower", without against what.

    >>> say_off(-19.05, "half_chest", "in", "M"), say_off(12.7, "sleeve_length", "in", "L")
    ('M is 3/4 in narrower', 'the sleeve length of L is 1/2 in larger')
    """
    larger, smaller = _COMPARED.get(point, ("larger", "smaller"))
    subject = noun if point in _COMPARED else f"the {POINTS[point].name} of {noun}"
    return f"{subject} {verb} {say_length(abs(mm), unit)} {larger if mm > 0 else smaller}"


def say_larger(point: str) -> str:
    """Return "wider" or "longer", or how it is said at another point."""
    return _COMPARED.get(point, (f"larger in {POINTS[point].name}", ""))[0]


def say_smaller(point: str) -> str:
    """Return "narrower" or "shorter", or how it is said at another point."""
    return _COMPARED.get(point, ("", f"smaller in {POINTS[point].name}"))[1]


def fits(clause: str) -> bool:
    """Say whether a clause is short enough for a headline."""
    return len(clause.split()) <= MOST_WORDS


def as_sentence(*clauses: str) -> str:
    """Return the first of the clauses that is short enough as a sentence, else the last of them."""
    chosen = next((clause for clause in clauses if fits(clause)), clauses[-1])
    return chosen[:1].upper() + chosen[1:] + "."
