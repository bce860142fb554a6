"""What so many pieces of a blank can show: of the newest round, or before anything is bought.

Planning integrates over what the spread may be, which costs milliseconds; so it is asked for only
where it is shown, the spread goes in rounded as it is printed, and the same question is answered
once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from blankbook.records.model import Chart, Round
from blankbook.results.evidence import chart_for, charted_length, tolerance
from blankbook.results.methods import power_statements
from blankbook.results.methods.planning_grid import Known, Purchase
from blankbook.results.methods.power_statements import Asked, Showing
from blankbook.results.methods.purchase_power import CAP
from blankbook.results.result_types import Case, Judged, Spread
from blankbook.words.points import POINTS

WANTED = 0.9
"""The chance that is worth buying for."""
WRONG_SHARE = 0.1
"""The share of wrong labels that is looked for."""
BEFORE = (1, 2, 4)
"""Pieces of each size, where nothing was bought yet."""
USUAL_SIZES = 3
"""A size with its neighbours below and above."""


@dataclass(frozen=True, slots=True)
class PointShowing:
    """What the purchases can show at one point of measure."""

    point: str
    known: Known
    """The spread that is reckoned with, rounded; its freedom is what stands before the purchase."""
    showings: tuple[tuple[Showing, ...], ...]
    """By purchase, then by question; every purchase answers the same questions."""


@dataclass(frozen=True, slots=True)
class CanShow:
    """What so many pieces can show."""

    measured: bool
    """Whether it is the newest round that is meant; else nothing was measured yet."""
    purchases: tuple[Purchase, ...]
    points: tuple[PointShowing, ...]
    labels: tuple[Showing, ...]
    """By purchase: the chance to see a wrong label."""


def can_show(judged: Judged) -> CanShow:
    """Return what the newest round can show, or what one, two and four pieces a size could."""
    case = judged.case
    return of_purchases(case, _bought(case.round) if case.round else _to_buy(case))


def of_purchases(case: Case, buys: tuple[Purchase, ...]) -> CanShow:
    """Return what each of the purchases can show at the deciding points."""
    points = tuple(_at_point(case, point, buys) for point in case.shop.deciding_points)
    labels = tuple(power_statements.wrong_labels(buy.pieces, WRONG_SHARE, WANTED) for buy in buys)
    return CanShow(case.round is not None, buys, points, labels)


@dataclass(frozen=True, slots=True)
class Row:
    """One question with its answers, as the page and the terminal list it."""

    what: str
    chances: tuple[float | None, ...]
    """By purchase; None where it lies inside what is tolerated, and nothing can show it."""
    enough: str
    """How many pieces the wanted chance takes; "" where none can."""


def rows(found: CanShow) -> list[Row]:
    """Return the questions, each with its chance for every purchase."""
    asked = [answers for point in found.points for answers in zip(*point.showings, strict=True)]
    return [_row(answers) for answers in (*asked, found.labels)]


def _row(answers: Sequence[Showing]) -> Row:
    first, last = answers[0], answers[-1]
    if first.inside:
        return Row(first.what, (None,) * len(answers), "")
    each = "" if first.key == "wrong_label" else " each"
    enough = f"over {CAP}" if last.enough is None else f"{last.enough}{each}"
    return Row(first.what, tuple(showing.chance for showing in answers), enough)


def _to_buy(case: Case) -> tuple[Purchase, ...]:
    sizes = min(len(case.blank.style.sizes), USUAL_SIZES)
    return tuple(Purchase(sizes, each) for each in BEFORE)


def _bought(round_: Round) -> tuple[Purchase, ...]:
    """Return the round as a purchase: the fewest pieces that any of its sizes has."""
    counts: dict[str, int] = {}
    for piece in round_.pieces:
        counts[piece.size] = counts.get(piece.size, 0) + 1
    fewest = min(counts.values())
    colours = len({piece.colour for piece in round_.pieces})
    if fewest % colours:
        colours = 1
    return (Purchase(len(counts), fewest // colours, colours),)


def _at_point(case: Case, point: str, buys: Sequence[Purchase]) -> PointShowing:
    added = buys[0].freedom if case.round else 0
    known = known_before(case.spreads[point], added)
    asked = asked_at(case, point)
    shown = tuple(_shown(known, buy, asked, case.shop.risk, case.shop.unit) for buy in buys)
    return PointShowing(point, known, shown)


def known_before(spread: Spread, added: int) -> Known:
    """Return the spread as it is printed, on the freedom it had before *added* was."""
    freedom = max(spread.freedom - added, spread.freedom * spread.assumed)
    return Known(
        _printed(spread.deviation),
        float(round(freedom)),
        _printed(spread.people),
        float(round(spread.people_freedom)),
    )


def _printed(deviation: float) -> float:
    return float(f"{deviation:.2g}")


def asked_at(case: Case, point: str) -> Asked:
    """Return what is asked of the blank at a point: the smallest charted step, and tolerances."""
    chart = chart_for(case, case.round) if case.round else _newest_chart(case)
    return Asked(
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
    known: Known, buy: Purchase, asked: Asked, risk: float, unit: str
) -> tuple[Showing, ...]:
    return power_statements.can_show(known, buy, asked, risk, unit, WANTED)
