"""Is a size what the chart says it is?"""

from math import ceil

from blankbook.results.comparable_lines import NOT_COMPARABLE, line_mismatch
from blankbook.results.evidence import (
    YOUNGER_CHART,
    Sample,
    chart_for,
    charted_length,
    is_chart_younger,
    is_deciding,
    measured_points,
    newest_sample,
    tolerance,
)
from blankbook.results.limits import Limits, limits, pieces_to_settle, t_below
from blankbook.results.methods.tolerance_intervals import tolerance_factor
from blankbook.results.number_words import say_length, say_length_change, say_limits, say_more
from blankbook.results.piece_spread import mean_error
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "size_against_chart"
NINE_TENTHS = 0.90
"""The share of all pieces whose limits are told beside the mean."""


def judge(case: Case) -> list[Result]:
    """Return one answer per size and point that was measured or charted."""
    found = []
    for size in case.blank.style.sizes:
        for point in measured_points(case) or case.shop.deciding_points:
            sample = newest_sample(case, size, point)
            found.append(
                _judge_sample(case, sample) if sample else _not_measured(case, size, point)
            )
    return found


def _not_measured(case: Case, size: str, point: str) -> Result:
    nobody = not any(round_.pieces for round_ in case.blank.rounds)
    return Result(
        KEY,
        Answer.NOT_TESTED,
        f"{size} {POINTS[point].name}: not measured",
        size=size,
        point=point,
        deciding=nobody and is_deciding(case, point),
    )


def _judge_sample(case: Case, sample: Sample) -> Result:
    chart = chart_for(case, sample.round)
    target = charted_length(chart, sample.size, sample.point)
    if target is None:
        return _no_chart(case, sample)
    spread = case.spreads[sample.point]
    allowed = tolerance(case, chart, sample.point)
    off = off_chart_limits(sample, target, spread, case.shop.risk)
    answer = answer_inside(off, allowed)
    more = (
        _more(off, allowed, spread, sample, case.shop.risk) if answer == Answer.NOT_SHOWN else None
    )
    return Result(
        KEY,
        answer,
        _reason(case, sample, off, allowed, answer, more),
        size=sample.size,
        point=sample.point,
        lot=", ".join(sample.lots),
        round=sample.round.key,
        numbers=(
            Number(Quantity.OFF_THE_CHART, off.mean, "mm", off.low, off.high),
            Number(Quantity.MEAN, sample.mean, "mm", target + off.low, target + off.high),
            Number(Quantity.CHART, target, "mm"),
            Number(Quantity.TOLERANCE, allowed, "mm"),
            Number(Quantity.SHARE_INSIDE, share_inside(off, allowed, spread), "chance"),
            nine_in_ten_limits(sample, spread, case.shop.risk),
            Number(Quantity.PIECES, len(sample.values), "pieces"),
        ),
        piece_values=tuple(value - target for value in sample.values),
        more_pieces=more,
        deciding=is_deciding(case, sample.point),
    )


def _no_chart(case: Case, sample: Sample) -> Result:
    spread = case.spreads[sample.point]
    mean = limits(sample.mean, *mean_error(spread, len(sample.values)), case.shop.risk)
    name, other = POINTS[sample.point].name, line_mismatch(case, sample.round, sample.point)
    says = f"{sample.size} {name}: {say_length(sample.mean, case.shop.unit)}"
    younger = is_chart_younger(case, sample.round)
    none = YOUNGER_CHART if younger else "no chart to hold it against"
    return Result(
        KEY,
        Answer.NOT_TESTED,
        f"{says}; {other.says}" if other else f"{says}, and {none}",
        word=NOT_COMPARABLE if other else "",
        size=sample.size,
        point=sample.point,
        lot=", ".join(sample.lots),
        round=sample.round.key,
        numbers=(
            Number(Quantity.MEAN, mean.mean, "mm", mean.low, mean.high),
            nine_in_ten_limits(sample, spread, case.shop.risk),
            Number(Quantity.PIECES, len(sample.values), "pieces"),
        ),
        deciding=is_deciding(case, sample.point),
    )


