"""The inspection of one delivery: its bad pieces, how many to look at, and the outcome.

A measured piece is bad where its reading lies outside the tolerance of the chart in force, at a
deciding point; where there is no chart, of the mean of its size in the approved round. It is simple
acceptance, without a guard band. A plan counts what an inspector finds, and its published risks are
those of that count; a guard band would shift every count to one side and make them wrong. Near the
border a reading errs to both sides alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from blankbook.records.model import Blank, Delivery, Inspection, Piece, Shop
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.deliveries.reference_round import approved_round
from blankbook.results.evidence import size_sample
from blankbook.results.limits import HAIR
from blankbook.results.methods.sampling_plans import (
    Outcome,
    Plan,
    plan_cell,
    plan_outcome,
    single_plan,
)
from blankbook.results.methods.sampling_tables import SAMPLE_SIZES, Severity
from blankbook.results.piece_spread import mean_reading
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class PieceOutside:
    """A measured piece that is outside the tolerance at one point, millimetres."""

    piece: str
    size: str
    point: str
    off: float
    allowed: float


@dataclass(frozen=True, slots=True)
class BadPieces:
    """The bad pieces of a delivery, each counted once."""

    count: int
    outside: tuple[PieceOutside, ...]
    """At deciding points: each such piece is bad."""
    lesser: tuple[PieceOutside, ...]
    """At other points: named in the report, and not counted."""
    by_tape: int
    """How many the tape found bad that have no written fault."""
    taped: int
    """How many were measured at a deciding point that a chart speaks of."""
    uncharted: bool
    """Whether no chart nor approved round speaks of what was measured: then the tape finds none."""
    as_approved: bool
    """Whether the pieces were checked against the approved round, because there is no chart."""


def bad_pieces(blank: Blank, delivery: Delivery, shop: Shop) -> BadPieces:
    """Return the bad pieces: those with written faults, and those the tape finds."""
    found = [at for piece in delivery.pieces for at in _outside(blank, delivery, piece, shop)]
    outside = tuple(at for at in found if at.point in shop.deciding_points)
    named = {flaw.piece for flaw in delivery.flaws if flaw.piece}
    measured = {at.piece for at in outside} - named
    lesser = tuple(at for at in found if at not in outside)
    targets = [_targets(blank, delivery, piece) for piece in delivery.pieces]
    return BadPieces(
        delivery.flawed + len(measured),
        outside,
        lesser,
        len(measured),
        sum(not own.keys().isdisjoint(shop.deciding_points) for own in targets),
        uncharted=delivery.measured is not None and not any(targets),
        as_approved=any(targets) and blank.style.chart_on(delivery.date) is None,
    )


def _targets(blank: Blank, delivery: Delivery, piece: Piece) -> dict[str, float]:
    """Return what is asked of a piece, by point, where it was measured.

    The chart of the day asks it; without a chart, the approved round by its means.
    """
    chart = blank.style.chart_on(delivery.date)
    approved = None if chart else approved_round(blank, delivery)
    if approved:
        samples = {point: size_sample(approved, piece.size, point) for point in POINTS}
        targets = {point: here.mean if here else None for point, here in samples.items()}
    else:
        targets = {point: charted_length(chart, piece.size, point) for point in POINTS}
    return {p: mm for p, mm in targets.items() if mm is not None and p in piece.received}


def _outside(blank: Blank, delivery: Delivery, piece: Piece, shop: Shop) -> Iterator[PieceOutside]:
    chart = blank.style.chart_on(delivery.date)
    for point, target in _targets(blank, delivery, piece).items():
        off = mean_reading(piece.received[point]) - target
        most = chart_tolerance(shop, chart, point)
        if abs(off) > most + HAIR:
            yield PieceOutside(piece.key, piece.size, point, off, most)


@dataclass(frozen=True, slots=True)
class InspectionResult:
    """The inspection of a delivery by its plan."""

    severity: Severity
    asked: Plan
    """What the plan asks for; while acceptance is stopped, what tightened inspection would."""
    applied: Plan
    """The plan that judges it: the same, or a larger one where more pieces were looked at."""
    inspected: int
    bad: int
    outcome: Outcome | None
    """None where too few pieces were looked at to say."""

    @property
    def more(self) -> int:
        """How many more pieces must be looked at before it can be accepted."""
        return max(self.asked.sample_size - self.inspected, 0) if self.outcome is None else 0


def inspection_result(
    size: int, inspected: int, bad: int, severity: Severity, rules: Inspection
) -> InspectionResult:
    """Return the inspection of a delivery of *size* pieces with *bad* ones among *inspected*.

    With fewer pieces than the plan asks for, it can be rejected but not accepted. With more, the
    largest plan of the same AQL that so many pieces fill judges it, for a count of bad pieces
    means nothing without the number among which it was found. How many to look at must be settled
    before the first piece is.

    Raises: ValueError for a lot, level or AQL that the tables do not have.
    """
    strict = Severity.TIGHTENED if severity == Severity.STOPPED else severity
    asked = single_plan(size, rules.level, rules.aql, strict)
    applied = _filled_plan(asked, size, inspected, strict, rules.aql)
    found: Outcome | None = plan_outcome(applied, bad)
    if severity == Severity.STOPPED:
        found = Outcome.REJECTED
    elif inspected < asked.sample_size and found != Outcome.REJECTED:
        found = None
    return InspectionResult(severity, asked, applied, inspected, bad, found)


def _filled_plan(asked: Plan, size: int, inspected: int, severity: Severity, aql: float) -> Plan:
    """Return the largest plan, at least the one asked for, that *inspected* pieces fill."""
    if inspected <= asked.sample_size:
        return asked
    applied = replace(asked, sample_size=inspected, whole_lot=inspected >= size)
    letters = list(SAMPLE_SIZES[severity])
    for letter in letters[letters.index(asked.letter) :]:
        there, accept, reject = plan_cell(letter, aql, severity)
        if SAMPLE_SIZES[severity][there] <= inspected:
            applied = replace(applied, letter=there, accept=accept, reject=reject)
    return applied
