"""Simulated shops with a known truth, by what the core believes and otherwise.

Nothing here is the core's own: a style is drawn, cut lot by lot, labelled, read with a tape and
washed, and the records that a ledger holds are made of it. What is believed is read from where it
is stated; a world may differ from it in one way or another.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from blankbook.records.model import Prior, shop_defaults
from blankbook.results.causes.point_likelihood import ODD_SHARE
from blankbook.results.causes.suppositions import OWN_SHARE, PARTS, SHIFTS
from blankbook.words.causes import CAUSES
from blankbook.words.points import INCH

if TYPE_CHECKING:
    from numpy.random import Generator

IN = float(INCH)
ORDER = ("S", "M", "L", "XL", "2XL")
POINTS = ("half_chest", "body_length", "sleeve_length")
BASE = {"half_chest": 18.0, "body_length": 28.0, "sleeve_length": 8.0}
STEP = {"half_chest": 2.0, "body_length": 1.0, "sleeve_length": 0.5}
"""Inches: a chart of an adult tee in the usual grade (common practice, no source)."""
WASHED = {"half_chest": -1.5, "body_length": -3.0}
"""What washing does to a sound style, percent: well inside what is accepted."""
EIGHTH = IN / 8
OFF_BY = (0.25, 0.5, 0.75, 1.25)
"""How far one size is off, in tolerances, beside 0, 1 and 1.5, for the operating characteristic."""


@dataclass(frozen=True, slots=True)
class World:
    """How a shop's styles are made and read. Lengths in inches."""

    spread: float | tuple[float, float] | None = None
    """Between pieces: so many times the assumed one, or from one length to another, alike at every
    point; None for a draw from what is believed."""
    hand: float = 1 / 16
    halves: float = 0.0
    """The share of readings that are taken to the nearest half inch."""
    heavy: bool = False
    """Whether pieces scatter as Student's t on 3 degrees of freedom."""
    wrong: float = 0.0
    """The share of wrong tags."""
    cut: float = 0.0
    """What sizes differ from the chart by, as a share of the tolerance."""
    lots: float | None = None
    """What lots differ by; None for nothing, 0 for what is believed."""
    colours: float = 0.0
    """What colours differ by."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What is bought of a style."""

    sizes: tuple[str, ...] = ("M", "L", "XL")
    colours: int = 2
    each: int = 1
    lots: tuple[str, ...] = ("A",)
    washed: int = 2

    @property
    def says(self) -> str:
        """What is bought, in words."""
        colours = "1 colour" if self.colours == 1 else f"{self.colours} colours"
        return f"{len(self.sizes)} sizes, {self.each} in each of {colours}"


@dataclass(slots=True)
class Truth:
    """What nobody but the simulator knows. Millimetres and percent."""

    cause: str
    means: dict[tuple[str, str, str], float] = field(default_factory=dict)
    """By lot, size and point: the mean of what is made as that size."""
    swap: Mapping[str, str] = field(default_factory=dict)
    """Labels that are exchanged."""
    really: dict[str, str] = field(default_factory=dict)
    """By ``round/piece``: its true size, "" for a stray."""
    changes: dict[str, float] = field(default_factory=dict)
    deviations: dict[str, float] = field(default_factory=dict)
    """By point: the true spread of single pieces."""

    def off(self, lots: tuple[str, ...], label: str, point: str) -> float:
        """Return how far the mean of a label is from its chart, over some lots alike."""
        size = self.swap.get(label, label)
        return sum(self.means[lot, size, point] for lot in lots) / len(lots) - charted(label, point)

    def is_sound(self, lots: tuple[str, ...], label: str, point: str, after: str = "") -> bool:
        """Say whether a size, or the step to the one *after*, is what the chart asks."""
        own, hair = self.off(lots, label, point), 1e-9
        if not after:
            return abs(own) <= shop_defaults.TOLERANCE[point] + hair
        off, step = self.off(lots, after, point) - own, STEP[point] * IN
        allowed = shop_defaults.STEP_TOLERANCE[point]
        return -min(allowed, step / 2) - hair <= off <= allowed + hair