def off_chart_limits(sample: Sample, target: float, spread: Spread, risk: float) -> Limits:
    """Return the mean's distance from the chart with its limits, millimetres; + is larger."""
    return limits(sample.mean - target, *mean_error(spread, len(sample.values)), risk)


def answer_inside(off: Limits, allowed: float) -> Answer:
    """Return meets where the limits lie wholly inside +/- *allowed*, fails where wholly outside."""
    if -allowed <= off.low and off.high <= allowed:
        return Answer.MEETS
    if off.low > allowed or off.high < -allowed:
        return Answer.FAILS
    return Answer.NOT_SHOWN


def share_inside(off: Limits, allowed: float, spread: Spread) -> float:
    """Return the share of further pieces expected inside, from the predictive t distribution."""
    scale = (spread.deviation**2 + off.error**2) ** 0.5
    above = t_below((allowed - off.mean) / scale, spread.freedom)
    return above - t_below((-allowed - off.mean) / scale, spread.freedom)


def nine_in_ten_limits(sample: Sample, spread: Spread, risk: float) -> Number:
    """Return the limits between which nine in ten pieces of the size measure, millimetres.

    They are those of a two-sided tolerance interval, wrong with chance *risk*: mean +/- k s. The
    mean rests on the n pieces of the size, the spread on all pieces and the assumption, so k takes
    the mean's error as it is, s / sqrt(n) and what people differ by, and the freedom nu of the
    moderated spread in place of n - 1; with n - 1 and nothing assumed it is the factor of
    ISO 16269-6. Pieces are meant as this tape reads them, so the tape widens the limits.
    """
    error = mean_error(spread, len(sample.values))[0] / spread.deviation
    if spread.people:  # another for every blank: rounded up, so that few factors are worked out
        error = ceil(50 * error) / 50
    reach = spread.deviation * tolerance_factor(error, spread.freedom, NINE_TENTHS, 1 - risk)
    return Number(Quantity.NINE_IN_TEN, sample.mean, "mm", sample.mean - reach, sample.mean + reach)


def _more(off: Limits, allowed: float, spread: Spread, sample: Sample, risk: float) -> int | None:
    margin = abs(allowed - abs(off.mean))
    return pieces_to_settle(
        margin, spread.deviation, spread.freedom, len(sample.values), risk, fixed=spread.people
    )


def _reason(
    case: Case, sample: Sample, off: Limits, allowed: float, answer: Answer, more: int | None
) -> str:
    unit = case.shop.unit
    border = f"the {say_length(allowed, unit)} tolerance"
    says = f"{sample.size} {POINTS[sample.point].name} is {_off(off.mean, unit)}"
    if answer == Answer.MEETS:
        return f"{says}, inside {border} ({say_limits(off, unit)})"
    if answer == Answer.FAILS:
        return f"{says}, outside {border} ({say_limits(off, unit)})"
    return f"{says}, but may be anywhere {say_limits(off, unit)}, past {border}: {say_more(more)}"


def _off(mm: float, unit: str) -> str:
    text = say_length_change(mm, unit)
    if text.startswith(("0 ", "0.0 ")):
        return "as charted"
    return f"{text.lstrip('+-')} {'over' if mm > 0 else 'under'} the chart"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is each size what the supplier's chart says, within the tolerance?",
    "The mean of the pieces of a size, with its one-sided limits, is held against the chart: "
    "wholly inside the tolerance meets, wholly outside fails, anything else is not shown. The "
    "standard error is the moderated spread of single pieces over the square root of their number. "
    "The JSON also has the limits between which nine in ten pieces of the size lie: the mean, give "
    "or take k times the spread, k from the two-sided tolerance interval.",
    "two one-sided tests, Schuirmann 1987; moderated variance, Smyth 2004; tolerance interval, "
    "ISO 16269-6, with the freedom of the moderated spread",
    judge,
    "limits = (mean − chart) ± t(1 − risk; ν) × s / √n\n"
    "share inside = T((tolerance − off) / w; ν) − T((−tolerance − off) / w; ν), w² = s² + s² / n",
)
