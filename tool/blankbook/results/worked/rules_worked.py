"""The rules that are no check, worked out: readings, causes, purchases, planning."""

from collections.abc import Sequence
from math import exp, hypot

from blankbook.results.advice.next_step import say_purchase
from blankbook.results.causes.explanations import likely_causes
from blankbook.results.causes.purchase import DRAWS, cheapest_purchase
from blankbook.results.methods.proportions import zero_failure_bound
from blankbook.results.piece_spread import (
    Pool,
    coarsest_step,
    moderated_repeatability,
    pool,
    repeat_groups,
)
from blankbook.results.planning.approval import DRAWS as DRAWN
from blankbook.results.planning.approval import PieceCounts
from blankbook.results.planning.can_show import USUAL_SIZES, shown_by_purchases
from blankbook.results.result_types import Case, Judged
from blankbook.results.worked.working_lines import (
    CHANCE_FIGURES,
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
    ways, labels = case.posterior.weighed, case.posterior.labels
    best = max((one.log_fit for one in ways), default=0.0)
    total = sum(one.prior for one in ways)
    shares = [one.prior / total * exp(one.log_fit - best) for one in ways]
    lines = [
        WorkedLine(
            one.says(labels),
            decimal_text(share, 6),
            f"{decimal_text(one.prior / total, 6)} × exp({decimal_text(one.log_fit - best, 3)})",
        )
        for one, share in zip(ways[:MOST_SUPPOSITIONS], shares, strict=False)
    ]
    rest = decimal_text(sum(shares[MOST_SUPPOSITIONS:]), 6)
    lines.append(WorkedLine(f"the other {len(ways[MOST_SUPPOSITIONS:])} ways together", rest))
    summed = " + ".join([*(line.comes for line in lines)])
    lines.append(WorkedLine("all ways together", decimal_text(sum(shares), 6), summed))
    for cause in likely_causes(case)[:3]:
        own = sum(s for one, s in zip(ways, shares, strict=True) if one.cause == cause.key)
        put_in = f"{decimal_text(own, 6)} / {decimal_text(sum(shares), 6)}"
        lines.append(
            WorkedLine(
                f"chance of “{CAUSES[cause.key].title}”", decimal_text(cause.odds, 4), put_in
            )
        )
    return lines


def purchase_lines(case: Case) -> list[WorkedLine]:
    """Return the cheapest purchase that tells the two likeliest causes apart, with its chance."""
    buy = cheapest_purchase(case)
    if buy is None:
        return []
    told = round(buy.chance * DRAWS)
    return [
        WorkedLine("what it may show, drawn", f"{DRAWS} times"),
        WorkedLine("left the right cause with 9 to 1 or better", f"{told} times"),
        WorkedLine("chance that it tells", CHANCE_FIGURES.full(buy.chance), f"{told} / {DRAWS}"),
        WorkedLine("so", say_purchase(buy)),
    ]


def label_lines(case: Case) -> list[WorkedLine]:
    """Return the chance that a tag is right before anything is measured, from the beliefs."""
    if case.round is None:
        return []
    piece, labels = case.round.pieces[0], case.posterior.labels
    key = f"{case.round.key}/{piece.key}"
    ways = case.posterior.weighed
    total = sum(one.prior for one in ways)
    lines = []
    for cause in ("mislabelled", "exchanged", "odd_piece"):
        wrong = sum(
            one.prior
            for one in ways
            if one.cause == cause and one.really(labels).get(key, piece.size) != piece.size
        )
        lines.append(
            WorkedLine(f"{CAUSES[cause].title}, and it is {piece.key}", decimal_text(wrong, 4))
        )
    right = (
        1
        - sum(one.prior for one in ways if one.really(labels).get(key, piece.size) != piece.size)
        / total
    )
    wrong_sum = " + ".join(line.comes for line in lines)
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


def planning_lines(case: Case, each: int) -> list[WorkedLine]:
    """Return how often a sound style of three sizes is approved with so many pieces of each."""
    found = shown_by_purchases(case, (PieceCounts(USUAL_SIZES, each),))
    (chance,) = found.rows[0].chances
    figures, approved = length_figures(case.shop.unit), round((chance or 0.0) * DRAWN)
    return [
        *(
            WorkedLine(
                f"spread between pieces, {POINTS[one.point].name}",
                figures.full(one.spread.deviation, 1),
            )
            for one in found.asked
        ),
        WorkedLine("what the pieces may read, drawn", f"{DRAWN} times"),
        WorkedLine("every size kept its limits", f"{approved} times"),
        WorkedLine(
            "chance that it is approved",
            CHANCE_FIGURES.full(chance or 0.0),
            f"{approved} / {DRAWN}",
        ),
    ]


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
