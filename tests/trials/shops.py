"""A seeded simulator: a style with a known truth, cut, labelled, sampled, taped and washed.

What is drawn follows the beliefs that the core states (spreads, causes, tags); what is read is what
a person with a tape would write down. The records are the very ones that a ledger holds.
"""

import datetime
from fractions import Fraction
from typing import TYPE_CHECKING

from blankbook.records.lengths import Length
from blankbook.records.model import (
    Blank,
    Chart,
    Laundering,
    Piece,
    Round,
    Shop,
    Source,
    Style,
    Supplier,
    Tape,
    Washed,
    shop_defaults,
)
from blankbook.words.causes import CAUSES
from blankbook.words.points import INCH
from trials.making import Cut, Wash
from trials.plans import COLOURS, EIGHTH, POINTS, SIZES, WASHED, Plan, Truth, charted

if TYPE_CHECKING:
    from numpy.random import Generator

DAY = datetime.date(2026, 1, 20)


def shop() -> Shop:
    """Return a shop that has said nothing but what it must."""
    return Shop(
        source=Source("shop.yaml"),
        name="simulated",
        unit="in",
        currency="USD",
        tape=_tape(),
        repeatability=shop_defaults.REPEATABILITY,
        tolerance=shop_defaults.TOLERANCE,
        step=shop_defaults.STEP,
        step_tolerance=shop_defaults.STEP_TOLERANCE,
        spread=shop_defaults.SPREAD,
        lot_spread=shop_defaults.LOT_SPREAD,
        wash_limit=shop_defaults.WASH_LIMIT,
        wash_spread=shop_defaults.WASH_SPREAD,
        mass_tolerance=shop_defaults.MASS_TOLERANCE,
        mass_spread=shop_defaults.MASS_SPREAD,
        mix_up_limit=shop_defaults.MIX_UP_LIMIT,
        least_grade=shop_defaults.LEAST_GRADE,
        grade_spread=shop_defaults.GRADE_SPREAD,
        skew_limit=shop_defaults.SKEW_LIMIT,
        skew_spread=shop_defaults.SKEW_SPREAD,
        risk=shop_defaults.RISK,
        deciding_points=shop_defaults.DECIDING_POINTS,
        required=shop_defaults.REQUIRED,
        inspection=shop_defaults.INSPECTION,
    )


def _tape() -> Tape:
    return Tape("in", Length(EIGHTH, float(EIGHTH), "1/8", "in"))


def _length(mm: float) -> Length:
    exact = Fraction(round(mm, 6)).limit_denominator(10**6)
    return Length(exact, mm, f"{mm / float(INCH):.3f}", "in")


def read_tape(mm: float, rng: "Generator") -> Length:
    """Return what a hand reads: the length, an unsteady hand, and the nearest mark."""
    seen = mm + rng.normal(0, shop_defaults.REPEATABILITY.deviation)
    return _length(round(seen / float(EIGHTH)) * float(EIGHTH))


def simulate(rng: "Generator", plan: Plan) -> tuple[Blank, Truth]:
    """Return one round of a style with its truth."""
    tags = [
        (size, colour, number)
        for size in plan.sizes
        for colour in COLOURS[: plan.colours]
        for number in range(1, plan.each + 1)
    ]
    keys = [f"{size}-{colour}-{number}" for size, colour, number in tags]
    cause = plan.cause or _draw_cause(rng)
    cut = Cut(rng, plan, cause, dict(zip(keys, (tag[0] for tag in tags), strict=True)))
    changes = {point: float(rng.normal(-4.0, 2.0)) for point in WASHED}
    wash = Wash(rng, changes)
    pieces = tuple(_piece(rng, key, tag, cut, wash) for key, tag in zip(keys, tags, strict=True))
    truth = Truth(cause, cut.detail, cut.means(), changes, cut.sizes(), cut.deviations())
    return _blank(pieces), truth


def _draw_cause(rng: "Generator") -> str:
    weights = [cause.weight for cause in CAUSES.values()]
    total = sum(weights)
    return str(rng.choice(list(CAUSES), p=[weight / total for weight in weights]))


def _piece(rng: "Generator", key: str, tag: tuple[str, str, int], cut: Cut, wash: Wash) -> Piece:
    size, colour, _ = tag
    true = {point: cut.length(key, point) for point in POINTS}
    received = {point: (read_tape(mm, rng),) for point, mm in true.items()}
    after = {point: (read_tape(wash.length(point, true[point]), rng),) for point in WASHED}
    return Piece(Source("round.yaml"), key, size, colour, "A", received, (Washed(1, after),))


def _blank(pieces: tuple[Piece, ...]) -> Blank:
    sizes = {size: {p: _length(charted(size, p)) for p in POINTS} for size in SIZES}
    chart = Chart(datetime.date(2025, 1, 1), "simulated", "in", sizes)
    style = Style(
        Source("style.yaml"), "a/b", "a", "Simulated tee", SIZES, COLOURS, charts=(chart,)
    )
    round_ = Round(
        Source("round.yaml"),
        "2026-01-20-first",
        "a/b",
        DAY,
        "rv",
        "A",
        _tape(),
        pieces,
        laundering=Laundering("home_warm", "tumble_low"),
    )
    return Blank(style, Supplier(Source("a.yaml"), "a", "A"), (round_,))