def charted(size: str, point: str) -> float:
    """Return the charted length in millimetres."""
    return (BASE[point] + STEP[point] * ORDER.index(size)) * IN


class Style:
    """One style, as it is really made."""

    def __init__(self, rng: "Generator", world: World, plan: Plan, cause: str = "") -> None:
        """Draw it; without a *cause*, one by its stated weight."""
        self.rng, self.world, self.plan = rng, world, plan
        self.truth = Truth(cause or _draw_cause(rng, plan))
        self.off = {
            (size, point): float(rng.normal(0, 1)) * world.cut * shop_defaults.TOLERANCE[point]
            for size in ORDER
            for point in POINTS
        }
        self.of_colour = {
            (colour, point): float(rng.normal(0, 1)) * world.colours * IN
            for colour in range(plan.colours)
            for point in POINTS
        }
        self.of_lot: dict[tuple[str, str], float] = {}
        self.stray: dict[str, Mapping[str, float]] = {}
        self.truth.deviations = self._deviations()
        self.truth.changes = dict(WASHED)
        self.wash_deviation = {p: _believed(rng, shop_defaults.WASH_SPREAD, 0.0) for p in WASHED}
        if self.truth.cause in FAULTS:
            FAULTS[self.truth.cause](self)

    def _deviations(self) -> dict[str, float]:
        spread, rng = self.world.spread, self.rng
        if spread is None:
            reading = (self.world.hand * IN) ** 2 + EIGHTH**2 / 12
            return {p: _believed(rng, shop_defaults.SPREAD[p], reading) for p in POINTS}
        if isinstance(spread, tuple):
            return dict.fromkeys(POINTS, float(rng.uniform(*spread)) * IN)
        return {point: spread * shop_defaults.SPREAD[point].deviation for point in POINTS}

    def make(self, lot: str) -> None:
        """Draw a lot, unless it was made before."""
        for point in POINTS:
            if (lot, point) not in self.of_lot:
                usual = shop_defaults.LOT_SPREAD * shop_defaults.SPREAD[point].deviation
                apart = self.world.lots
                wide = 0.0 if apart is None else apart * IN or usual
                self.of_lot[lot, point] = float(self.rng.normal(0, 1)) * wide
            common = sum(self.of_colour[c, point] for c in range(self.plan.colours))
            for size in ORDER:
                own = self.off[size, point] + self.of_lot[lot, point]
                self.truth.means[lot, size, point] = (
                    charted(size, point) + own + common / self.plan.colours
                )

    def lengths(self, piece: str, size: str, lot: str, colour: int) -> dict[str, float]:
        """Return the true lengths of one piece that is made as *size*."""
        stray = self.stray.get(piece, {})
        return {
            point: charted(size, point)
            + self.off[size, point]
            + self.of_lot[lot, point]
            + self.of_colour[colour, point]
            + stray.get(point, 0.0)
            + self._scatter() * self.truth.deviations[point]
            for point in POINTS
        }

    def _scatter(self) -> float:
        if self.world.heavy:
            return float(self.rng.standard_t(3)) / 3**0.5
        return float(self.rng.normal())

    def read(self, mm: float) -> int:
        """Return what a hand reads, in eighths of an inch."""
        seen = mm + self.rng.normal(0, self.world.hand * IN)
        if self.world.halves and self.rng.random() < self.world.halves:
            return 4 * round(seen / IN * 2)
        return round(seen / EIGHTH)

    def after_washing(self, point: str, mm: float) -> float:
        """Return a length after one wash."""
        change = self.rng.normal(self.truth.changes[point], self.wash_deviation[point])
        return mm * (1 + float(change) / 100)


def _believed(rng: "Generator", prior: Prior, reading: float) -> float:
    """Return a true deviation: scaled inverse chi-square, less what a reading brings."""
    total = prior.worth * (prior.deviation**2 + reading) / rng.chisquare(prior.worth)
    return float(max(total - reading, 0.0) ** 0.5)


