"""What a reading is expected to be, and what is said at once when it is not.

The rule is the same in the terminal and on the phone. A reading is compared with the chart, or with
the width that its letter usually has; only where neither is there, with earlier pieces: a first
wrong reading must not make the second look right. What nothing can be held against is compared
with what T-shirts measure.

A warning says by how much a reading is off, whether it is nearer to the size above or below, and
which slip would explain it. A size that is as wide as the one beside it is worth a word too, while
both lie there.
"""

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import hypot
from statistics import NormalDist, median
from typing import Any

from blankbook.records.chart_remarks import GROWING
from blankbook.records.comparable import GUIDE_VARIANTS, Variants, comparable_chart
from blankbook.records.flat_or_around import usual_half_chest
from blankbook.records.lengths import FINEST_PARTS, exact_length, say_length, say_length_change
from blankbook.records.model import Chart, Shop, Style
from blankbook.records.reading_slips import (
    is_other_scale,
    mistaken_scale,
    outside_span,
    reading_slip,
    say_mistaken_scale,
    say_outside_span,
)
from blankbook.words.points import usual_span

SURE_DEVIATIONS = NormalDist().inv_cdf(0.995)
"""Standard deviations: one sound reading in a hundred is asked about, so less than one a round.

It is for the normal distribution and the spread that the shop assumes. What the ledger has learned
takes longer to compute than a person waits for the first prompt.
"""
AS_WIDE = {"half_chest": "wide", "body_length": "long"}
NARROWER = {"half_chest": "narrower", "body_length": "shorter"}


@dataclass(frozen=True, slots=True)
class Target:
    """What a point of one size is expected to be. Lengths are exact millimetres."""

    charted: Fraction | None
    tolerance: Fraction
    beside: Mapping[str, Fraction]
    """By label: the charted lengths of the sizes next to it."""
    usual: Fraction | None = None
    """What the label usually has, where no chart says: good enough to see a mistaken scale."""
    span: tuple[Fraction, Fraction] = (Fraction(0), Fraction(10_000))
    """Between which lengths nearly every T-shirt lies."""
    step: Fraction = Fraction(0)
    """The usual growth from one size to the next."""
    apart: float = 0.0
    """How far a reading may be from the true mean of its label by chance alone, millimetres."""

    def limit(self, siblings: int) -> Fraction | float:
        """Return how far off is far: from the chart, or from the median of so many siblings."""
        by_chance = self.apart * (1 + 1 / siblings) ** 0.5 if siblings else 0.0
        return max(self.tolerance, by_chance)


Targets = dict[str, dict[str, Target]]
"""By size label, then by point of measure."""


@dataclass(frozen=True, slots=True)
class EarlierReadings:
    """What was read at one point before, exact millimetres, by label in the style's order."""

    size: str
    """The label of the piece that is read now; its own earlier readings are left out."""
    by_size: Mapping[str, Sequence[Fraction]] = field(default_factory=dict)
    """By each label of the style, empty where it was not read."""
    wide: bool = False
    """Whether a piece was confirmed whose reading lies outside what T-shirts measure."""

    @property
    def siblings(self) -> Sequence[Fraction]:
        """The readings of other pieces of the same label."""
        return self.by_size.get(self.size, ())

    def beside(self) -> Iterator[tuple[str, int, Sequence[Fraction]]]:
        """Yield the labels next below and above, with -1 or 1, that were read."""
        labels = list(self.by_size)
        at = labels.index(self.size) if self.size in labels else -1
        for by in (-1, 1) if at >= 0 else ():
            if 0 <= at + by < len(labels) and (read := self.by_size[labels[at + by]]):
                yield labels[at + by], by, read

    def nearest(self) -> tuple[str, int, Sequence[Fraction]] | None:
        """Return the nearest other label that was read, how many sizes larger it is, and those."""
        labels = list(self.by_size)
        if self.size not in labels:
            return None
        at = labels.index(self.size)
        read = [n for n, label in enumerate(labels) if n != at and self.by_size[label]]
        found = min(read, key=lambda n: abs(n - at), default=None)
        return None if found is None else (labels[found], found - at, self.by_size[labels[found]])


