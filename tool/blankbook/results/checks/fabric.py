"""Is the cloth as heavy as claimed?"""

from statistics import fmean

from blankbook.records.amounts import OUNCE_PER_SQUARE_YARD
from blankbook.records.model import Round, Swatch
from blankbook.results.evidence import is_required
from blankbook.results.limits import Limits, answer_inside, limits, pieces_to_settle
from blankbook.results.number_words import say_more, say_percent, say_sentences
from blankbook.results.piece_spread import moderate, pool
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Case, Check, Number, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES

KEY = "fabric"

OUNCE = float(OUNCE_PER_SQUARE_YARD)
"""An ounce per square yard in grams per square metre."""


def mass_per_area(swatch: Swatch) -> float:
    """Return the mass per unit area in g/m2.

    Source: the cut-swatch method; ASTM D3776 option C for knits (ISO 3801 is its woven sibling).

    >>> round(mass_per_area(Swatch(area=10_000.0, mass=1.53)), 6)
    153.0
    """
    return swatch.mass / swatch.area * 1_000_000


def judge(case: Case) -> list[Result]:
    """Return one answer, from the newest round with swatches."""
    round_ = next((round_ for round_ in reversed(case.blank.rounds) if round_.swatches), None)
    if round_ is None:
        return [Result(KEY, Answer.NOT_TESTED, "no swatch was cut and weighed")]
    return [_judge_swatches(case, round_)]


def _judge_swatches(case: Case, round_: Round) -> Result:
    masses = [mass_per_area(swatch) for swatch in round_.swatches]
    claimed = case.blank.style.mass
    mean = fmean(masses)
    base = claimed or mean
    percents = [100 * (mass - base) / base for mass in masses]
    deviation, freedom = moderate(case.shop.mass_spread, pool([percents]))
    off = limits(fmean(percents), deviation / len(masses) ** 0.5, freedom, case.shop.risk)
    found = Number(
        Quantity.MASS, mean, "g/m2", base * (1 + off.low / 100), base * (1 + off.high / 100)
    )
    swatches = Number(Quantity.SWATCHES, len(masses), "pieces")
    if claimed is None:
        says = f"{_both(mean)}, and no claim to hold it against"
        numbers: tuple[Number, ...] = (found, swatches)
        required = is_required(case, KEY)
        return Result(
            KEY, Answer.NOT_TESTED, says, round=round_.key, numbers=numbers, deciding=required
        )
    allowed = case.shop.mass_tolerance
    answer = answer_inside(off, allowed)
    more = None
    if answer == Answer.NOT_SHOWN:
        more = pieces_to_settle(off, (-allowed, allowed), deviation, case.shop.risk)
    return Result(
        KEY,
        answer,
        _reason(case, mean, claimed, off, answer, more),
        word="" if answer == Answer.NOT_SHOWN else _word(off, case.shop.mass_tolerance),
        lot=round_.lot,
        round=round_.key,
        numbers=(
            found,
            Number(Quantity.CLAIMED, claimed, "g/m2"),
            Number(Quantity.OFF_THE_CLAIM, off.mean, "%", off.low, off.high),
            Number(Quantity.TOLERANCE, case.shop.mass_tolerance, "%"),
            swatches,
        ),
        more_pieces=more,
    )


def _word(off: Limits, allowed: float) -> str:
    if off.high < -allowed:
        return "light"
    return "heavy" if off.low > allowed else "as claimed"


def _both(mass: float) -> str:
    return f"{mass:.0f} g/m2 ({mass / OUNCE:.1f} oz/yd2)"


def _reason(
    case: Case, mean: float, claimed: float, off: Limits, answer: Answer, more: int | None
) -> str:
    says = f"{_both(mean)} against a claim of {_both(claimed)}"
    by = say_percent(off.mean, signed=True)
    span = f"the difference is {by}, between {off.low:+.1f} and {off.high:+.1f} %"
    limit = f"the tolerance of {say_percent(case.shop.mass_tolerance)}"
    if answer == Answer.MEETS:
        return say_sentences(f"{says}, inside {limit}", span)
    if answer == Answer.FAILS:
        return say_sentences(f"{says}, outside {limit}", span)
    return say_sentences(f"{says}; {limit} is not settled", span, say_more(more, "(swatches)"))


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Is the cloth as heavy as claimed?",
    "Swatches of known area are weighed: mass per unit area is grams over square metres. Their "
    "mean, with its one-sided limits, is held against the claim and the shop's tolerance.",
    "cut-swatch method, ASTM D3776 option C; ISO 3801 for woven cloth",
    judge,
    "mass per unit area = grams / square metres\n"
    "limits = mean of 100 × (mass − claim) / claim ± t(1 − risk; ν) × s / √n",
)
