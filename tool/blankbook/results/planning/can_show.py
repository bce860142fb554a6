"""What so many pieces of a blank can show: of the newest round, or before anything is bought.

First, how likely a sound style is approved at all, in every size and step at once; then what would
be let through. Trying it out costs milliseconds, so it is asked for only where it is shown, and the
same question is answered once.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from blankbook.records.model import Chart, Round
from blankbook.results.chart_values import charted_length
from blankbook.results.evidence import chart_for, newest_sample, tolerance
from blankbook.results.methods.proportions import zero_acceptance_pieces
from blankbook.results.number_words import say_length, say_share
from blankbook.results.piece_spread import coarsest_step, usual_spread
from blankbook.results.planning.approval import (
    MOST_PIECES,
    Off,
    PieceCounts,
    Required,
    approval_chance,
    fewest,
)
from blankbook.results.result_types import Case, Judged
from blankbook.words.points import POINTS

WANTED_CHANCE = 0.9
"""The chance that is worth buying for."""
WRONG_SHARE = 0.1
"""The share of wrong labels that is looked for."""
PIECES_TO_BUY = (1, 2, 4)
"""Pieces of each size, where nothing was bought yet."""
USUAL_SIZES = 3
"""A size with its neighbours below and above."""


@dataclass(frozen=True, slots=True)
class ShowingRow:
    """One question with its answers, as the page and the terminal list it."""

    key: str
    """``approved``, ``half_size``, ``missing_step`` or ``wrong_label``."""
    what: str
    point: str
    """Empty where it is asked of all of them."""
    chances: tuple[float | None, ...]
    """By purchase; None where it lies inside what is tolerated."""
    enough: str = ""
    """How many pieces the wanted chance takes; "" where more of it is not better."""


@dataclass(frozen=True, slots=True)
class CanShow:
    """What so many pieces can show."""

    measured: bool
    """Whether it is the newest round that is meant; else nothing was measured yet."""
    purchases: tuple[PieceCounts, ...]
    asked: tuple[Required, ...]
    """By deciding point."""
    rows: tuple[ShowingRow, ...]
    """How often a sound style is approved comes first."""


def can_show(judged: Judged) -> CanShow:
    """Return what the newest round can show, or what one, two and four pieces a size could."""
    case = judged.case
    return shown_by_purchases(case, _bought(case.round) if case.round else _to_buy(case))


def shown_by_purchases(case: Case, buys: tuple[PieceCounts, ...]) -> CanShow:
    """Return what each of the purchases can show at the deciding points."""
    asked = tuple(required_at(case, point) for point in case.shop.deciding_points)
    rows = (_approved(case, asked, buys), *_let_through(case, asked, buys), _wrong_labels(buys))
    return CanShow(case.round is not None, buys, asked, rows)


def _approved(case: Case, asked: tuple[Required, ...], buys: tuple[PieceCounts, ...]) -> ShowingRow:
    def chance_of(buy: PieceCounts) -> float:
        sound: Off = ((0.0,) * buy.sizes,) * len(asked)
        return approval_chance(asked, buy, sound, case.shop.risk)

    last = buys[-1]
    each = fewest(lambda each: chance_of(replace(last, each=each)), WANTED_CHANCE)
    enough = f"over {MOST_PIECES} each" if each is None else f"{each} each"
    what = f"approved, if it is just {_as_what(case)} and washes well"
    return ShowingRow("approved", what, "", tuple(chance_of(buy) for buy in buys), enough)


def _as_what(case: Case) -> str:
    """Return what a sound style is like: its chart, or without one its own round."""
    if case.blank.style.charts:
        return "as charted"
    return "as measured" if any(r.pieces for r in case.blank.rounds) else "graded as usual"


def _let_through(
    case: Case, asked: tuple[Required, ...], buys: tuple[PieceCounts, ...]
) -> Iterator[ShowingRow]:
    """Yield how often a style is approved that should not be: one size off, a step missing."""
    for at, one in enumerate(asked):
        name, half = POINTS[one.point].name, one.step / 2
        if not one.step:
            continue
        far = say_length(half, case.shop.unit)
        what = f"{name}: approved, though one size is half a size off ({far})"
        if half <= one.tolerance:
            inside = f"{name}: half a size ({far}) is inside the tolerance"
            yield ShowingRow("half_size", inside, one.point, (None,) * len(buys))
        else:
            yield ShowingRow(
                "half_size", what, one.point, _chances(case, asked, buys, at, (half, 0.0))
            )
        step = say_length(one.step, case.shop.unit)
        what = f"{name}: approved, though a step of {step} is missing"
        moves = (half, -half)
        yield ShowingRow("missing_step", what, one.point, _chances(case, asked, buys, at, moves))


def _chances(
    case: Case,
    asked: tuple[Required, ...],
    buys: tuple[PieceCounts, ...],
    at: int,
    moves: tuple[float, float],
) -> tuple[float | None, ...]:
    """Return how often each purchase would approve, if two sizes were so far off at one point."""
    found: list[float | None] = []
    for buy in buys:
        away = [(0.0,) * buy.sizes for _ in asked]
        away[at] = (*moves, *away[at])[: buy.sizes]
        enough = buy.sizes > 1 or not moves[1]
        chance = approval_chance(asked, buy, tuple(away), case.shop.risk)
        found.append(chance if enough else None)
    return tuple(found)


def _wrong_labels(buys: tuple[PieceCounts, ...]) -> ShowingRow:
    """Return the chance that the pieces hold at least one wrong label, by the binomial."""
    where = f"where {say_share(WRONG_SHARE)} are wrong"
    chances = tuple(1 - (1 - WRONG_SHARE) ** buy.pieces for buy in buys)
    enough = f"{zero_acceptance_pieces(WRONG_SHARE, 1 - WANTED_CHANCE)} in all"
    what = f"labels: a wrong one is among them, {where}"
    return ShowingRow("wrong_label", what, "", chances, enough)


def _to_buy(case: Case) -> tuple[PieceCounts, ...]:
    sizes = min(len(case.blank.style.sizes), USUAL_SIZES)
    return tuple(PieceCounts(sizes, each) for each in PIECES_TO_BUY)


def _bought(round_: Round) -> tuple[PieceCounts, ...]:
    """Return the round as a purchase: the fewest pieces that any of its sizes has."""
    counts: dict[str, int] = {}
    for piece in round_.pieces:
        counts[piece.size] = counts.get(piece.size, 0) + 1
    fewest_of_one = min(counts.values())
    colours = len({piece.colour for piece in round_.pieces})
    if fewest_of_one % colours:
        colours = 1
    return (PieceCounts(len(counts), fewest_of_one // colours, colours),)


def required_at(case: Case, point: str) -> Required:
    """Return what is asked of the blank at a point: the smallest charted step, the tolerance."""
    chart = chart_for(case, case.round) if case.round else _newest_chart(case)
    spread = usual_spread(case.blank, case.shop, point, case.learned)
    tape = coarsest_step(case.blank.rounds) or case.shop.tape.reads_to.mm
    allowed, steps = tolerance(case, chart, point), case.shop.step_tolerance[point]
    return Required(point, spread, _least_step(case, chart, point), allowed, steps, tape)


def _newest_chart(case: Case) -> Chart | None:
    charts = case.blank.style.charts
    return charts[-1] if charts else None


def _least_step(case: Case, chart: Chart | None, point: str) -> float:
    """Return the smallest step between neighbours: charted, else measured, else the usual one."""
    levels = [_level(case, chart, size, point) for size in case.blank.style.sizes]
    steps = [
        high - low
        for low, high in pairwise(levels)
        if low is not None and high is not None and high > low
    ]
    return min(steps, default=case.shop.step[point])


def _level(case: Case, chart: Chart | None, size: str, point: str) -> float | None:
    if chart:
        return charted_length(chart, size, point)
    sample = newest_sample(case, size, point)
    return sample.mean if sample else None
