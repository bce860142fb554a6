"""The check over lots, worked out: the move, the alarm, and where the next lot may lie."""

from collections.abc import Sequence

from blankbook.results.checks.lots import judge
from blankbook.results.limits import normal_below, t_quantile
from blankbook.results.methods.control_charts import LIMIT_DEVIATIONS, Basis
from blankbook.results.over_lots.lot_history import (
    lot_charts,
    lots_of,
    reference_lot,
    stated_between,
)
from blankbook.results.over_lots.next_lot import LotForecast, lot_forecast
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
    difference = f"{figures.put(newest.off)} − {figures.put(before.off)}"
    error = (newest.error(spread) ** 2 + before.error(spread) ** 2) ** 0.5
    parts = f"√(1/{before.pieces} + 1/{newest.pieces})"
    put_in = f"{figures.bare(spread.deviation, 1)} × {parts}"
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
    """Return how far the newest lot may lie from the line before it is an alarm."""
    chart, spread = lot_charts(case, point, lots).single, case.spreads[point]
    if chart.basis != Basis.STATED_SPREAD:
        return []
    high = chart.points[-1].high - chart.centre
    wide = decimal_text(t_quantile(normal_below(LIMIT_DEVIATIONS), spread.freedom), 3)
    between = figures.bare(stated_between(case, point).deviation, 1)
    deviation = figures.bare(spread.deviation, 1)
    counts = (lots[-1].pieces, reference_lot(lots).pieces)
    squares = f"{between}² + {deviation}² / {counts[0]} + {deviation}² / {counts[1]}"
    width = f"t({normal_below(LIMIT_DEVIATIONS):.6f}; {spread.freedom:.4g})"
    return [
        WorkedLine("as rare as 3 deviations", wide, width),
        WorkedLine("alarm from this far off", figures.full(high), f"{wide} × √({squares})"),
    ]


def _next_lines(case: Case, point: str, lots: Sequence[Lot], figures: Figures) -> list[WorkedLine]:
    stated, spread = stated_between(case, point), case.spreads[point]
    ahead = lot_forecast(lots, spread, stated, case.shop.risk)
    if not ahead.stated:
        return []
    own = f"{figures.bare(stated.deviation, 1)}² + {figures.bare(spread.deviation, 1)}²"
    square = figures.scale**2
    variances = [(stated.deviation**2 + lot.error(spread) ** 2) / square for lot in lots]
    said = [decimal_text(variance, 5) for variance in variances]
    weights = " + ".join(f"1 / {variance}" for variance in said)
    mean = " + ".join(
        f"{figures.put(lot.off, 1)} / {variance}" for lot, variance in zip(lots, said, strict=True)
    )
    return [
        WorkedLine("stated deviation between lots", figures.full(stated.deviation, 1)),
        *(
            WorkedLine(f"variance of lot {lot.round.lot}", variance, f"{own} / {lot.pieces}")
            for lot, variance in zip(lots, said, strict=True)
        ),
        WorkedLine("the next lot", figures.full(ahead.next.mean, 1), f"({mean}) / ({weights})"),
        *_next_limits(case, lots, ahead, said, figures, own),
    ]


def _next_limits(
    case: Case,
    lots: Sequence[Lot],
    ahead: LotForecast,
    said: Sequence[str],
    figures: Figures,
    own: str,
) -> list[WorkedLine]:
    """Return the limits of the next: its variance and the mean's, drawn to what was seen."""
    coming = ahead.next
    middle = figures.put(coming.mean, 1)
    squares = " + ".join(
        f"({figures.put(lot.off, 1)} − {middle})² / {variance}"
        for lot, variance in zip(lots, said, strict=True)
    )
    worth = round(coming.freedom - len(lots) + 1, 6)
    weights = " + ".join(f"1 / {value}" for value in said)
    variance = f"{own} / {decimal_text(ahead.pieces, 3)} + 1 / ({weights})"
    error = f"√(({variance}) × ({worth:g} + {squares}) / {coming.freedom:.4g})"
    t = decimal_text(t_quantile(1 - case.shop.risk, coming.freedom), 3)
    width = f"{t} × {figures.bare(coming.error, 1)}"
    return [
        WorkedLine("its deviation", figures.full(coming.error, 1), error),
        WorkedLine("t", t, f"t({1 - case.shop.risk:.4g}; {coming.freedom:.4g})"),
        WorkedLine("lower limit of the next", figures.full(coming.low), f"{middle} − {width}"),
        WorkedLine("upper limit of the next", figures.full(coming.high), f"{middle} + {width}"),
    ]
