"""What so many pieces of a blank can show: the newest round, or a purchase to come.

Planning integrates over what the spread may be, which costs milliseconds. So only what shows it
asks for it, and the spread goes in rounded as it is printed, so that equal questions are answered
once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from blankbook.records.model import Chart, Round
from blankbook.results.evidence import chart_for, charted_length, tolerance
from blankbook.results.methods import power_statements
from blankbook.results.methods.planning_grid import KnownSpread, PieceCounts
from blankbook.results.methods.power_statements import PowerStatement, Required
from blankbook.results.methods.purchase_power import MOST_PIECES
from blankbook.results.result_types import Case, Judged, Spread
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
class PointShowing:
    """What the purchases can show at one point of measure."""

    point: str
    known: KnownSpread
    """The spread before the purchase, rounded as it is printed."""
    showings: tuple[tuple[PowerStatement, ...], ...]
    """By purchase, then by question; the questions are the same for every purchase."""


@dataclass(frozen=True, slots=True)
class CanShow:
    """What so many pieces can show."""

    measured: bool
    """Whether the pieces are those of the newest round; else nothing was measured yet."""
    purchases: tuple[PieceCounts, ...]
    points: tuple[PointShowing, ...]
    labels: tuple[PowerStatement, ...]
    """By purchase: the chance to see a wrong label."""


def can_show(judged: Judged) -> CanShow:
    """Return what the newest round can show, or what one, two and four pieces a size could."""
    case = judged.case
    return shown_by_purchases(case, _bought(case.round) if case.round else _to_buy(case))


def shown_by_purchases(case: Case, buys: tuple[PieceCounts, ...]) -> CanShow:
    """Return what each of the purchases can show at the deciding points."""
    points = tuple(_at_point(case, point, buys) for point in case.shop.deciding_points)
    labels = tuple(
        power_statements.wrong_label_statement(buy.pieces, WRONG_SHARE, WANTED_CHANCE)
        for buy in buys
    )
    return CanShow(case.round is not None, buys, points, labels)


@dataclass(frozen=True, slots=True)
class ShowingRow:
    """One question with its answers, as the page and the terminal list it."""

    what: str
    chances: tuple[float | None, ...]
    """By purchase; None where the shift lies inside the tolerance, so that nothing can show it."""
    enough: str
    """How many pieces the wanted chance takes; "" where none can."""


def showing_rows(found: CanShow) -> list[ShowingRow]:
    """Return the questions, each with its chance for every purchase."""
    asked = [answers for point in found.points for answers in zip(*point.showings, strict=True)]
    return [_row(answers) for answers in (*asked, found.labels)]


def _row(answers: Sequence[PowerStatement]) -> ShowingRow:
    first, last = answers[0], answers[-1]
    if first.inside:
        return ShowingRow(first.what, (None,) * len(answers), "")
    each = "" if first.key == "wrong_label" else " each"
    enough = f"over {MOST_PIECES}" if last.enough is None else f"{last.enough}{each}"
    return ShowingRow(first.what, tuple(showing.chance for showing in answers), enough)


def _to_buy(case: Case) -> tuple[PieceCounts, ...]:
    sizes = min(len(case.blank.style.sizes), USUAL_SIZES)
    return tuple(PieceCounts(sizes, each) for each in PIECES_TO_BUY)


def _bought(round_: Round) -> tuple[PieceCounts, ...]:
    """Return the round as piece counts: as many of each size as its rarest size has."""
    counts: dict[str, int] = {}
    for piece in round_.pieces:
        counts[piece.size] = counts.get(piece.size, 0) + 1
    fewest = min(counts.values())
    colours = len({piece.colour for piece in round_.pieces})
    if fewest % colours:
        colours = 1
    return (PieceCounts(len(counts), fewest // colours, colours),)


def _at_point(case: Case, point: str, buys: Sequence[PieceCounts]) -> PointShowing:
    added = buys[0].freedom if case.round else 0
    known = spread_before(case.spreads[point], added)
    asked = required_at(case, point)
    shown = tuple(_shown(known, buy, asked, case.shop.risk, case.shop.unit) for buy in buys)
    return PointShowing(point, known, shown)


def spread_before(spread: Spread, added: int) -> KnownSpread:
    """Return the spread as it is printed, without the *added* degrees of freedom."""
    freedom = max(spread.freedom - added, spread.freedom * spread.assumed)
    return KnownSpread(
        _printed(spread.deviation),
        float(round(freedom)),
        _printed(spread.people),
        float(round(spread.people_freedom)),
    )


def _printed(deviation: float) -> float:
    return float(f"{deviation:.2g}")


def required_at(case: Case, point: str) -> Required:
    """Return what the blank must keep at a point: the smallest charted step, and tolerances."""
    chart = chart_for(case, case.round) if case.round else _newest_chart(case)
    return Required(
        POINTS[point].name,
        _least_step(case, chart, point),
        case.shop.step_tolerance[point],
        tolerance(case, chart, point),
    )


def _newest_chart(case: Case) -> Chart | None:
    charts = case.blank.style.charts
    return charts[-1] if charts else None


def _least_step(case: Case, chart: Chart | None, point: str) -> float:
    """Return the smallest charted step between neighbours, or the usual one without a chart."""
    levels = [charted_length(chart, size, point) for size in case.blank.style.sizes]
    steps = [
        high - low
        for low, high in pairwise(levels)
        if low is not None and high is not None and high > low
    ]
    return min(steps, default=case.shop.step[point])


@lru_cache(maxsize=4096)
def _shown(
    known: KnownSpread, buy: PieceCounts, asked: Required, risk: float, unit: str
) -> tuple[PowerStatement, ...]:
    return power_statements.power_statements(known, buy, asked, risk, unit, WANTED_CHANCE)
