"""What so many pieces can show, and what good ones leave open, as plain data for the JSON."""

from typing import Any

from blankbook.results.methods.power_statements import Showing
from blankbook.results.planning.can_show import WANTED, can_show
from blankbook.results.planning.left_open import left_open
from blankbook.results.result_types import Judged


def can_show_data(judged: Judged) -> dict[str, Any]:
    """Return what so many pieces can show: the newest round, or what might be bought."""
    found = can_show(judged)
    buys = [{"sizes": b.sizes, "each": b.each, "colours": b.colours} for b in found.purchases]
    return {
        "measured": found.measured,
        "wanted": WANTED,
        "purchases": buys,
        "points": {
            one.point: {
                "spread": {"value": one.known.deviation, "unit": "mm"},
                "freedom": one.known.freedom,
                "shows": [[_showing_data(each) for each in ones] for ones in one.showings],
            }
            for one in found.points
        },
        "labels": [_showing_data(each) for each in found.labels],
    }


def _showing_data(one: Showing) -> dict[str, Any]:
    return {
        "question": one.key,
        "chance": rounded(one.chance),
        "enough": one.enough,
        "inside_tolerance": one.inside,
        "says": one.sentence,
    }


def left_open_data(judged: Judged) -> dict[str, Any]:
    """Return, by check, what share may be bad although every piece was good."""
    found = {
        check: left_open(judged, check) for check in dict.fromkeys(r.check for r in judged.results)
    }
    return {
        check: {"pieces": one.pieces, "share": rounded(one.share), "says": one.says}
        for check, one in found.items()
        if one
    }


def rounded(value: float) -> float:
    """Return *value* to nine significant digits: what is printed is not noise."""
    return float(f"{value:.9g}")
