"""The rules that are no check, worked out: readings, causes, purchases, planning."""

from collections.abc import Sequence
from math import exp, hypot

from blankbook.results.advice.next_step import say_purchase
from blankbook.results.causes.explanations import likely_causes, weighted_suppositions
from blankbook.results.causes.likelihood import point_models
from blankbook.results.causes.purchase import (
    SURE_ODDS,
    Rival,
    cause_distances,
    cheapest_purchase,
    likeliest_rivals,
)
from blankbook.results.causes.suppositions import Supposition, suppositions
from blankbook.results.limits import normal_below, t_quantile
from blankbook.results.methods import purchase_power
from blankbook.results.methods.planning_grid import KnownSpread, PieceCounts
from blankbook.results.methods.proportions import zero_failure_bound
from blankbook.results.piece_spread import (
    Pool,
    coarsest_step,
    moderated_repeatability,
    pool,
    repeat_groups,
)
from blankbook.results.planning.can_show import required_at
from blankbook.results.result_types import Case, Judged
from blankbook.results.worked.working_lines import (
    CHANCE_FIGURES,
    Figures,
    WorkedLine,
    decimal_text,
    length_figures,
)
from blankbook.words.answers import Answer
from blankbook.words.causes import CAUSES
from blankbook.words.points import POINTS

MOST_SUPPOSITIONS = 4
"""So many of the likeliest suppositions are written out."""


def reading_lines(case: Case) -> list[WorkedLine]:
    """Return the uncertainty of one reading."""
    figures, shop = length_figures(case.shop.unit), case.shop
    spread = next(iter(case.spreads.values()))
    seen: Pool = pool(repeat_groups(case.blank.rounds))
    assumed = shop.repeatability
    hand = moderated_repeatability(case.blank.rounds, shop).deviation
    step = figures.bare(coarsest_step(case.blank.rounds) or shop.tape.reads_to.mm)
    inside = f"{assumed.worth:g} × {figures.bare(assumed.deviation, 1)}²"
    squares = decimal_text(seen.squares / figures.scale**2, 5)
    tape, again = figures.bare(spread.tape, 1), figures.bare(hand, 1)
    return [
        WorkedLine("the tape, read in steps d", figures.full(spread.tape, 1), f"{step} / √12"),
        WorkedLine("one hand, assumed", figures.full(assumed.deviation, 1)),
        WorkedLine("squares of the repeat readings about their means", squares),
        WorkedLine(
            "one hand, with the repeat readings",
            figures.full(hand, 1),
            f"√(({inside} + {squares}) / ({assumed.worth:g} + {seen.freedom}))",
        ),
        WorkedLine(
            "one reading", figures.full(hypot(spread.tape, hand), 1), f"√({tape}² + {again}²)"
        ),
    ]


def cause_lines(case: Case) -> list[WorkedLine]:
    """Return the likeliest ways with belief times likelihood, and the chances of their causes."""
    ways = sorted(weighted_suppositions(case), key=lambda pair: -pair[1])
    best = max((way.fit for way, _ in ways), default=0.0)
    total = sum(way.prior for way, _ in ways)
    shares = [way.prior / total * exp(way.fit - best) for way, _ in ways]
    lines = [
        WorkedLine(
            way.says,
            decimal_text(share, 6),
            f"{decimal_text(way.prior / total, 6)} × exp({decimal_text(way.fit - best, 3)})",
        )
        for (way, _), share in zip(ways[:MOST_SUPPOSITIONS], shares, strict=False)
    ]
    rest = decimal_text(sum(shares[MOST_SUPPOSITIONS:]), 6)
    lines.append(WorkedLine(f"the other {len(ways[MOST_SUPPOSITIONS:])} ways together", rest))
    summed = " + ".join([*(line.comes for line in lines)])
    lines.append(WorkedLine("all ways together", decimal_text(sum(shares), 6), summed))
    return [*lines, *_odds_lines(case, ways, shares)]


def _odds_lines(
    case: Case, ways: Sequence[tuple[Supposition, float]], shares: Sequence[float]
) -> list[WorkedLine]:
    """Return the chances of the likeliest causes: their ways together, over all ways."""
    lines = []
    for cause in likely_causes(case)[:3]:
        own = sum(s for (way, _), s in zip(ways, shares, strict=True) if way.cause == cause.key)
        put_in = f"{decimal_text(own, 6)} / {decimal_text(sum(shares), 6)}"
        lines.append(
            WorkedLine(
                f"chance of “{CAUSES[cause.key].title}”", decimal_text(cause.odds, 4), put_in
            )
        )
    return lines


def purchase_lines(case: Case) -> list[WorkedLine]:
    """Return the cheapest purchase that tells the two likeliest causes apart."""
    buy, rivals = cheapest_purchase(case), likeliest_rivals(case)
    if buy is None:
        return []
    first, second = rivals[:2]
    found = cause_distances(case, first.way, second.way, buy.sizes, buy.each, buy.another_lot)
    figures = length_figures(case.shop.unit)
    squared = sum(distance.squared for distance in found)
    terms = []
    for distance in found:
        offsets = [figures.put(value) for value in distance.offsets]
        mean, count = figures.put(distance.mean, 2), len(offsets)
        own, lot = (decimal_text(v / figures.scale**2, 5) for v in (distance.own, distance.lot))
        within = " + ".join(f"({value} − {mean})²" for value in offsets)
        name = POINTS[distance.point].name
        put_in = f"{mean}² / ({own} / {count} + {lot})"
        if count > 1:
            put_in = f"({within}) / {own} + {put_in}"
        terms.append(
            WorkedLine(f"{name}: squared distance", decimal_text(distance.squared, 3), put_in)
        )
    return [
        *terms,
        WorkedLine(
            "D", decimal_text(squared**0.5, 3), f"√({' + '.join(line.comes for line in terms)})"
        ),
        _separation_line(buy.chance, squared**0.5, first, second),
        WorkedLine("so", say_purchase(buy)),
    ]


