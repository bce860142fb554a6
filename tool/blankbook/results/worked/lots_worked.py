"""The check over lots, worked out: the move, the alarm, and where the next lot may lie."""

from collections.abc import Sequence

from blankbook.results.checks.lots import judge
from blankbook.results.limits import t_quantile
from blankbook.results.over_lots.lot_history import (
    EACH_ALARM,
    believed_of_lots,
    lots_of,
    lots_on_charts,
    matched_difference,
    reference_lot,
)
from blankbook.results.over_lots.next_lot import lot_forecast
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Lot, Result
from blankbook.results.worked.working_lines import (
    Figures,
    WorkedLine,
    answer_line,
    decimal_text,
    first_with,
    length_figures,
    limit_lines,
    mean_line,
    required_number,
)


def lots_lines(case: Case) -> list[WorkedLine]:
    """Return the newest lot against the one that it is compared with, and the next one."""
    result = first_with(judge(case), Quantity.MOVED_BY)
    if result is None:
        return []
    lots, figures = lots_of(case, result.point), length_figures(case.shop.unit)
    before, newest = reference_lot(lots), lots[-1]
    return [
        *(_lot_line(lot, figures) for lot in (before, newest)),
        *_move_lines(case, result, before, newest, figures),
        *_alarm_line(case, result.point, lots, figures),
        *_next_lines(case, result.point, lots, figures),
        answer_line(result),
    ]


def _lot_line(lot: Lot, figures: Figures) -> WorkedLine:
    values = [off for _, off in lot.values]
    return mean_line(f"lot {lot.round.lot}, off the chart", values, figures)


def _move_lines(
    case: Case, result: Result, before: Lot, newest: Lot, figures: Figures
) -> list[WorkedLine]:
    spread, moved = case.spreads[result.point], required_number(result, Quantity.MOVED_BY)
    both = [size for size in before.by_size if size in newest.by_size]
    counts = [(before.count(size), newest.count(size)) for size in both]
    weights = [f"1 / (1/{old} + 1/{new})" for old, new in counts]
    apart = [f"({figures.put(newest.by_size[s])} − {figures.put(before.by_size[s])})" for s in both]
    weighed = [f"{by} × {weight}" for by, weight in zip(apart, weights, strict=True)]
    difference = f"({' + '.join(weighed)}) / ({' + '.join(weights)})"
    error = matched_difference(case, result.point, before, newest)[1] ** 0.5
    put_in = f"{figures.bare(spread.deviation, 1)} / √({' + '.join(weights)})"
    return [
        WorkedLine("moved by", figures.full(moved.value), difference),
        WorkedLine("its standard error", figures.full(error, 1), put_in),
        *limit_lines(moved, error, spread.freedom, case.shop.risk, figures),
        WorkedLine(
            "margin, half the tolerance",
            figures.full(required_number(result, Quantity.MARGIN).value),
        ),
    ]


def _alarm_line(case: Case, point: str, lots: Sequence[Lot], figures: Figures) -> list[WorkedLine]:
    """Return the limits beyond which the newest lot would be an alarm."""
    chart = lots_on_charts(case, point, lots)[-1]
    if not chart.single or not chart.expected:
        return []
    expected, wide = chart.expected, t_quantile(1 - EACH_ALARM, chart.expected.freedom)
    middle, deviation = figures.put(expected.mean, 1), figures.bare(expected.deviation, 1)
    t = decimal_text(wide, 3)
    return [
        WorkedLine("expected by the lots before", figures.full(expected.mean, 1)),
        WorkedLine("deviation of that", figures.full(expected.deviation, 1)),
        WorkedLine("t", t, f"t({1 - EACH_ALARM:.6f}; {expected.freedom:.4g})"),
        WorkedLine("alarm below", figures.full(chart.single.low), f"{middle} − {t} × {deviation}"),
        WorkedLine("alarm above", figures.full(chart.single.high), f"{middle} + {t} × {deviation}"),
    ]


def _next_lines(case: Case, point: str, lots: Sequence[Lot], figures: Figures) -> list[WorkedLine]:
    believed, risk = believed_of_lots(case, point), case.shop.risk
    ahead = lot_forecast(lots, believed, risk)
    coming, between = ahead.next, figures.full(believed.between.deviation, 1)
    middle = figures.put(coming.mean, 1)
    t = decimal_text(t_quantile(1 - risk, coming.freedom), 3)
    width = f"{t} × {figures.bare(coming.error, 1)}"
    return [
        WorkedLine("lots are believed to differ by", between),
        WorkedLine("and by these lots", figures.full(ahead.between.value, 1)),
        WorkedLine("the next lot", figures.full(coming.mean, 1)),
        WorkedLine("its deviation", figures.full(coming.error, 1)),
        WorkedLine("t", t, f"t({1 - risk:.4g}; {coming.freedom:.4g})"),
        WorkedLine("lower limit of the next", figures.full(coming.low), f"{middle} − {width}"),
        WorkedLine("upper limit of the next", figures.full(coming.high), f"{middle} + {width}"),
    ]
