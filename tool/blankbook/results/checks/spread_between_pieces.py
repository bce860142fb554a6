"""Do pieces of one size agree with each other well enough for the tolerance?"""

from math import hypot
from statistics import fmean

from blankbook.records.model import Prior
from blankbook.results.evidence import chart_for, is_deciding, measured_points, tolerance
from blankbook.results.limits import deviation_limits, freedom_to_settle
from blankbook.results.number_words import say, say_more
from blankbook.results.piece_spread import Pool, piece_groups, pool, without_strangers
from blankbook.results.result_types import Case, Check, Number, Result, Spread
from blankbook.results.worked.working_lines import Figures, Line, answered, lengths, plain, so
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.points import POINTS

KEY = "spread"


def judge(case: Case) -> list[Result]:
    """Return one answer per point that was measured."""
    return [_judge_point(case, point) for point in measured_points(case)]


def _judge_point(case: Case, point: str) -> Result:
    spread = case.spreads[point]
    low, high = deviation_limits(spread.deviation, spread.freedom, case.shop.risk)
    chart = chart_for(case, case.round) if case.round else None
    carried = tolerance(case, chart, point) / 2
    answer = Answer.NOT_SHOWN
    if spread.assumed == 1.0:
        answer = Answer.NOT_TESTED
    elif high <= carried:
        answer = Answer.MEETS
    elif low > carried:
        answer = Answer.FAILS
    more = None
    if answer == Answer.NOT_SHOWN:
        more = freedom_to_settle(spread.deviation, spread.freedom, carried, case.shop.risk)
    return Result(
        KEY,
        answer,
        _reason(case, point, answer, more),
        point=point,
        numbers=(
            Number("spread", spread.deviation, "mm", low, high),
            Number("most that the tolerance carries", carried, "mm"),
            Number("degrees of freedom", spread.freedom, "count"),
            Number("share from elsewhere", spread.assumed, "share"),
            Number("part of the reading", spread.reading, "mm"),
        ),
        more_pieces=more,
        deciding=is_deciding(case, point),
    )


_BASES = {"shop": "the shop's assumption", "ledger": "that of the ledger's other blanks"}
_SHARES = {"shop": "assumption", "ledger": "from other blanks"}


def _reason(case: Case, point: str, answer: Answer, more: int | None) -> str:
    spread = case.spreads[point]
    name = POINTS[point].name
    unit = case.shop.unit
    if answer == Answer.NOT_TESTED:
        return (
            f"{name}: no two pieces share size, lot and colour, so the spread is "
            f"{_BASES[spread.origin]} ({say(spread.deviation, unit)})"
        )
    share = f"{spread.assumed:.0%} of it {_SHARES[spread.origin]}"
    differ = say(spread.deviation, unit)
    says = f"{name}: pieces of one size differ by {differ} (one deviation, {share})"
    if answer != Answer.NOT_SHOWN:
        return says
    what = "beyond the first of a size, colour and lot"
    return f"{says}; whether the tolerance carries that is not settled: {say_more(more, what)}"


def work(case: Case) -> list[Line]:
    """Return the moderated spread at the first point, worked out."""
    result = next(iter(answered(judge(case))), None)
    return [*spread_lines(case, result.point), so(result)] if result else []


def spread_lines(case: Case, point: str) -> list[Line]:
    """Return the moderated spread at a point with its limits, worked out."""
    figures, spread = lengths(case.shop.unit), case.spreads[point]
    before = case.shop.spread[point]
    prior = Prior(hypot(before.deviation, spread.reading), before.worth)
    groups = [
        group for group in piece_groups(case.blank.rounds, point) if _is_kept(group[2], prior)
    ]
    seen = sum((pool([values]) for _, _, values in groups), Pool())
    squares = [plain(pool([values]).squares / figures.scale**2, 4) for _, _, values in groups]
    s, total = figures.bare(prior.deviation, 1), plain(seen.squares / figures.scale**2, 4)
    inside = f"({before.worth:g} × {s}² + {total}) / ({before.worth:g} + {seen.freedom})"
    joined = f"√({figures.bare(before.deviation, 1)}² + {figures.bare(spread.reading, 1)}²)"
    return [
        Line("assumed between pieces", figures.full(before.deviation, 1)),
        Line("s₀, joined with what a reading brings", figures.full(prior.deviation, 1), joined),
        *(
            Line(f"squares within {size} of lot {lot}", own, _squares_sum(values, figures))
            for (lot, size, values), own in zip(groups, squares, strict=True)
        ),
        Line("squares within groups", total, " + ".join(squares)),
        Line("s", figures.full(spread.deviation, 1), f"√({inside})"),
        *_limit_lines(spread, case.shop.risk, figures),
    ]


def _is_kept(values: list[float], prior: Prior) -> bool:
    return bool(list(without_strangers([pool([values])], prior)))


def _squares_sum(values: list[float], figures: Figures) -> str:
    mean = figures.bare(fmean(values), 1)
    return " + ".join(f"({figures.bare(value, 1)} − {mean})²" for value in values)


def _limit_lines(spread: Spread, risk: float, figures: Figures) -> list[Line]:
    low, high = deviation_limits(spread.deviation, spread.freedom, risk)
    nu = f"{spread.freedom:.4g}"
    square = f"{nu} × {figures.bare(spread.deviation, 1)}²"
    return [
        Line(f"its {name} limit", figures.full(end, 1), f"√({square} / X({chance:.4g}; {nu}))")
        for name, end, chance in (("lower", low, 1 - risk), ("upper", high, risk))
    ]


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Do pieces of one size agree with each other well enough for the tolerance?",
    "The standard deviation of single pieces, pooled within size, colour and lot and moderated "
    "towards what the ledger's other blanks show, or else the shop assumes, is held against half "
    "the tolerance: at that spread, 95 % of pieces of a size that is as charted stay inside.",
    "moderated variance, Smyth 2004; chi-square limits",
    judge,
    "s² = (ν₀ × s₀² + squares within groups) / (ν₀ + ν within groups)\n"
    "limits of s = √(ν × s² / X(1 − risk; ν)) and √(ν × s² / X(risk; ν))",
    work,
)
