"""What was read of every piece at one point, as far as it lies from what its tag promises."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from math import inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from blankbook.records.model import Blank, Chart, Piece, Round, Shop
from blankbook.results.chart_values import chart_tolerance, charted_length, sound_steps
from blankbook.results.piece_spread import mean_reading
from blankbook.words.points import POINTS

Vector = NDArray[np.float64]


MOST_READINGS = 300
"""From so many readings at a point on, no older round is looked at: why the newest looks as it does
is no longer any clearer for it, and the time grows with the cube of their number."""
NEXT_LOT = ""
"""Stands for a lot that nobody has seen."""


class Group(NamedTuple):
    """Pieces that were made and dyed together."""

    lot: str
    colour: str


@dataclass(frozen=True, slots=True)
class Target:
    """A size, or the step to the next one, of the lots in which it was measured last."""

    size: str
    next_size: str
    """Empty where it is the size alone."""
    groups: tuple[Group, ...]
    """Each counts alike: the mean of the label is meant over all of them."""
    low: float
    high: float
    """How far it may lie from what is expected, millimetres."""

    @property
    def in_next_lot(self) -> "Target":
        """The same of the lot that will come next."""
        colours = dict.fromkeys(group.colour for group in self.groups)
        return replace(self, groups=tuple(Group(NEXT_LOT, colour) for colour in colours))


@dataclass(frozen=True, slots=True)
class PointReadings:
    """All pieces of a blank at one point, the newest round first."""

    point: str
    pieces: tuple[str, ...]
    """``round/piece``."""
    tags: tuple[str, ...]
    groups: tuple[Group, ...]
    off: Vector
    """Millimetres from what is expected of the tag; + is larger."""
    expected: Mapping[str, float]
    """By size: the charted length, or a level in usual steps."""
    charted: frozenset[str]
    """The sizes that a chart speaks of, in every round; empty where levels are usual steps."""
    tolerance: float
    targets: tuple[Target, ...]

    def alone(self, sizes: Sequence[str]) -> tuple[Target, ...]:
        """Return each of *sizes* alone, in the lots of the newest round, whatever is asked."""
        newest = self.pieces[0].rpartition("/")[0]
        rows = zip(self.pieces, self.groups, strict=True)
        groups = {group: 0 for piece, group in rows if piece.rpartition("/")[0] == newest}
        return tuple(Target(size, "", tuple(groups), -inf, inf) for size in sizes)

    @property
    def step(self) -> float:
        """The mean step from size to size, millimetres."""
        levels = list(self.expected.values())
        return abs(levels[-1] - levels[0]) / max(len(levels) - 1, 1)


def group_of(one: Round, piece: Piece) -> Group:
    """Return what a piece was made with; without a lot, with the others of its round."""
    return Group(piece.lot or one.key, piece.colour)


def readings_at(blank: Blank, shop: Shop, point: str) -> PointReadings | None:
    """Return what was read at *point* in all rounds; None where nothing was."""
    every = [(one, [p for p in one.pieces if point in p.received]) for one in blank.rounds]
    seen = [(one, pieces) for one, pieces in reversed(every) if pieces]
    if not seen:
        return None
    before = accumulate((len(pieces) for _, pieces in seen), initial=0)
    seen = [round_ for count, round_ in zip(before, seen, strict=False) if count < MOST_READINGS]
    charts = [blank.style.chart_on(one.chart_day) for one, _ in seen]
    sizes = blank.style.sizes
    known = frozenset(
        s for s in sizes if all(charted_length(c, s, point) is not None for c in charts)
    )
    if not all(known & {piece.size for piece in pieces} for _, pieces in seen):
        known = frozenset()
    levels = [_levels(chart, sizes, known, point, shop.step[point]) for chart in charts]
    rows = [
        (
            f"{one.key}/{piece.key}",
            piece.size,
            group_of(one, piece),
            mean_reading(piece.received[point]),
        )
        for one, pieces in seen
        for piece in pieces
    ]
    level = [own for own, (_, pieces) in zip(levels, seen, strict=True) for _ in pieces]
    pieces, tags, groups, lengths = zip(*rows, strict=True)
    return PointReadings(
        point,
        pieces,
        tags,
        groups,
        np.array([mm - own[tag] for mm, own, tag in zip(lengths, level, tags, strict=True)]),
        levels[0],
        known,
        chart_tolerance(shop, charts[0], point),
        tuple(_targets(shop, sizes, seen, charts, point)),
    )


def _levels(
    chart: Chart | None, sizes: Sequence[str], known: frozenset[str], point: str, step: float
) -> dict[str, float]:
    """Return what every size measures: charted, or in usual steps from the nearest that is."""
    places = [at for at, size in enumerate(sizes) if size in known]
    found = {}
    for at, size in enumerate(sizes):
        near = min(places, key=lambda place: abs(place - at), default=0)
        base = charted_length(chart, sizes[near], point) if places else 0.0
        found[size] = (base or 0.0) + (at - near) * step
    return found


def _targets(
    shop: Shop,
    sizes: Sequence[str],
    seen: Sequence[tuple[Round, Sequence[Piece]]],
    charts: Sequence[Chart | None],
    point: str,
) -> Iterator[Target]:
    """Yield each charted size, and each step, of the newest round that has it."""
    there = [{piece.size for piece in pieces} for _, pieces in seen]
    groups = [tuple({group_of(one, piece): 0 for piece in pieces}) for one, pieces in seen]
    for size in sizes:
        at = next((at for at, measured in enumerate(there) if size in measured), None)
        if at is not None and charted_length(charts[at], size, point) is not None:
            most = chart_tolerance(shop, charts[at], point)
            yield Target(size, "", groups[at], -most, most)
    for low, high in pairwise(sizes if POINTS[point].step else ()):
        at = next((at for at, measured in enumerate(there) if {low, high} <= measured), None)
        if at is not None:
            yield Target(low, high, groups[at], *_step_borders(shop, charts[at], low, high, point))


def _step_borders(
    shop: Shop, chart: Chart | None, low: str, high: str, point: str
) -> tuple[float, float]:
    """Return how far a step may lie from what is expected of it."""
    small, large = charted_length(chart, low, point), charted_length(chart, high, point)
    if small is None or large is None:
        return -shop.step[point] / 2, inf
    least, most = sound_steps(large - small, shop.step_tolerance[point])
    return least - (large - small), most - (large - small)


def by_point(blank: Blank, shop: Shop) -> Mapping[str, PointReadings]:
    """Return the readings of every point that was measured."""
    found = {point: readings_at(blank, shop, point) for point in POINTS}
    return {point: readings for point, readings in found.items() if readings}