def _separation_line(chance: float, root: float, first: Rival, second: Rival) -> WorkedLine:
    """Return the chance that the purchase tells, under either cause by its odds."""
    d, odds_first, odds_second = (
        decimal_text(root, 3),
        decimal_text(first.odds, 4),
        decimal_text(second.odds, 4),
    )
    need = f"ln({SURE_ODDS:g})"
    ends = [
        f"{own} × Φ({d} / 2 − ({need} {sign} ln({odds_first} / {odds_second})) / {d})"
        for own, sign in ((odds_first, "−"), (odds_second, "+"))
    ]
    put_in = f"({' + '.join(ends)}) / ({odds_first} + {odds_second})"
    return WorkedLine("chance that it tells", CHANCE_FIGURES.full(chance), put_in)


def label_lines(case: Case) -> list[WorkedLine]:
    """Return the chance that a tag is right before anything is measured, from the beliefs."""
    models = point_models(case)
    ways = list(suppositions(case, models))
    if case.round is None or not ways:
        return []
    piece = case.round.pieces[0]
    key = f"{case.round.key}/{piece.key}"
    total = sum(way.prior for way in ways)
    lines = []
    for cause in ("mislabelled", "exchanged", "odd_piece"):
        own = [way for way in ways if way.cause == cause]
        wrong = [way for way in own if way.really.get(key, piece.size) != piece.size]
        weight = sum(way.prior for way in wrong)
        put_in = f"{CAUSES[cause].weight:g} × {len(wrong)} / {len(own)}"
        lines.append(
            WorkedLine(
                f"{CAUSES[cause].title}, and it is {piece.key}", decimal_text(weight, 4), put_in
            )
        )
    wrong_sum = " + ".join(line.comes for line in lines)
    right = 1 - sum(o.prior for o in ways if o.really.get(key, piece.size) != piece.size) / total
    return [
        *lines,
        WorkedLine("the beliefs that apply, together", decimal_text(total, 4)),
        WorkedLine(
            "chance that the tag is right",
            decimal_text(right, 4),
            f"1 − ({wrong_sum}) / {decimal_text(total, 4)}",
        ),
    ]


def verdict_lines(judged: Judged) -> list[WorkedLine]:
    """Return how the answers that decide lead to the advice."""
    lines = []
    for check in judged.case.shop.required:
        own = [r for r in judged.of(check) if r.deciding]
        counts = [(a, sum(r.answer == a for r in own)) for a in Answer]
        said = ", ".join(f"{count} {answer}" for answer, count in counts if count)
        lines.append(WorkedLine(check.replace("_", " "), said or "nothing to answer"))
    verdict = judged.verdict
    return [*lines, WorkedLine("so", verdict.headline, answer=str(verdict.advice))]


def planning_lines(case: Case, point: str, each: int) -> list[WorkedLine]:
    """Return the chance to find a missing step with so many pieces of three sizes."""
    buy, risk, figures = PieceCounts(3, each), case.shop.risk, length_figures(case.shop.unit)
    spread, asked = case.spreads[point], required_at(case, point)
    known = KnownSpread(spread.deviation, spread.freedom)
    freedom = spread.freedom + buy.freedom
    t = t_quantile(1 - risk, freedom)
    error = spread.deviation * (2 / each) ** 0.5
    s, half = figures.bare(error, 1), figures.bare(t * error, 1)
    step = figures.bare(asked.step)
    averaged = purchase_power.chance_missing_step(known, buy, asked.step, risk)
    return [
        WorkedLine(
            f"spread between pieces, {POINTS[point].name}", figures.full(spread.deviation, 1)
        ),
        _error_of_step(spread.deviation, each, figures),
        WorkedLine("t", decimal_text(t, 3), f"t({1 - risk:.4g}; {freedom:.4g})"),
        WorkedLine(
            "half the width of the limits",
            figures.full(t * error, 1),
            f"{decimal_text(t, 3)} × {s}",
        ),
        WorkedLine(
            "chance that the upper limit of a step that is missing lies under half of it",
            CHANCE_FIGURES.full(normal_below((asked.step / 2 - t * error) / error)),
            f"Φ(({step} / 2 − {half}) / {s})",
        ),
        WorkedLine("the same, averaged over what the spread may be", CHANCE_FIGURES.full(averaged)),
    ]


def _error_of_step(deviation: float, each: int, figures: Figures) -> WorkedLine:
    put_in = f"{figures.bare(deviation, 1)} × √(2 / {each})"
    error = deviation * (2 / each) ** 0.5
    return WorkedLine("standard error of a step", figures.full(error, 1), put_in)


def zero_failure_lines(risk: float, counts: Sequence[int]) -> list[WorkedLine]:
    """Return what good pieces leave open."""
    return [
        WorkedLine(
            f"{n} good of {n}",
            CHANCE_FIGURES.full(zero_failure_bound(n, risk)),
            f"1 − {risk:g}^(1/{n})",
        )
        for n in counts
    ]
