"""What so many pieces can show, and what good ones leave open, as plain data for the JSON."""

from typing import Any

from blankbook.results.planning.can_show import WANTED_CHANCE, ShowingRow, can_show
from blankbook.results.planning.left_open import left_open
from blankbook.results.result_types import Judged


def can_show_data(judged: Judged) -> dict[str, Any]:
    """Return what so many pieces can show: the newest round, or what might be bought."""
    found = can_show(judged)
    buys = [{"sizes": b.sizes, "each": b.each, "colours": b.colours} for b in found.purchases]
    spreads = {
        one.point: {"value": nine_digits(one.spread.deviation), "unit": "mm"} for one in found.asked
    }
    rows = [row_data(row) for row in found.rows]
    return {
        "measured": found.measured,
        "wanted": WANTED_CHANCE,
        "purchases": buys,
        "spreads": spreads,
        "rows": rows,
    }


def row_data(row: ShowingRow) -> dict[str, Any]:
    """Return one question with its chances, by purchase."""
    chances = [None if chance is None else nine_digits(chance) for chance in row.chances]
    return {"question": row.key, "says": row.what, "chances": chances, "enough": row.enough}


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
    """Return *value* to nine significant digits: what is printed is not noise."""
    return float(f"{value:.9g}")