def chart_to_expect(style: Style, day: datetime.date | None) -> Chart | None:
    """Return the chart to compare readings of a day with: the one that held, else the first.

    A chart that was published later does not show what was promised, but it does show a slip.
    """
    held = style.chart_on(day) if day else None
    return held or (style.charts[0] if style.charts else None)


def size_targets(
    style: Style,
    chart: Chart | None,
    shop: Shop,
    points: Sequence[str],
    how: Variants = GUIDE_VARIANTS,
) -> Targets:
    """Return what every size should measure at every point, by the variants that *how* names."""
    chart = comparable_chart(chart, how)
    return {
        size: {point: _target(style, chart, shop, size, point) for point in points}
        for size in style.sizes
    }


def _target(style: Style, chart: Chart | None, shop: Shop, size: str, point: str) -> Target:
    """Return what one size should measure at one point."""
    at = style.sizes.index(size)
    near = [*style.sizes[max(0, at - 1) : at], *style.sizes[at + 1 : at + 2]]
    beside = {label: mm for label in near if (mm := _charted(chart, label, point)) is not None}
    allowed = chart.tolerance.get(point) if chart else None
    usual = None
    if point == "half_chest":
        usual = usual_half_chest(size, style.wearer, exact_length(shop.ease))
    return Target(
        _charted(chart, size, point),
        allowed.exact if allowed else exact_length(shop.tolerance[point]),
        beside,
        exact_length(float(usual)) if usual else None,
        usual_span(point, style.wearer),
        exact_length(shop.step[point]),
        SURE_DEVIATIONS * _reading_deviation(shop, point),
    )


def _reading_deviation(shop: Shop, point: str) -> float:
    """Return the standard deviation of one reading of one piece: cloth, tape and hand.

    The tape's step d brings d / sqrt(12) (GUM, JCGM 100:2008, F.2.2.1).
    """
    tape = shop.tape.reads_to.mm / 12**0.5
    return hypot(shop.spread[point].deviation, tape, shop.repeatability.deviation)


def _charted(chart: Chart | None, size: str, point: str) -> Fraction | None:
    """Return the charted length of a size at a point, or None."""
    length = chart.sizes.get(size, {}).get(point) if chart else None
    return length.exact if length else None


def expected_length(target: Target, siblings: Sequence[Fraction]) -> Fraction | None:
    """Return the charted length, else the median of the siblings, else None."""
    if target.charted is not None:
        return target.charted
    return median(siblings) if siblings else None


@dataclass(frozen=True, slots=True)
class ReadingWarning:
    """What is odd about a reading, said while the piece is still there."""

    kind: str
    """``chart``, ``usual``, ``siblings``, ``sizes``, ``span``, ``size``, ``slip`` or ``equal``."""
    says: str


def reading_warnings(
    length: Fraction,
    point: str,
    target: Target,
    earlier: EarlierReadings,
    others: Mapping[str, Fraction],
    unit: str,
) -> list[ReadingWarning]:
    """Return what is odd about a reading; *others* are the expected lengths of other points.

    *unit* is the tape's: slips happen in its numbers, and a person looks for the answer on it.
    """
    found = list(_far_off(length, point, target, earlier, others, unit))
    if any(warning.kind == "size" for warning in found):
        return found
    return [*found, *_as_the_next(length, point, target, earlier, unit)]


