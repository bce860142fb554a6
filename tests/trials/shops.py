"""The records that a simulated shop writes: the very ones that a ledger holds."""

import datetime
from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from blankbook.records.lengths import Length
from blankbook.records.model import (
    Blank,
    Chart,
    Decision,
    Laundering,
    Piece,
    Round,
    Shop,
    Source,
    Supplier,
    Tape,
    Washed,
    shop_defaults,
)
from blankbook.records.model import Style as StyleRecord
from blankbook.words.points import INCH
from trials.worlds import IN, ORDER, POINTS, WASHED, Plan, Style, Truth, World, charted, stray

if TYPE_CHECKING:
    from numpy.random import Generator

BELIEVED = World()
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
    return Tape("in", _eighths(1))


def _eighths(count: int) -> Length:
    exact = INCH * Fraction(count, 8)
    return Length(exact, float(exact), f"{count}/8", "in")


def measured(
    style: Style,
    key: str = "2026-01-20-first",
    day: datetime.date = DAY,
    lots: Sequence[str] = (),
    sizes: Sequence[str] = (),
    decision: str = "",
) -> Round:
    """Return a round of a style: its plan's pieces, or some *sizes*, from its lots or others.

    Pieces take their lots in turn. The first round has the one wrong tag, or the stray, of a cause.
    """
    plan, rng = style.plan, style.rng
    lots = lots or plan.lots
    rows = [
        (f"{size}-{colour + 1}-{number + 1}", size, colour)
        for size in sizes or plan.sizes
        for colour in range(plan.colours)
        for number in range(plan.each)
    ]
    first = not style.truth.really
    odd = rows[int(rng.integers(len(rows)))][0] if first else ""
    if first and style.truth.cause == "odd_piece":
        stray(style, odd)
    pieces = []
    for at, (name, size, colour) in enumerate(rows):
        lot = lots[at % len(lots)]
        style.make(lot)
        other = [label for label in ORDER if label != size]
        wrong = name == odd and style.truth.cause == "mislabelled"
        wrong = wrong or bool(style.world.wrong and rng.random() < style.world.wrong)
        really = str(rng.choice(other)) if wrong else style.truth.swap.get(size, size)
        style.truth.really[f"{key}/{name}"] = "" if name in style.stray else really
        true = style.lengths(name, really, lot, colour)
        read = {point: (_eighths(style.read(mm)),) for point, mm in true.items()}
        stages: tuple[Washed, ...] = ()
        if plan.washed and at % max(len(rows) // plan.washed, 1) == 0 and at < len(rows):
            after = {p: (_eighths(style.read(style.after_washing(p, true[p]))),) for p in WASHED}
            stages = (Washed(1, after),)
        colour_name = ("black", "white", "red", "blue")[colour]
        pieces.append(Piece(Source(f"{key}.yaml"), name, size, colour_name, lot, read, stages))
        style.stray.pop(name, None)
    return Round(
        Source(f"{key}.yaml"),
        key,
        "a/b",
        day,
        "rv",
        lots[0],
        _tape(),
        tuple(pieces),
        laundering=Laundering("home_warm", "tumble_low"),
        decision=Decision(decision, day, "rv") if decision else None,
    )


def blank(*rounds: Round, key: str = "a/b") -> Blank:
    """Return the rounds of one style, with its chart."""
    sizes = {
        size: {point: _eighths(round(charted(size, point) / IN * 8)) for point in POINTS}
        for size in ORDER
    }
    chart = Chart(datetime.date(2025, 1, 1), "simulated", "in", sizes)
    supplier = key.partition("/")[0]
    style = StyleRecord(
        Source("style.yaml"),
        key,
        supplier,
        "Simulated tee",
        ORDER,
        ("black", "white", "red", "blue"),
        charts=(chart,),
    )
    return Blank(style, Supplier(Source(f"{supplier}.yaml"), supplier, supplier), rounds)


def simulate(
    rng: "Generator", plan: Plan, world: World = BELIEVED, cause: str = ""
) -> tuple[Blank, Truth]:
    """Return one round of a style with its truth."""
    style = Style(rng, world, plan, cause)
    return blank(measured(style)), style.truth
