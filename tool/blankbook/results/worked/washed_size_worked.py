"""Which size a washed piece measures like, worked out."""

from collections.abc import Sequence
from statistics import fmean

from blankbook.records.model import Shop
from blankbook.results.checks.washed_size import (
    SizeWhenNew,
    judge,
    sizes_when_new,
    washed_pieces,
    washed_spread,
)
from blankbook.results.checks.washing import washed_round
from blankbook.results.limits import t_quantile
from blankbook.results.number_words import say_counted
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Spread
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    decimal_text,
    first_with,
    length_figures,
    mean_line,
)
from blankbook.words.points import POINTS


def washed_size_lines(case: Case) -> list[WorkedLine]:
    """Return the first size that was washed, between the borders that it had when new."""
    result, round_ = first_with(judge(case), Quantity.OFF_ITS_OWN_SIZE), washed_round(case)
    after = washed_pieces(round_, result.size, result.point) if result and round_ else None
    if result is None or round_ is None or after is None:
        return []
    place = sizes_when_new(case, round_, result.point)[result.size]
    figures, spread = length_figures(case.shop.unit), case.spreads[result.point]
    washed = washed_spread(spread, fmean(after.values), case.shop).deviation
    t = t_quantile(1 - case.shop.risk, spread.freedom)
    name = f"{after.size} {POINTS[after.point].name}"
    return [
        mean_line(f"{name} when new", place.sample.values, figures),
        WorkedLine("border to the size below", figures.full(place.low)),
        WorkedLine("border to the size above", figures.full(place.high)),
        mean_line(f"{name} after {say_counted(after.cycles, 'wash')}", after.values, figures),
        WorkedLine("t", decimal_text(t, 3), f"t({1 - case.shop.risk:.4g}; {spread.freedom:.4g})"),
        washed_line(spread, fmean(after.values), case.shop, figures),
        *_room_lines(after.values, place, (washed, spread.deviation), t, figures),
        answer_line(result),
    ]


def _room_lines(
    values: Sequence[float],
    place: SizeWhenNew,
    deviations: tuple[float, float],
    t: float,
    figures: Figures,
) -> list[WorkedLine]:
    """Return how far the washed mean lies inside each border, and how far it must at least.

    The two deviations are those of washed and of new pieces.
    """
    mean, count = fmean(values), len(values)
    washed, new = deviations
    found = []
    for name, room, border, weight in (
        ("below", mean - place.low, place.low, place.low_weight),
        ("above", place.high - mean, place.high, place.high_weight),
    ):
        ends = (mean, border) if name == "below" else (border, mean)
        away = f"{figures.put(ends[0])} − {figures.put(ends[1])}"
        need = t * (washed**2 / count + new**2 * weight) ** 0.5
        squares = f"{figures.bare(washed, 1)}² / {count} + {figures.bare(new, 1)}² × {weight:.4g}"
        wide = f"{decimal_text(t, 3)} × √({squares})"
        found.append(WorkedLine(f"inside the border {name} by", figures.full(room), away))
        found.append(WorkedLine("which must be at least", figures.full(need), wide))
    return found


def washed_line(new: Spread, length: float, shop: Shop, figures: Figures) -> WorkedLine:
    """Return the spread of washed pieces: of new ones, and what unlike shrinking adds."""
    shrinks = f"{shop.wash_spread.deviation / 100:g} × {figures.bare(length)}"
    put_in = f"√({figures.bare(new.deviation, 1)}² + ({shrinks})²)"
    deviation = washed_spread(new, length, shop).deviation
    return WorkedLine("s of washed pieces", figures.full(deviation, 1), put_in)
