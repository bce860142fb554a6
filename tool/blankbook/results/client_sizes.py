"""What a client may know of a blank's sizes: measured, washed, and claimed by the maker.

Nothing here names a supplier, a price, a lot, a person, the advice or its reasons.
"""

import datetime
from dataclasses import dataclass
from fractions import Fraction

from blankbook.records.model import Round, Shop
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.checks.washing import washed_round
from blankbook.results.quantities import Quantity
from blankbook.results.result_types import Judged, Result
from blankbook.words.answers import Answer
from blankbook.words.points import INCH, POINTS


@dataclass(frozen=True, slots=True)
class ClientMeasure:
    """One size at one point of measure."""

    size: str
    point: str
    mm: float
    pieces: int
    """How many were measured; 0 where there is only the maker's chart."""
    washed: float | None = None
    """Millimetres after the washes; None where washing or the size was not tested."""


@dataclass(frozen=True, slots=True)
class ClientSizes:
    """A blank's chart for clients."""

    sizes: tuple[str, ...]
    points: tuple[str, ...]
    measures: tuple[ClientMeasure, ...]
    tolerance: dict[str, float]
    """By point, millimetres either way."""
    cycles: int
    """The washes behind the washed measures; 0 where none were tested."""
    washed_pieces: int
    """The most pieces behind any one change."""
    laundering: tuple[str, str] | None
    """How they were washed and dried: keys of `blankbook.words.wash_procedures`."""
    measured_on: datetime.date | None

    def at(self, size: str, point: str) -> ClientMeasure | None:
        """Return one measure, if it is known."""
        return next((m for m in self.measures if (m.size, m.point) == (size, point)), None)


def may_be_shown(judged: Judged) -> bool:
    """Say whether a person has let the blank through and it may be ordered today."""
    return judged.standing.accepted and judged.standing.may_be_ordered


def client_sizes(judged: Judged) -> ClientSizes:
    """Return what a client may know of a blank's sizes: those that may be ordered today.

    A measured size is the mean of its pieces, from the check of sizes. An unmeasured one is the
    claim of the maker's newest chart, unless that runs along another line. A washed size is the
    measured one with the mean change of all washed pieces at that point after their most washes,
    because few pieces are washed, and seldom one of every size.
    """
    style, shop = judged.case.blank.style, judged.case.shop
    chart = style.charts[-1] if style.charts else None
    changes, cycles, counted = _changes(judged)
    means = {
        (r.size, r.point): r for r in judged.of("size_against_chart") if r.number(Quantity.MEAN)
    }
    found = []
    for size in judged.standing.sizes:
        for point in POINTS:
            claim = charted_length(chart, size, point)
            if seen := means.get((size, point)):
                found.append(_measured(seen, changes.get(point)))
            elif claim is not None:
                found.append(ClientMeasure(size, point, claim, 0))
    round_ = washed_round(judged.case) if cycles else None
    return ClientSizes(
        tuple(size for size in style.sizes if any(m.size == size for m in found)),
        tuple(point for point in POINTS if any(m.point == point for m in found)),
        tuple(found),
        {point: chart_tolerance(shop, chart, point) for point in POINTS},
        cycles,
        counted,
        _laundering(round_),
        _measured_on(judged),
    )


def _measured(result: Result, change: float | None) -> ClientMeasure:
    mean, pieces = result.number(Quantity.MEAN), result.number(Quantity.PIECES)
    assert mean
    assert pieces
    washed = None if change is None else mean.value * (1 + change / 100)
    return ClientMeasure(result.size, result.point, mean.value, round(pieces.value), washed)


def _changes(judged: Judged) -> tuple[dict[str, float], int, int]:
    """Return the percent change by point after the most washes, the washes, and the most pieces."""
    tested = [r for r in judged.of("washing") if r.number(Quantity.CHANGE) and r.cycles]
    most = max((r.cycles or 0 for r in tested), default=0)
    last = [r for r in tested if r.cycles == most]
    changes = {r.point: change.value for r in last if (change := r.number(Quantity.CHANGE))}
    counted = [round(pieces.value) for r in last if (pieces := r.number(Quantity.PIECES))]
    return changes, most, max(counted, default=0)


def _laundering(round_: Round | None) -> tuple[str, str] | None:
    return (round_.laundering.wash, round_.laundering.dry) if round_ and round_.laundering else None


def _measured_on(judged: Judged) -> datetime.date | None:
    days = [round_.date for round_ in judged.blank.rounds if any(p.received for p in round_.pieces)]
    return days[-1] if days else None


def body_chest(half_chest: float, ease: float) -> float | None:
    """Return the chest of the body that a shirt suits: twice the half chest less the ease.

    Units: millimetres. The ease is what a shop states (4 in is usual for a plain tee; common
    practice, no source). None where nothing of the shirt would be left.

    >>> body_chest(508, 101.6)
    914.4
    """
    chest = 2 * half_chest - ease
    return chest if chest > 0 else None


def chest_ranges(sizes: ClientSizes, ease: float) -> dict[str, tuple[float, float]]:
    """Return by size the chests that it suits, from and to; millimetres.

    Halfway to its neighbours, so that each chest has one size; the ends reach as far outwards as
    inwards, and a size alone half a usual step of the chest either way.
    """
    found = {
        size: chest
        for size in sizes.sizes
        if (measure := sizes.at(size, "half_chest")) and (chest := body_chest(measure.mm, ease))
    }
    order = sorted(found, key=lambda size: found[size])
    usual = float(POINTS["half_chest"].step)
    ranges = {}
    for place, size in enumerate(order):
        chest = found[size]
        below = (chest - found[order[place - 1]]) / 2 if place else None
        above = (found[order[place + 1]] - chest) / 2 if place + 1 < len(order) else None
        down = below if below is not None else above if above is not None else usual
        up = above if above is not None else down
        ranges[size] = (chest - down, chest + up)
    return {size: ranges[size] for size in sizes.sizes if size in ranges}


def client_name(judged: Judged) -> str:
    """Return the name that clients see, which is never the supplier's."""
    style = judged.blank.style
    if style.called:
        return style.called
    whose = "Children's tee" if style.wearer == "children" else "Tee"
    return ", ".join(part for part in (whose, cloth_text(judged)) if part)


def cloth_text(judged: Judged) -> str:
    """Return fibre, knit and mass as one text: as claimed, but a disproved mass as measured."""
    style, mass = judged.blank.style, judged.blank.style.mass
    for result in judged.of("fabric"):
        found = result.number(Quantity.MASS)
        if result.answer == Answer.FAILS and found:
            mass = found.value
    cloth = " ".join(part for part in (style.fibre, style.knit) if part)
    return ", ".join(part for part in (cloth, f"{mass:.0f} g/m2" if mass else "") if part)


def client_rounding(shop: Shop) -> tuple[int, float]:
    """Return the parts of an inch and the millimetres that a client's chart is rounded to.

    In the unit of the shop's tape they are its step, in the other unit 1/8 in or 0.5 cm.
    """
    step = shop.tape.reads_to.exact
    if shop.tape.unit == "in":
        return max(Fraction(step / INCH).denominator, 1), 5.0
    return 8, max(float(step), 1.0)
