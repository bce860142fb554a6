"""Which of two sizes that are alike may be offered, and which blank could stand in for the other.

A blank that could stand in is near by measure, and a person has let it through; whether it may be
ordered today is for its own standing to say.
"""

from blankbook.results.learning.stand_ins import stand_ins
from blankbook.results.number_words import say_list
from blankbook.results.result_types import Judged
from blankbook.results.standing.standing_facts import ACCEPTING
from blankbook.words.answers import MayOrder
from blankbook.words.points import POINTS

_NEAR_ENOUGH = 1.0
"""A size that stands in is no further off than the tolerance; in tolerances."""


def say_offers(judged: Judged) -> tuple[str, ...]:
    """Return a sentence for each pair of sizes that are alike; none where nothing may be offered.

    Such as "Offer L, not XL: nobody can tell them apart by half chest."
    """
    if judged.standing.kind == MayOrder.NO:
        return ()
    said = []
    for pair in judged.standing.alike:
        apart = f"nobody can tell them apart by {POINTS[pair.point].name}"
        said.append(f"Offer {pair.offer}, not {pair.leave}: {apart}.{_instead(judged, pair.leave)}")
    return tuple(said)


def _instead(judged: Judged, size: str) -> str:
    """Return which blanks could stand in for a size, as a further sentence; "" for none."""
    found = [
        f"{near.name} in {near.instead[size][0]}"
        for near in stand_ins(judged.case)
        if near.decision in ACCEPTING
        and size in near.instead
        and near.instead[size][1] <= _NEAR_ENOUGH
    ]
    return f" For {size}, {say_list(found[:2])} could stand in." if found else ""
