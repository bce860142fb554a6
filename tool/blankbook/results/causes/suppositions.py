"""The ways in which a round can have come to look as it does, beside a wrong tag or a stray.

Each says what it adds to the readings, at one point or at all, and what further pieces would show.
A cause's stated weight is shared out over its ways: which size, which pair, which lot, how far.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from blankbook.results.causes.point_likelihood import Effect, Of
from blankbook.results.causes.point_readings import PointReadings
from blankbook.results.number_words import say_list
from blankbook.words.causes import CAUSES, TUBE_FACTOR
from blankbook.words.points import POINTS

SHIFTS = (-1.25, -1.0, -0.75, -0.5, 0.5, 0.75, 1.0, 1.25)
"""How far a style or a lot is supposed to run, in grade steps."""
_FAR = {
    0.5: "half a size",
    0.75: "three quarters of a size",
    1.0: "a size",
    1.25: "a size and a quarter",
}
PARTS = (0.0, 0.5, 1.0)
"""Where two labels lie that share a measure, from the smaller to the larger."""
OWN_SHARE = 1.25
"""Standard deviation of what is off by itself, as a share of the tolerance."""
TUBE_POINTS = ("half_chest", "hem_width")

Key = tuple[str | float, ...]
"""Names an effect, the same at every point."""
AS_IT_IS: Key = ()
EACH_BY_ITSELF: Key = ("each",)
"""Each size of each lot is off by itself: what no single cause explains."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way in which a cause could have come about."""

    cause: str
    says: str
    weight: float
    """Its share of the cause's weight."""
    key: Key
    points: tuple[str, ...]
    """Where it shows."""
    swaps: tuple[str, str] | None = None
    """The labels that are exchanged."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was measured, over all points."""

    sizes: tuple[str, ...]
    """Of the style."""
    measured: tuple[str, ...]
    lots: tuple[str, ...]
    colours: tuple[str, ...]
    tube: bool

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """Neighbouring sizes that were both measured."""
        return [pair for pair in pairwise(self.sizes) if set(pair) <= set(self.measured)]


def effects_at(readings: PointReadings, seen: Seen) -> dict[Key, Effect]:
    """Return everything that a way may add at one point, by its key."""
    level, step = readings.expected, readings.step
    own = (OWN_SHARE * readings.tolerance) ** 2
    found: dict[Key, Effect] = {AS_IT_IS: Effect(_everywhere(0.0))}
    for size in seen.measured:
        found["size", size] = Effect(_by_size({size: 1.0}), own)
    for low, high in seen.pairs:
        grows = level[high] - level[low]
        for part in PARTS:
            moves = {low: part * grows, high: (part - 1) * grows}
            found["step", low, high, part] = Effect(_by_size(moves))
        found["swap", low, high] = Effect(_by_size({low: grows, high: -grows}))
    found["level",] = Effect(_everywhere(1.0), own)
    for lot in seen.lots:
        found["lot", lot] = Effect(_in_lot(lot, 1.0), own)
    for colour in seen.colours:
        found["colour", colour] = Effect(_in_colour(colour), own)
    for part in SHIFTS:
        found["runs", part] = Effect(_everywhere(part * step))
        for lot in seen.lots:
            found["lot", lot, part] = Effect(_in_lot(lot, part * step))
    for size in seen.measured if len(seen.lots) > 1 else ():
        for lot in seen.lots:
            found["size", size, lot] = Effect(_of_size_in_lot(size, lot), own)
    found[EACH_BY_ITSELF] = Effect(_everywhere(0.0))  # comes last: it has a fit of its own
    return found


def _everywhere(by: float) -> Of:
    return lambda _size, _group: by


def _by_size(moves: Mapping[str, float]) -> Of:
    return lambda size, _group: moves.get(size, 0.0)


def _in_lot(lot: str, by: float) -> Of:
    return lambda _size, group: by * (group.lot == lot)


def _of_size_in_lot(of: str, lot: str) -> Of:
    return lambda size, group: float(size == of and group.lot == lot)


def _in_colour(colour: str) -> Of:
    return lambda _size, group: float(group.colour == colour)


def ways(every: Mapping[str, PointReadings], seen: Seen) -> Iterator[Way]:
    """Yield every way that applies to a blank."""
    points = tuple(every)
    charted = any(readings.charted for readings in every.values())
    usual = "as charted" if charted else "graded as usual"
    yield Way("as_charted", usual, CAUSES["as_charted"].weight, AS_IT_IS, ())
    yield from _sizes(points, seen)
    yield from _not_graded(every, seen)
    yield from _exchanged(points, seen)
    if charted:
        yield from _levels([point for point in points if every[point].charted])
        yield from _moved("style_runs", "the style", ("runs",), ("level",), points)
    if charted or len(seen.lots) > 1:
        for lot in seen.lots:
            yield from _lot(lot, points, seen)
    if len(seen.measured) * len(seen.lots) > 1:
        yield from _several(points)
    if len(seen.colours) > 1:
        weight = CAUSES["colour_off"].weight / len(seen.colours)
        for colour in seen.colours:
            says = f"{colour} measures otherwise than the other colours"
            yield Way("colour_off", says, weight, ("colour", colour), points)


