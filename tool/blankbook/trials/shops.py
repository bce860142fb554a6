"""A seeded simulator: a style with a known truth, cut, labelled, sampled, taped and washed.

What is drawn follows the beliefs that the core states (spreads, causes, tags); what is read is what
a person with a tape would write down. The records are the very ones that a ledger holds.
"""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from blankbook.records import defaults
from blankbook.records.lengths import Length
from blankbook.records.model import (
    Blank,
    Chart,
    Laundering,
    Piece,
    Prior,
    Round,
    Shop,
    Source,
    Style,
    Supplier,
    Tape,
    Washed,
)
from blankbook.results.likelihood import ODD_SHARE, SIZE_SHARE
from blankbook.results.spread import reading_uncertainty
from blankbook.results.suppositions import SHIFTS
from blankbook.words.causes import CAUSES
from blankbook.words.points import INCH

if TYPE_CHECKING:
    from numpy.random import Generator

SIZES = ("S", "M", "L", "XL", "2XL")
POINTS = ("half_chest", "body_length", "sleeve_length")
BASE = {"half_chest": 18.0, "body_length": 28.0, "sleeve_length": 8.0}
STEP = {"half_chest": 2.0, "body_length": 1.0, "sleeve_length": 0.5}
"""Inches: a chart of an adult tee in the usual grade (common practice, no source)."""
COLOURS = ("black", "white")
WASHED = ("half_chest", "body_length")
DAY = datetime.date(2026, 1, 20)
_EIGHTH = Fraction(INCH, 8)


@dataclass(frozen=True, slots=True)
class Plan:
    """What is bought, and how its truth is drawn."""

    sizes: tuple[str, ...] = ("M", "L", "XL")
    each: int = 1
    """Pieces per size and colour."""
    colours: int = 1
    cause: str = ""
    """One of the causes; drawn by its weight where empty."""
    point: str = ""
    """With ``not_graded``: the point, drawn where empty."""
    whole_step: bool = False
    """With ``not_graded``: whether one of the two labels has exactly the other's measure."""


@dataclass(frozen=True, slots=True)
class Truth:
    """What nobody but the simulator knows. Millimetres and percent."""

    cause: str
    detail: str
    """The piece, the pair, or the direction."""
    means: Mapping[tuple[str, str], float]
    """By size label and point: the mean of pieces with that label in this lot."""
    changes: Mapping[str, float]
    """By point: the mean change after washing, percent."""
    really: Mapping[str, str]
    """By piece: its true size, "" for none."""


def shop() -> Shop:
    """Return a shop that has said nothing but what it must."""
    return Shop(
        source=Source("shop.yaml"),
        name="simulated",
        unit="in",
        currency="USD",
        tape=_tape(),
        repeatability=defaults.REPEATABILITY,
        tolerance=defaults.TOLERANCE,
        step=defaults.STEP,
        step_tolerance=defaults.STEP_TOLERANCE,
        spread=defaults.SPREAD,
        lot_spread=defaults.LOT_SPREAD,
        wash_limit=defaults.WASH_LIMIT,
        wash_spread=defaults.WASH_SPREAD,
        mass_tolerance=defaults.MASS_TOLERANCE,
        mass_spread=defaults.MASS_SPREAD,
        mix_up_limit=defaults.MIX_UP_LIMIT,
        least_grade=defaults.LEAST_GRADE,
        grade_spread=defaults.GRADE_SPREAD,
        skew_limit=defaults.SKEW_LIMIT,
        skew_spread=defaults.SKEW_SPREAD,
        risk=defaults.RISK,
        deciding_points=defaults.DECIDING_POINTS,
        required=defaults.REQUIRED,
        inspection=defaults.INSPECTION,
    )


def _tape() -> Tape:
    return Tape("in", Length(_EIGHTH, float(_EIGHTH), "1/8", "in"))


def charted(size: str, point: str) -> float:
    """Return the charted length in millimetres."""
    return (BASE[point] + STEP[point] * SIZES.index(size)) * float(INCH)


def _length(mm: float) -> Length:
    exact = Fraction(round(mm, 6)).limit_denominator(10**6)
    return Length(exact, mm, f"{mm / float(INCH):.3f}", "in")


def read_tape(mm: float, rng: "Generator") -> Length:
    """Return what a hand reads: the length, an unsteady hand, and the nearest mark."""
    seen = mm + rng.normal(0, defaults.REPEATABILITY.deviation)
    return _length(round(seen / float(_EIGHTH)) * float(_EIGHTH))


def drawn_deviation(prior: Prior, reading: float, rng: "Generator") -> float:
    """Return a true spread between pieces: scaled inverse chi-square, less what reading brings."""
    total = prior.worth * (prior.deviation**2 + reading**2) / rng.chisquare(prior.worth)
    return float(max(total - reading**2, 0.0) ** 0.5)


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
    cut = _Cut(rng, plan, cause, dict(zip(keys, (tag[0] for tag in tags), strict=True)))
    changes = {point: float(rng.normal(-4.0, 2.0)) for point in WASHED}
    wash = _Wash(rng, changes)
    pieces = tuple(_piece(rng, key, tag, cut, wash) for key, tag in zip(keys, tags, strict=True))
    truth = Truth(cause, cut.detail, cut.means(), changes, cut.sizes())
    return _blank(pieces), truth


