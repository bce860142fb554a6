"""How simulated pieces are cut, labelled and washed."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from blankbook.records.model import Prior, shop_defaults
from blankbook.results.causes.likelihood import ODD_SHARE
from blankbook.results.causes.suppositions import SHIFTS
from blankbook.words.points import INCH
from trials.plans import (
    POINTS,
    READING,
    SIZES,
    STEP,
    Plan,
    charted,
    cut_spread,
    lot_spread,
)

if TYPE_CHECKING:
    from numpy.random import Generator


def drawn_deviation(prior: Prior, reading: float, rng: "Generator") -> float:
    """Return a true spread between pieces: scaled inverse chi-square, less what reading brings."""
    total = prior.worth * (prior.deviation**2 + reading**2) / rng.chisquare(prior.worth)
    return float(max(total - reading**2, 0.0) ** 0.5)


class Cut:
    """How the pieces of one lot were really cut and labelled."""

    def __init__(self, rng: "Generator", plan: Plan, cause: str, labels: Mapping[str, str]) -> None:
        self.rng = rng
        self.labels = labels
        self.detail = ""
        self.swap: dict[str, str] = {}
        self.deviation = {p: drawn_deviation(shop_defaults.SPREAD[p], READING, rng) for p in POINTS}
        self.off = {
            (size, point): float(rng.normal(0, cut_spread(point)))
            for size in SIZES
            for point in POINTS
        }
        for point in POINTS:
            lot = rng.normal(0, lot_spread(point))
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

    def deviations(self) -> dict[str, float]:
        """Return what one reading of one piece strays by."""
        return {p: (own**2 + READING**2) ** 0.5 for p, own in self.deviation.items()}

    def means(self) -> dict[tuple[str, str], float]:
        """Return the mean of pieces with each label; one wrong tag or stray leaves it alone."""
        swap = {size: size for size in SIZES} | self.swap
        return {
            (size, point): charted(swap[size], point) + self.off[swap[size], point]
            for size in SIZES
            for point in POINTS
        }


class Wash:
    """How the pieces really change in washing."""

    def __init__(self, rng: "Generator", changes: Mapping[str, float]) -> None:
        self.rng = rng
        self.changes = changes
        self.deviation = {p: drawn_deviation(shop_defaults.WASH_SPREAD, 0.0, rng) for p in changes}

    def length(self, point: str, before: float) -> float:
        """Return the true length after washing."""
        percent = self.rng.normal(self.changes[point], self.deviation[point])
        return float(before * (1 + percent / 100))