def _sizes(points: Sequence[str], seen: Seen) -> Iterator[Way]:
    """Yield each size as off by itself, at all points and at each."""
    weight = CAUSES["size_off"].weight / 2 / len(seen.measured)
    for size in seen.measured:
        yield Way("size_off", f"{size} alone is off", weight, ("size", size), tuple(points))
        for point in points:
            says = f"{size} alone is off at the {POINTS[point].name}"
            yield Way("size_off", says, weight / len(points), ("size", size), (point,))


def _lot(lot: str, points: tuple[str, ...], seen: Seen) -> Iterator[Way]:
    """Yield one lot as off: in all its sizes, and where there are others, at a point or in a size.

    With one lot alone those two are the style's.
    """
    key, share, several = ("lot", lot), 1 / len(seen.lots), len(seen.lots) > 1
    whole = share / 2 if several else share
    yield from _moved("lot_off", f"lot {lot}", key, key, points, whole)
    part = CAUSES["lot_off"].weight * share / 4
    for point in points if several else ():
        says = f"lot {lot} is off at the {POINTS[point].name}"
        yield Way("lot_off", says, part / len(points), key, (point,))
    for size in seen.measured if several else ():
        own, weight = ("size", size, lot), part / 2 / len(seen.measured)
        yield Way("lot_off", f"{size} of lot {lot} is off", weight, own, points)
        for point in points:
            says = f"{size} of lot {lot} is off at the {POINTS[point].name}"
            yield Way("lot_off", says, weight / len(points), own, (point,))


def _several(points: tuple[str, ...]) -> Iterator[Way]:
    """Yield all sizes of all lots as off, each by itself, at all points and at each."""
    weight = CAUSES["several_off"].weight / 2
    yield Way("several_off", "several sizes are off by themselves", weight, EACH_BY_ITSELF, points)
    for point in points:
        says = f"several sizes are off by themselves at the {POINTS[point].name}"
        yield Way("several_off", says, weight / len(points), EACH_BY_ITSELF, (point,))


def _levels(points: Sequence[str]) -> Iterator[Way]:
    for point in points:
        says = f"{POINTS[point].name} is off in every size"
        yield Way("point_off", says, CAUSES["point_off"].weight / len(points), ("level",), (point,))


def _not_graded(every: Mapping[str, PointReadings], seen: Seen) -> Iterator[Way]:
    """Yield each point shared by two neighbouring labels: both small, both large, or between.

    Where a chart holds, a point that it leaves out promises no step that could be missing. A tube
    sets the width of the whole body, so there the widths are shared together as well.
    """
    any_charted = any(readings.charted for readings in every.values())
    promised = [p for p, readings in every.items() if bool(readings.charted) == any_charted]
    points = [point for point in promised if POINTS[point].step]
    tube = tuple(point for point in every if seen.tube and point in TUBE_POINTS)
    groups = [*((point,) for point in points), *([tube] if len(tube) > 1 else [])]
    weight = CAUSES["not_graded"].weight / max(1, len(seen.pairs) * len(groups) * len(PARTS))
    for low, high in seen.pairs:
        for shared in groups:
            factor = TUBE_FACTOR if set(shared) <= set(tube) else 1.0
            names = say_list([POINTS[point].name for point in shared])
            says = (
                f"{names} {'are' if len(shared) > 1 else 'is'} not graded between {low} and {high}"
            )
            for part in PARTS:
                yield Way("not_graded", says, weight * factor, ("step", low, high, part), shared)


def _exchanged(points: tuple[str, ...], seen: Seen) -> Iterator[Way]:
    for low, high in seen.pairs:
        weight = CAUSES["exchanged"].weight / len(seen.pairs)
        says = f"the labels {low} and {high} are exchanged"
        yield Way("exchanged", says, weight, ("swap", low, high), points, swaps=(low, high))


def _moved(
    cause: str, what: str, steps: Key, own: Key, points: tuple[str, ...], share: float = 1.0
) -> Iterator[Way]:
    """Yield the style, or a lot, moved by parts of a grade step, or by something of its own."""
    weight = CAUSES[cause].weight * share / 2
    for part in SHIFTS:
        says = f"{what} runs {_FAR[abs(part)]} {'large' if part > 0 else 'small'}"
        yield Way(cause, says, weight / len(SHIFTS), (*steps, part), points)
    yield Way(cause, f"{what} is off", weight, own, points)
