"""How one delivery fares: what is bad in it, how many pieces to look at, and what the plan says.

A measured piece is bad where its reading lies outside the tolerance of the chart that held, at a
deciding point: simple acceptance, without a guard band. A plan counts what an inspector finds, and
its published risks are those of that count; a guard band would shift every count to one side and
make them wrong. Near the border a reading errs to both sides alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from blankbook.records.model import Blank, Delivery, Inspection, Piece, Shop
from blankbook.results.evidence import chart_tolerance, charted_length
from blankbook.results.methods.sampling_plans import Outcome, Plan, outcome, plan_cell, single_plan
from blankbook.results.methods.sampling_tables import SAMPLE_SIZES, Severity
from blankbook.results.piece_spread import mean_of
from blankbook.words.points import POINTS

_BORDER = 1e-6
"""Millimetres: a reading that lies on the border is inside."""


@dataclass(frozen=True, slots=True)
class Outside:
    """A measured piece that is outside the tolerance at one point, millimetres."""

    piece: str
    size: str
    point: str
    off: float
    allowed: float


@dataclass(frozen=True, slots=True)
class Bad:
    """The bad pieces of a delivery, each counted once."""

    count: int
    outside: tuple[Outside, ...]
    """At deciding points: each such piece is bad."""
    lesser: tuple[Outside, ...]
    """At other points: told, and not counted."""
    uncharted: bool
    """Whether pieces were measured that no chart speaks of, so that a tape finds none of them bad.
    """


def bad_pieces(blank: Blank, delivery: Delivery, shop: Shop) -> Bad:
    """Return what is bad: by its written faults, and by the tape."""
    found = [at for piece in delivery.pieces for at in _outside(blank, delivery, piece, shop)]
    outside = tuple(at for at in found if at.point in shop.deciding_points)
    named = {flaw.piece for flaw in delivery.flaws if flaw.piece}
    measured = {at.piece for at in outside} - named
    lesser = tuple(at for at in found if at not in outside)
    held = any(_targets(blank, delivery, piece) for piece in delivery.pieces)
    return Bad(delivery.flawed + len(measured), outside, lesser, bool(delivery.pieces) and not held)


def _targets(blank: Blank, delivery: Delivery, piece: Piece) -> dict[str, float]:
    """Return what the chart of the day asks of a piece, by point, where it was measured."""
    chart = blank.style.chart_on(delivery.date)
    targets = {point: charted_length(chart, piece.size, point) for point in POINTS}
    return {p: mm for p, mm in targets.items() if mm is not None and p in piece.received}


def _outside(blank: Blank, delivery: Delivery, piece: Piece, shop: Shop) -> Iterator[Outside]:
    chart = blank.style.chart_on(delivery.date)
    for point, target in _targets(blank, delivery, piece).items():
        off = mean_of(piece.received[point]) - target
        most = chart_tolerance(shop, chart, point)
        if abs(off) > most + _BORDER:
            yield Outside(piece.key, piece.size, point, off, most)


@dataclass(frozen=True, slots=True)
class Fared:
    """How a delivery fares by its plan."""

    severity: Severity
    asked: Plan
    """What the plan asks for; while acceptance is stopped, what tightened inspection would."""
    held: Plan
    """What it is held against: the same, or a plan for the more pieces that were looked at."""
    inspected: int
    bad: int
    outcome: Outcome | None
    """None where too few pieces were looked at to say."""

    @property
    def more(self) -> int:
        """How many more pieces must be looked at before it can be accepted."""
        return max(self.asked.sample_size - self.inspected, 0) if self.outcome is None else 0


def fares(size: int, inspected: int, bad: int, severity: Severity, rules: Inspection) -> Fared:
    """Return how a delivery of *size* pieces fares with *bad* found among *inspected*.

    With fewer than the plan asks for it can be rejected and not accepted. With more it is held
    against the largest plan of the same AQL that so many pieces fill, for a count of bad pieces
    means nothing without the number among which it was found. How many to look at must be settled
    before the first is.

    Raises: ValueError for a lot, level or AQL that the tables do not have.
    """
    strict = Severity.TIGHTENED if severity == Severity.STOPPED else severity
    asked = single_plan(size, rules.level, rules.aql, strict)
    held = _filled(asked, size, inspected, strict, rules.aql)
    found: Outcome | None = outcome(held, bad)
    if severity == Severity.STOPPED:
        found = Outcome.REJECTED
    elif inspected < asked.sample_size and found != Outcome.REJECTED:
        found = None
    return Fared(severity, asked, held, inspected, bad, found)


def _filled(asked: Plan, size: int, inspected: int, severity: Severity, aql: float) -> Plan:
    """Return the largest plan, from the one that is asked for on, that *inspected* pieces fill."""
    if inspected <= asked.sample_size:
        return asked
    held = replace(asked, sample_size=inspected, whole_lot=inspected >= size)
    letters = list(SAMPLE_SIZES[severity])
    for letter in letters[letters.index(asked.letter) :]:
        there, accept, reject = plan_cell(letter, aql, severity)
        if SAMPLE_SIZES[severity][there] <= inspected:
            held = replace(held, letter=there, accept=accept, reject=reject)
    return held
