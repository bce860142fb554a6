"""Is a size what the chart says it is?"""

from math import ceil, floor

from blankbook.results.chart_values import charted_length
from blankbook.results.comparable_lines import NOT_COMPARABLE, line_mismatch
from blankbook.results.evidence import (
    YOUNGER_CHART,
    Sample,
    chart_for,
    is_chart_younger,
    is_deciding,
    measured_points,
    newest_sample,
    tolerance,
)
from blankbook.results.limits import (
    Limits,
    chance_between,
    is_inside,
    is_outside,
    limits,
    pieces_to_settle,
)
from blankbook.results.methods.tolerance_intervals import tolerance_factor
from blankbook.results.number_words import (
    say_chance,
    say_length,
    say_length_change,
    say_limits,
    say_more,
    say_sentences,
)
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
    risk = case.shop.risk
    off = off_chart_limits(sample, target, spread, risk)
    sound = case.posterior.sound[sample.point, sample.size, ""]
    answer = answer_sound(off, (-allowed, allowed), sound, risk)
    if sample.aside and answer == Answer.MEETS:
        answer = Answer.NOT_SHOWN  # a label that some pieces carry wrongly is not what it says
    more = None
    if answer == Answer.NOT_SHOWN and not sample.aside:
        borders = (-allowed, allowed)
        more = pieces_to_settle(off, borders, spread.deviation, risk, fixed=spread.people)
    return Result(
        KEY,
        answer,
        _reason(case, sample, off, allowed, sound, answer, more),
        size=sample.size,
        point=sample.point,
        lot=", ".join(sample.lots),
        round=sample.round.key,
        numbers=(
            Number(Quantity.OFF_THE_CHART, off.mean, "mm", off.low, off.high),
            Number(Quantity.MEAN, sample.mean, "mm", target + off.low, target + off.high),
            Number(Quantity.CHART, target, "mm"),
            Number(Quantity.TOLERANCE, allowed, "mm"),
            Number(Quantity.SOUND_CHANCE, sound, "chance"),
            Number(
                Quantity.SHARE_INSIDE,
                case.posterior.shares[sample.point, sample.size, ""],
                "chance",
            ),
            nine_in_ten_limits(sample, spread, risk),
            Number(Quantity.PIECES, len(sample.values), "pieces"),
        ),
        piece_values=tuple(value - target for value in sample.values),
        more_pieces=more,
        deciding=is_deciding(case, sample.point),
    )


def _no_chart(case: Case, sample: Sample) -> Result:
    spread = case.spreads[sample.point]
    mean = limits(sample.mean, *sample_error(sample, spread), case.shop.risk)
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
    return limits(sample.mean - target, *sample_error(sample, spread), risk)


def sample_error(sample: Sample, spread: Spread) -> tuple[float, float]:
    """Return the standard error of a size's mean, and its degrees of freedom."""
    return mean_error(spread, len(sample.values), sample.apart)


def answer_sound(off: Limits, borders: tuple[float, float], sound: float, risk: float) -> Answer:
    """Return the answer of all readings together, and of those that *off* rests on by themselves.

    It meets where all readings make it sound but for the *risk*, and these alone but for twice
    that, once for either border: so a size that lies on the border meets that seldom, whatever is
    believed of sizes. It fails where the limits lie wholly outside, and all readings say so too but
    for twice the risk.
    """
    if is_outside(off, *borders) and sound <= 2 * risk:
        return Answer.FAILS
    alone = chance_between(off, *borders)
    return Answer.MEETS if sound >= 1 - risk and alone >= 1 - 2 * risk else Answer.NOT_SHOWN


def nine_in_ten_limits(sample: Sample, spread: Spread, risk: float) -> Number:
    """Return the limits between which nine in ten pieces of the size measure, millimetres.

    They are those of a two-sided tolerance interval, wrong with chance *risk*: mean +/- k s. The
    mean rests on the n pieces of the size, the spread on all pieces and the assumption, so k takes
    the mean's error as it is, s / sqrt(n) and what people differ by, and the freedom nu of the
    moderated spread in place of n - 1; with n - 1 and nothing assumed it is the factor of
    ISO 16269-6. Pieces are meant as this tape reads them, so the tape widens the limits.
    """
    # Both are another for every blank: rounded to the safe side, so that few factors are needed.
    error = ceil(50 * sample_error(sample, spread)[0] / spread.deviation) / 50
    freedom = max(floor(2 * spread.freedom) / 2, 1.0)
    reach = spread.deviation * tolerance_factor(error, freedom, NINE_TENTHS, 1 - risk)
    return Number(Quantity.NINE_IN_TEN, sample.mean, "mm", sample.mean - reach, sample.mean + reach)


def _reason(
    case: Case,
    sample: Sample,
    off: Limits,
    allowed: float,
    sound: float,
    answer: Answer,
    more: int | None,
) -> str:
    unit = case.shop.unit
    border = f"the {say_length(allowed, unit)} tolerance"
    says = f"{sample.size} {POINTS[sample.point].name} is {_off(off.mean, unit)}"
    span = say_limits(off, unit, -allowed, allowed)
    inside = is_inside(off, -allowed, allowed)
    if sample.aside and answer == Answer.NOT_SHOWN:
        whole = sample.aside + len(sample.values)
        measures = "measures" if sample.aside == 1 else "measure"
        others = f"but {sample.aside} of {whole} with this tag {measures} otherwise"
        return say_sentences(f"{says}, {others}", f"it lies {span}")
    if answer == Answer.MEETS:
        return say_sentences(f"{says}, inside {border}", say_alone("it lies", span, sound, inside))
    if answer == Answer.FAILS:
        return say_sentences(f"{says}, outside {border}", f"it lies {span}")
    if inside or is_outside(off, -allowed, allowed):
        together = f"all readings together say inside {border}: {say_chance(sound)}"
        return say_sentences(f"{says}, not settled", f"it lies {span}", together)
    may = f"it may lie {span}, past {border}"
    return say_sentences(f"{says}, not settled", may, say_more(more))


def say_alone(lies: str, span: str, sound: float, inside: bool) -> str:
    """Return where it lies; where its own limits would not do, with what all readings say."""
    if inside:
        return f"{lies} {span}"
    return say_sentences(
        f"by its own pieces {lies} {span}", f"all readings together say so: {say_chance(sound)}"
    )


def _off(mm: float, unit: str) -> str:
    text = say_length_change(mm, unit)
    if text.startswith(("0 ", "0.0 ")):
        return "as charted"
    return f"{text.lstrip('+-')} {'over' if mm > 0 else 'under'} the chart"


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is each size what the supplier's chart says, within the tolerance?",
    "The mean of the pieces of a size is that of the lot that was measured. It meets where all "
    "readings together make it sound but for the risk, and its own pieces alone but for twice "
    "that, once for either border. It fails where its one-sided limits lie wholly outside the "
    "tolerance and all readings together say so too. Anything else is not shown, and so is a size "
    "of which a piece does not measure as its tag says: it is left out, and its tag is open. The "
    "standard error is the spread of single pieces, as all readings say it, over the square root "
    "of their number. The JSON also has the limits between which nine in ten pieces of the size "
    "lie: the mean, give or take k times the spread, k from the two-sided tolerance interval.",
    "all that is required at once by its own test, Berger 1982; two one-sided tests, Schuirmann "
    "1987; the model of the causes for all readings together; tolerance interval, ISO 16269-6",
    judge,
    "limits = (mean − chart) ± t(1 − risk; ν) × s / √n\n"
    "alone = T((tolerance − off) / e; ν) − T((−tolerance − off) / e; ν), e = s / √n",
)