def _draw_cause(rng: "Generator", plan: Plan) -> str:
    weights = {key: cause.weight for key, cause in CAUSES.items()}
    if plan.colours == 1:
        del weights["colour_off"]
    shares = [weight / sum(weights.values()) for weight in weights.values()]
    return str(rng.choice(list(weights), p=shares))


def _pair(style: Style) -> tuple[str, str]:
    place = int(style.rng.integers(len(style.plan.sizes) - 1))
    return style.plan.sizes[place], style.plan.sizes[place + 1]


def _own(style: Style, point: str) -> float:
    return float(style.rng.normal(0, OWN_SHARE * shop_defaults.TOLERANCE[point]))


def _exchanged(style: Style) -> None:
    small, large = _pair(style)
    style.truth.swap = {small: large, large: small}


def _not_graded(style: Style) -> None:
    small, large = _pair(style)
    point = str(style.rng.choice(POINTS))
    ungraded(style, small, large, point, float(style.rng.choice(PARTS)))


def ungraded(style: Style, small: str, large: str, point: str, part: float) -> None:
    """Give two labels one measure at a point, *part* of the way from the smaller to the larger."""
    style.off[small, point] += part * STEP[point] * IN
    style.off[large, point] += (part - 1) * STEP[point] * IN


def _size_off(style: Style) -> None:
    size = str(style.rng.choice(style.plan.sizes))
    points = POINTS if style.rng.random() < 0.5 else (str(style.rng.choice(POINTS)),)
    for point in points:
        style.off[size, point] += _own(style, point)


def _point_off(style: Style) -> None:
    point = str(style.rng.choice(POINTS))
    level(style, {point: _own(style, point)})


def level(style: Style, moves: Mapping[str, float]) -> None:
    """Move every size alike, by point, millimetres."""
    for size in ORDER:
        for point, mm in moves.items():
            style.off[size, point] += mm


def _style_runs(style: Style) -> None:
    part = float(style.rng.choice(SHIFTS))
    level(style, {point: part * STEP[point] * IN for point in POINTS})


def _lot_off(style: Style) -> None:
    part = float(style.rng.choice(SHIFTS))
    by_steps = style.rng.random() < 0.5
    for point in POINTS:
        move = part * STEP[point] * IN if by_steps else _own(style, point)
        style.of_lot[style.plan.lots[0], point] = move


def _colour_off(style: Style) -> None:
    colour = int(style.rng.integers(style.plan.colours))
    for point in POINTS:
        style.of_colour[colour, point] += _own(style, point)


def _several_off(style: Style) -> None:
    points = POINTS if style.rng.random() < 0.5 else (str(style.rng.choice(POINTS)),)
    for size in ORDER:
        for point in points:
            style.off[size, point] += _own(style, point)


def stray(style: Style, piece: str) -> None:
    """Make one piece odd at every point."""
    style.stray[piece] = {
        point: float(style.rng.normal(0, ODD_SHARE * STEP[point] * IN)) for point in POINTS
    }


def _on_the_border(style: Style, tolerances: float) -> None:
    size, point = str(style.rng.choice(style.plan.sizes)), "body_length"
    side = 1 if style.rng.random() < 0.5 else -1
    style.off[size, point] += side * tolerances * shop_defaults.TOLERANCE[point]


def _missing(style: Style) -> None:
    small, large = _pair(style)
    ungraded(style, small, large, "body_length", 0.5)


FAULTS: dict[str, Callable[[Style], None]] = {
    "exchanged": _exchanged,
    "not_graded": _not_graded,
    "size_off": _size_off,
    "point_off": _point_off,
    "style_runs": _style_runs,
    "lot_off": _lot_off,
    "colour_off": _colour_off,
    "several_off": _several_off,
    "size on the border": partial(_on_the_border, tolerances=1.0),
    "size off by 1.5 tolerances": partial(_on_the_border, tolerances=1.5),
    "missing step": _missing,
    **{
        f"off by {tolerances:g}": partial(_on_the_border, tolerances=tolerances)
        for tolerances in OFF_BY
    },
}
"""What is done to a style before it is made; a wrong tag and a stray come with the pieces."""
