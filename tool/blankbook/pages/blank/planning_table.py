"""What so many pieces can show, as a table: a row for each question, a column for each purchase."""

from dataclasses import dataclass

from blankbook.pages.value_words import DASH, length_text, point_name, unit_name
from blankbook.records.model import Shop
from blankbook.results.make_case import make_case
from blankbook.results.number_words import say_list, times_in_100
from blankbook.results.planning.approval import PieceCounts
from blankbook.results.planning.can_show import (
    USUAL_SIZES,
    WANTED_CHANCE,
    CanShow,
    can_show,
    shown_by_purchases,
)
from blankbook.results.result_types import Judged
from blankbook.results.worked.example_blank import unmeasured_blank


@dataclass(frozen=True, slots=True)
class PlanningRow:
    """One thing that may be wrong, and how often so many pieces show it."""

    what: str
    chances: tuple[str, ...]
    """For each purchase, in times of 100."""
    enough: str
    """How many pieces bring the chance that is wanted."""


@dataclass(frozen=True, slots=True)
class PlanningTable:
    """What so many pieces can show."""

    measured: bool
    """Whether the pieces are those of the newest round."""
    caption: str
    heads: tuple[str, ...]
    wanted: str
    rows: tuple[PlanningRow, ...]


def planning_table(judged: Judged) -> PlanningTable:
    """Return the table for one blank."""
    return _purchases_table(can_show(judged), judged.case.shop)


def usual_planning_table(shop: Shop) -> PlanningTable:
    """Return the table for one to six pieces of each of three sizes, by the shop's own rules."""
    case = make_case(unmeasured_blank(), shop)
    buys = tuple(PieceCounts(USUAL_SIZES, each) for each in range(1, 7))
    return _purchases_table(shown_by_purchases(case, buys), shop)


def _purchases_table(found: CanShow, shop: Shop) -> PlanningTable:
    """Return the table of what the purchases can show."""
    return PlanningTable(
        measured=found.measured,
        caption=_caption(found, shop.unit),
        heads=tuple(_head(buy, found.measured) for buy in found.purchases),
        wanted=times_in_100(WANTED_CHANCE),
        rows=tuple(
            PlanningRow(
                what=row.what,
                chances=tuple(
                    DASH if chance is None else times_in_100(chance) for chance in row.chances
                ),
                enough=row.enough or DASH,
            )
            for row in found.rows
        ),
    )


def _caption(found: CanShow, unit: str) -> str:
    first = found.purchases[0]
    sizes = "one size" if first.sizes == 1 else f"{first.sizes} sizes"
    bought = f"The newest round: {sizes}, {_pieces(first)}" if found.measured else f"For {sizes}"
    spreads = say_list([_spread(one.spread.deviation, one.point, unit) for one in found.asked])
    return f"{bought}. Reckoned with a spread between pieces of {spreads}. Times in 100"


def _spread(deviation: float, point: str, unit: str) -> str:
    return f"{length_text(deviation, unit)} {unit_name(unit)} at {point_name(point)}"


def _pieces(buy: PieceCounts) -> str:
    each = "one piece each" if buy.each == 1 else f"{buy.each} pieces each"
    return each if buy.colours == 1 else f"{each} in each of {buy.colours} colours"


def _head(buy: PieceCounts, measured: bool) -> str:
    return "this round" if measured else f"{buy.each} each"
