"""Rounds that are planned and not measured yet: no evidence, but not to be forgotten."""

from collections import Counter
from typing import Any

from blankbook.records.model import Blank, PlannedRound


def say_planned(planned: PlannedRound) -> str:
    """Return what is to be bought, as a shop would say it: ``2 M, 1 XL; black, cream``."""
    counts = Counter(piece.size for piece in planned.pieces)
    sizes = ", ".join(f"{count} {size}" for size, count in counts.items())
    colours = ", ".join(dict.fromkeys(piece.colour for piece in planned.pieces))
    return f"{sizes}; {colours}"


def planned_data(blank: Blank) -> list[dict[str, Any]]:
    """Return a blank's planned rounds as data, in the order they were planned in."""
    return [
        {
            "round": planned.key,
            "planned": planned.planned.isoformat(),
            "pieces": [
                {"piece": piece.key, "size": piece.size, "colour": piece.colour}
                for piece in planned.pieces
            ],
            "says": say_planned(planned),
            "source": planned.source.path,
        }
        for planned in blank.planned
    ]
