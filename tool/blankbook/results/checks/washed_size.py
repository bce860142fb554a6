"""Which size has a washed piece become, against the chart that it was sold by?"""

from dataclasses import dataclass, replace
from statistics import fmean

from blankbook.records.model import Round, Shop
from blankbook.results.checks.size_against_chart import answer_inside
from blankbook.results.checks.washing import washed_round
from blankbook.results.evidence import chart_for, charted_length
from blankbook.results.limits import Limits, limits, pieces_to_settle
from blankbook.results.number_words import (
    say_counted,
    say_length,
    say_length_change,
    say_limits,
    say_more,
)
from blankbook.results.piece_spread import mean_error, mean_reading
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "washed_size"


@dataclass(frozen=True, slots=True)
class WashedAgainstChart:
    """The pieces of one size after their most washes, beside the chart; millimetres."""

    size: str
    point: str
    cycles: int
    values: tuple[float, ...]
    """One for each piece."""
    target: float
    """The charted length of the size, as received."""
    step: float
    """The charted step from the size below, or to the one above where there is none below."""


def judge(case: Case) -> list[Result]:
    """Return one answer per size and deciding point that was measured after washing."""
    round_ = washed_round(case)
    if round_ is None:
        return []
    return [
        _judge_size(case, round_, become)
        for size in case.blank.style.sizes
        for point in case.shop.deciding_points
        if (become := washed_against_chart(case, round_, size, point))
    ]


def washed_against_chart(
    case: Case, round_: Round, size: str, point: str
) -> WashedAgainstChart | None:
    """Return what the pieces of *size* measure after their most washes, if the chart has it."""
    stages = [
        (washed.cycles, mean_reading(washed.readings[point]))
        for piece in round_.pieces
        for washed in piece.washed
        if piece.size == size and point in washed.readings
    ]
    target = charted_length(chart_for(case, round_), size, point)
    step = _step(case, round_, size, point)
    if not stages or target is None or not step:
        return None
    most = max(cycles for cycles, _ in stages)
    values = tuple(value for cycles, value in stages if cycles == most)
    return WashedAgainstChart(size, point, most, values, target, step)


def _step(case: Case, round_: Round, size: str, point: str) -> float | None:
    sizes = case.blank.style.sizes
    place = sizes.index(size)
    chart = chart_for(case, round_)
    for low, high in ((place - 1, place), (place, place + 1)):
        if low >= 0 and high < len(sizes):
            small, large = (charted_length(chart, sizes[at], point) for at in (low, high))
            if small is not None and large is not None:
                return large - small
    return None


def washed_spread(new: Spread, length: float, shop: Shop) -> Spread:
    """Return the spread of washed pieces: that of new ones joined with that of their changes.

    Units: *length* is in millimetres.
    """
    shrinking = shop.wash_spread.deviation / 100 * length
    return replace(new, deviation=float((new.deviation**2 + shrinking**2) ** 0.5))


def _judge_size(case: Case, round_: Round, become: WashedAgainstChart) -> Result:
    spread = washed_spread(case.spreads[become.point], fmean(become.values), case.shop)
    count = len(become.values)
    error, freedom = mean_error(spread, count)
    off = limits(fmean(become.values) - become.target, error, freedom, case.shop.risk)
    half = abs(become.step) / 2
    answer = answer_inside(off, half)
    more = None
    if answer == Answer.NOT_SHOWN:
        margin = abs(half - abs(off.mean))
        more = pieces_to_settle(
            margin, spread.deviation, freedom, count, case.shop.risk, fixed=spread.people
        )
    return Result(
        KEY,
        answer,
        _reason(case, become, off, answer, more),
        word=_word(off, half),
        size=become.size,
        point=become.point,
        lot=round_.lot,
        cycles=become.cycles,
        round=round_.key,
        numbers=(
            Number(Quantity.WASHED_OFF_THE_CHART, off.mean, "mm", off.low, off.high),
            Number(Quantity.WASHED, become.target + off.mean, "mm"),
            Number(Quantity.CHART, become.target, "mm"),
            Number(Quantity.HALF_A_STEP, half, "mm"),
            Number(Quantity.PIECES, count, "pieces"),
        ),
        more_pieces=more,
        deciding=False,
    )


def _word(off: Limits, half: float) -> str:
    if off.high < -half:
        return "a size down"
    if off.low > half:
        return "a size up"
    return "its own size" if -half <= off.low and off.high <= half else ""


def _reason(
    case: Case, become: WashedAgainstChart, off: Limits, answer: Answer, more: int | None
) -> str:
    unit = case.shop.unit
    washes = say_counted(become.cycles, "wash")
    says = (
        f"{become.size} {POINTS[become.point].name} after {washes} is "
        f"{say_length_change(off.mean, unit)} against the chart as received "
        f"({say_limits(off, unit)})"
    )
    half = say_length(abs(become.step) / 2, unit)
    if answer == Answer.MEETS:
        return f"{says}: nearer to its own size than to the next ({half} is half a step)"
    if answer == Answer.FAILS:
        other = "smaller" if off.mean < 0 else "larger"
        return f"{says}: it has become the {other} size, {half} being half a step"
    return f"{says}; half a step is {half}: {say_more(more, 'washed')}"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Which size has a washed piece become, against the chart that it was sold by?",
    "The mean of the washed pieces of a size, with its one-sided limits, is held against the "
    "charted length as received: within half a grade step it is still its own size, wholly beyond "
    "it has become the next one. Washed pieces differ by how they shrank as well, by as much as "
    "the shop states.",
    "two one-sided tests, Schuirmann 1987; half the charted grade step as the border is ours",
    judge,
    "limits = (mean after washing − chart as received) ± t(1 − risk; ν) × s / √n\n"
    "s² = (spread of new pieces)² + (spread of changes × length)²",
)
