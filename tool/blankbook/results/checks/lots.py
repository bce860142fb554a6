"""Is the newest lot what the approved one was, do the lots keep still, and what of the next?"""

from collections.abc import Sequence

from blankbook.results.evidence import chart_for, is_required, tolerance
from blankbook.results.methods.equivalence import Comparison, MoveAnswer, compare_with_margin
from blankbook.results.number_words import (
    say_length,
    say_length_change,
    say_limits,
    say_list,
    say_sentences,
)
from blankbook.results.over_lots.lot_history import (
    EACH_ALARM,
    MOST_LOTS,
    MOVE_MARGIN,
    believed_of_lots,
    lots_of,
    lots_on_charts,
    matched_difference,
    reference_lot,
)
from blankbook.results.over_lots.next_lot import LotForecast, lot_forecast
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Lot, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "lots"


def judge(case: Case) -> list[Result]:
    """Return one answer per deciding point: moved or not, the alarms, and what the next may be."""
    return [_judge_point(case, point, lots_of(case, point)) for point in case.shop.deciding_points]


def _judge_point(case: Case, point: str, lots: list[Lot]) -> Result:
    if len(lots) < 2:
        return _first_lot(case, point, lots)
    newest, before = lots[-1], reference_lot(lots)
    margin = MOVE_MARGIN * tolerance(case, chart_for(case, newest.round), point)
    moved = lot_move(case, point, newest, before, margin)
    charts = lots_on_charts(case, point, lots)
    beyond = [place for place, chart in enumerate(charts) if chart.alarm]
    ahead = next_lot_forecast(case, point, lots)
    says = f"{POINTS[point].name}: {_moved(case, moved, newest, before, margin)}"
    return Result(
        KEY,
        _answer(moved, beyond, len(lots) - 1),
        say_sentences(says, _alarm(lots, beyond), say_next_lot(ahead, case.shop.unit)),
        word=str(moved.answer),
        point=point,
        lot=newest.round.lot,
        round=newest.round.key,
        numbers=(
            Number(Quantity.MOVED_BY, moved.difference, "mm", moved.low, moved.high),
            Number(Quantity.MARGIN, margin, "mm"),
            *_numbers(ahead, len(lots)),
        ),
        alarms=tuple(lots[place].round.lot for place in beyond),
    )


def _first_lot(case: Case, point: str, lots: Sequence[Lot]) -> Result:
    name = POINTS[point].name
    reason = f"{name}: fewer than two lots were held to a chart, so nothing can have moved yet"
    if not lots:
        return Result(KEY, Answer.NOT_TESTED, reason, point=point, deciding=is_required(case, KEY))
    ahead, unit = next_lot_forecast(case, point, lots), case.shop.unit
    this = f"this lot is {say_length_change(lots[0].off, unit)} against the chart"
    return Result(
        KEY,
        Answer.NOT_TESTED,
        say_sentences(reason, this, say_next_lot(ahead, unit)),
        point=point,
        lot=lots[0].round.lot,
        round=lots[0].round.key,
        numbers=_numbers(ahead, 1),
        deciding=is_required(case, KEY),
    )


def lot_move(case: Case, point: str, newest: Lot, before: Lot, margin: float) -> Comparison:
    """Return how far the newest lot lies from the one before, size by size, with its limits."""
    difference, square = matched_difference(case, point, before, newest)
    return compare_with_margin(
        difference, square**0.5, case.spreads[point].freedom, margin, case.shop.risk
    )


def next_lot_forecast(case: Case, point: str, lots: Sequence[Lot]) -> LotForecast:
    """Return what the lots so far say of the next."""
    return lot_forecast(lots[-MOST_LOTS:], believed_of_lots(case, point), case.shop.risk)


def _numbers(ahead: LotForecast, count: int) -> tuple[Number, ...]:
    between, within, coming = ahead.between, ahead.within, ahead.next
    return (
        Number(Quantity.LOTS, count, "count"),
        Number(Quantity.BETWEEN_LOTS, between.value, "mm", between.low, between.high),
        Number(Quantity.WITHIN_LOTS, within.value, "mm", within.low, within.high),
        Number(Quantity.ASSUMED_SHARE, ahead.assumed, "share"),
        Number(Quantity.NEXT_LOT, coming.mean, "mm", coming.low, coming.high),
    )


def _answer(moved: Comparison, beyond: Sequence[int], last: int) -> Answer:
    if moved.answer == MoveAnswer.MOVED or last in beyond:
        return Answer.FAILS
    return Answer.MEETS if moved.answer == MoveAnswer.UNCHANGED else Answer.NOT_SHOWN


def _moved(case: Case, moved: Comparison, newest: Lot, before: Lot, margin: float) -> str:
    unit = case.shop.unit
    by = say_length_change(moved.difference, unit)
    span = f"{say_length_change(moved.low, unit)} and {say_length_change(moved.high, unit)}"
    against, most = f"the {before.round.date} round", say_length(margin, unit)
    words = {
        MoveAnswer.UNCHANGED: f"unchanged against {against}",
        MoveAnswer.MOVED: f"moved by {by} against {against}, more than {most}",
    }
    says = words.get(moved.answer, f"{by} against {against}, which settles nothing yet")
    lies = "the difference lies between"
    if moved.answer == MoveAnswer.UNCHANGED:
        lies = f"the difference is {by}, between"
    return say_sentences(f"lot {newest.round.lot} is {says}", f"{lies} {span}")


def _alarm(lots: Sequence[Lot], beyond: Sequence[int]) -> str:
    named = say_list([lots[place].round.lot for place in beyond])
    return f"beyond the limits for lots: {named}" if named else ""


def say_next_lot(ahead: LotForecast, unit: str) -> str:
    """Return where the next lot may lie, and what says so, in sentences."""
    coming = ahead.next
    says = f"the next lot is expected at {say_length_change(coming.mean, unit)}"
    by = "how far lots usually differ" if ahead.assumed > 0.5 else "these lots"
    return say_sentences(f"{says}, {say_limits(coming, unit)}", f"that rests mostly on {by}")


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is the newest lot what the approved one was? Do the lots keep still? Where may the next lie?",
    "The sizes of the newest lot are held against the same sizes of the last approved one: two "
    "one-sided tests within half the tolerance say unchanged or moved, or neither. Beside it, each "
    "lot is held against where those before it let it be expected, with what each size has of its "
    "own taken out; so is the moving average of all. A lot beyond is an alarm: of twenty lots of a "
    "style that keeps still, one in twenty such styles raises any. How far lots differ, and where "
    "the next one may lie, starts from what the shop states or its other styles show, and is drawn "
    "towards what these lots show.",
    "two one-sided tests, Schuirmann 1987; model with random effects, averaged over a grid of "
    "variances; a chart that starts by itself, Hawkins 1987; moving average, Roberts 1959",
    judge,
    "limits of the move = (newest − approved) ± t(1 − risk; ν) × s × √(1/n₁ + 1/n₂)\n"
    f"alarm beyond = expected by the lots before ± t({1 - EACH_ALARM:.6f}; ν) × deviation\n"
    "the next lot = expected by all lots ± t(1 − risk; ν) × deviation",
)
