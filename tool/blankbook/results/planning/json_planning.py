"""What so many pieces can show, and what good ones leave open, as data for the JSON."""

from typing import Any

from blankbook.results.methods.power_statements import PowerStatement
from blankbook.results.planning.can_show import WANTED_CHANCE, can_show
from blankbook.results.planning.left_open import left_open
from blankbook.results.result_types import Judged


def can_show_data(judged: Judged) -> dict[str, Any]:
    """Return what so many pieces can show: the newest round, or what might be bought."""
    found = can_show(judged)
    buys = [{"sizes": b.sizes, "each": b.each, "colours": b.colours} for b in found.purchases]
    return {
        "measured": found.measured,
        "wanted": WANTED_CHANCE,
        "purchases": buys,
        "points": {
            point.point: {
                "spread": {"value": point.known.deviation, "unit": "mm"},
                "freedom": point.known.freedom,
                "shows": [
                    [_showing_data(showing) for showing in answers] for answers in point.showings
                ],
            }
            for point in found.points
        },
        "labels": [_showing_data(showing) for showing in found.labels],
    }


def _showing_data(showing: PowerStatement) -> dict[str, Any]:
    return {
        "question": showing.key,
        "chance": nine_digits(showing.chance),
        "enough": showing.enough,
        "inside_tolerance": showing.inside,
        "says": showing.sentence,
    }


def left_open_data(judged: Judged) -> dict[str, Any]:
    """Return, by check, what share may be bad although every piece was good."""
    found = {
        check: left_open(judged, check) for check in dict.fromkeys(r.check for r in judged.results)
    }
    return {
        check: {"pieces": left.pieces, "share": nine_digits(left.share), "says": left.says}
        for check, left in found.items()
        if left
    }


def nine_digits(value: float) -> float:
    """Return *value* to nine significant digits; what follows is noise of the arithmetic."""
    return float(f"{value:.9g}")