def _far_off(
    length: Fraction,
    point: str,
    target: Target,
    earlier: EarlierReadings,
    others: Mapping[str, Fraction],
    unit: str,
) -> Iterator[ReadingWarning]:
    """Yield how far a reading is from what is expected, and what would explain it."""
    if target.charted is None and (usual := target.usual) and is_other_scale(length, usual):
        yield ReadingWarning("usual", _against(length, usual, f"the usual {earlier.size}", unit))
        if slip := mistaken_scale(length, usual, point, unit):
            yield ReadingWarning("slip", say_mistaken_scale(slip, length, usual, unit))
        return
    found = _expectation(target, earlier)
    if found is None:
        if outside_span(length, target.span) and target.usual is None and not earlier.wide:
            yield ReadingWarning("span", say_outside_span(target.span, unit))
        return
    wanted, limit, kind, by = found
    if abs(length - wanted) <= limit:
        return
    yield ReadingWarning(kind, _against(length, wanted, by, unit))
    slip = reading_slip(length, wanted, target.tolerance, point, unit, others)
    if nearer := _nearer(length, wanted, target):
        yield ReadingWarning("size", f"it measures as {nearer}: look at the label")
    if slip:
        yield ReadingWarning("slip", slip)


def _expectation(
    target: Target, earlier: EarlierReadings
) -> tuple[Fraction, Fraction | float, str, str] | None:
    """Return the expected length, how far off is far, and what it is expected by."""
    if target.charted is not None:
        return target.charted, target.tolerance, "chart", "the chart"
    if siblings := earlier.siblings:
        middle = median(siblings)
        return middle, target.limit(len(siblings)), "siblings", "the others of its label"
    if nearest := earlier.nearest():
        label, sizes, read = nearest
        # How much this style grows is not known yet: a step more or less is no slip.
        limit = target.tolerance + abs(sizes) * target.step
        return median(read) - sizes * target.step, limit, "sizes", f"{label} and the usual step"
    return None


def _against(length: Fraction, wanted: Fraction, by: str, unit: str) -> str:
    """Return by how much a reading is off."""
    off = say_length_change(float(length - wanted), unit)
    return f"{off} against {by} ({say_length(float(wanted), unit)})"


def _nearer(length: Fraction, wanted: Fraction, target: Target) -> str:
    """Return the neighbouring label that a reading fits better than its own, or nothing."""
    off = {size: abs(length - charted) for size, charted in target.beside.items()}
    own = abs(length - wanted)
    fits = [size for size in off if off[size] <= target.tolerance and off[size] < own]
    return min(fits, key=off.__getitem__, default="")


def _as_the_next(
    length: Fraction, point: str, target: Target, earlier: EarlierReadings, unit: str
) -> Iterator[ReadingWarning]:
    """Yield that a size is as wide or as long as the one beside it, unless the chart says so.

    Read to the same mark it is equal; a mark less, the order is turned round.
    """
    for label, by, read in earlier.beside() if point in GROWING else ():
        charted = target.beside.get(label)
        if charted is not None and charted == target.charted:
            continue
        middle = median(read)
        grows = (middle - length) * by
        said = say_length(float(middle), unit)
        if grows == 0:
            yield ReadingWarning("equal", f"as {AS_WIDE[point]} as {label} ({said})")
        elif grows < 0:
            word = NARROWER[point] if by < 0 else GROWING[point]
            yield ReadingWarning("equal", f"{word} than {label} ({said})")


def targets_as_data(found: Targets) -> dict[str, Any]:
    """Return the targets as plain data, for a page that warns by the same rule.

    Lengths are whole numbers of `FINEST_PARTS` of a millimetre, which a page compares exactly.
    Neighbouring sizes are pairs in a list: a mapping may lose its order, and of two sizes that fit
    alike the first is named.
    """
    return {
        size: {point: _target_data(target) for point, target in row.items()}
        for size, row in found.items()
    }


def _target_data(target: Target) -> dict[str, Any]:
    """Return one target as plain data."""
    return {
        "charted": _parts(target.charted),
        "tolerance": _parts(target.tolerance),
        "beside": [[label, _parts(length)] for label, length in target.beside.items()],
        "usual": _parts(target.usual),
        "span": [_parts(end) for end in target.span],
        "step": _parts(target.step),
        "apart": target.apart,
    }


def _parts(length: Fraction | None) -> int | None:
    """Return a length as a whole number of the finest parts, which every length of a target is."""
    return None if length is None else int(length * FINEST_PARTS)