def _draw_cause(rng: "Generator") -> str:
    weights = [cause.weight for cause in CAUSES.values()]
    total = sum(weights)
    return str(rng.choice(list(CAUSES), p=[weight / total for weight in weights]))


class _Cut:
    """How the pieces of one lot were really cut and labelled."""

    def __init__(self, rng: "Generator", plan: Plan, cause: str, labels: Mapping[str, str]) -> None:
        self.rng = rng
        self.labels = labels
        self.detail = ""
        self.swap: dict[str, str] = {}
        reading = reading_uncertainty(float(_EIGHTH), defaults.REPEATABILITY.deviation)
        self.deviation = {p: drawn_deviation(defaults.SPREAD[p], reading, rng) for p in POINTS}
        self.off = {
            (size, point): float(rng.normal(0, SIZE_SHARE * defaults.TOLERANCE[point]))
            for size in SIZES
            for point in POINTS
        }
        for point in POINTS:
            lot = rng.normal(0, defaults.LOT_SPREAD * defaults.SPREAD[point].deviation)
            for size in SIZES:
                self.off[size, point] += float(lot)
        self.really = dict(labels)
        self.strays: dict[str, dict[str, float]] = {}
        getattr(self, f"_{cause}", lambda _plan: None)(plan)

    def _mislabelled(self, _plan: Plan) -> None:
        piece = str(self.rng.choice(list(self.labels)))
        others = [size for size in SIZES if size != self.labels[piece]]
        self.really[piece] = str(self.rng.choice(others))
        self.detail = piece

    def _exchanged(self, plan: Plan) -> None:
        small, large = self._pair(plan)
        self.swap = swap = {small: large, large: small}
        self.really = {piece: swap.get(size, size) for piece, size in self.labels.items()}
        self.detail = f"{small} and {large}"

    def _not_graded(self, plan: Plan) -> None:
        small, large = self._pair(plan)
        point = plan.point or str(self.rng.choice(POINTS))
        part = float(self.rng.choice([0.0, 1.0] if plan.whole_step else [0.0, 0.5, 1.0]))
        step = STEP[point] * float(INCH)
        self.off[small, point] += part * step
        self.off[large, point] += (part - 1) * step
        self.detail = f"{point} between {small} and {large}"

    def _style_runs(self, _plan: Plan) -> None:
        part = float(self.rng.choice(SHIFTS))
        for size in SIZES:
            for point in POINTS:
                self.off[size, point] += part * STEP[point] * float(INCH)
        self.detail = "large" if part > 0 else "small"

    _lot_off = _style_runs

    def _odd_piece(self, _plan: Plan) -> None:
        piece = str(self.rng.choice(list(self.labels)))
        self.strays[piece] = {
            point: float(self.rng.normal(0, ODD_SHARE * STEP[point] * float(INCH)))
            for point in POINTS
        }
        self.detail = piece

    def _pair(self, plan: Plan) -> tuple[str, str]:
        place = int(self.rng.integers(len(plan.sizes) - 1))
        return plan.sizes[place], plan.sizes[place + 1]

    def length(self, piece: str, point: str) -> float:
        """Return the true length of one piece."""
        size = self.really[piece]
        stray = self.strays.get(piece, {}).get(point, 0.0)
        own = self.rng.normal(0, self.deviation[point])
        return float(charted(size, point) + self.off[size, point] + stray + own)

    def sizes(self) -> dict[str, str]:
        """Return the true size of every piece, "" for a stray."""
        return {piece: "" if piece in self.strays else size for piece, size in self.really.items()}

    def means(self) -> dict[tuple[str, str], float]:
        """Return the mean of pieces with each label; one wrong tag or stray leaves it alone."""
        swap = {size: size for size in SIZES} | self.swap
        return {
            (size, point): charted(swap[size], point) + self.off[swap[size], point]
            for size in SIZES
            for point in POINTS
        }


class _Wash:
    """How the pieces really change in washing."""

    def __init__(self, rng: "Generator", changes: Mapping[str, float]) -> None:
        self.rng = rng
        self.changes = changes
        self.deviation = {p: drawn_deviation(defaults.WASH_SPREAD, 0.0, rng) for p in changes}

    def length(self, point: str, before: float) -> float:
        """Return the true length after washing."""
        percent = self.rng.normal(self.changes[point], self.deviation[point])
        return float(before * (1 + percent / 100))


def _piece(rng: "Generator", key: str, tag: tuple[str, str, int], cut: _Cut, wash: _Wash) -> Piece:
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
    one = Round(
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
    return Blank(style, Supplier(Source("a.yaml"), "a", "A"), (one,))
