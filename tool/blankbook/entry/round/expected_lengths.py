"""What a reading is expected to be, and what is said at once when it is not.

The rule is the same in the terminal and on the phone. A reading is compared with the median of its
siblings (pieces of the same label in the round, read at the same point) or, while it is the first,
with the chart. It is far off where it differs by more than the tolerance of the point, and from
siblings also by more than pieces of one label differ by chance: a shirt well inside its tolerance
can still be half an inch longer than the one beside it. A warning then says by how much it is off,
whether it is nearer to the size above or below, and which slip would explain it: an inch (or a
centimetre) too many or too few, two digits the wrong way round, centimetres for inches, or another
point's length.
"""

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from math import hypot
from statistics import NormalDist, median
from typing import Any

from blankbook.records.comparable import GUIDE_VARIANTS, Variants, comparable_chart
from blankbook.records.lengths import say_length, say_length_change
from blankbook.records.model import Chart, Shop, Style
from blankbook.words.points import POINTS

INCH, CENTIMETRE = 25.4, 10.0
NEAR_WHOLE_SLIP = 0.25
"""As a share of an inch or a centimetre: how near to a whole number of them counts as a slip."""
SURE_DEVIATIONS = NormalDist().inv_cdf(0.995)
"""Standard deviations: one sound reading in a hundred is asked about, so less than one a round.

It is for the normal distribution and the spread that the shop assumes. What the ledger has learned
takes longer to compute than a person waits for the first prompt.
"""
SUM_ROUNDING = 1e-6
"""Millimetres: the rounding error of sums of lengths must not decide a reading on a border."""
NEAR_UNIT_RATIO = 0.03
"""Share by which the ratio of two lengths may differ from 2.54 and count as the wrong unit."""


@dataclass(frozen=True, slots=True)
class Target:
    """What a point of one size is expected to be. Lengths are millimetres."""

    charted: float | None
    tolerance: float
    beside: Mapping[str, float]
    """By label: the charted lengths of the sizes next to it."""
    apart: float = 0.0
    """How far a reading may be from the true mean of its label by chance alone."""

    def limit(self, siblings: int) -> float:
        """Return how far off is far: from the chart, or from the median of so many siblings."""
        if not siblings:
            return self.tolerance
        return float(max(self.tolerance, self.apart * (1 + 1 / siblings) ** 0.5))


Targets = dict[str, dict[str, Target]]
"""By size label, then by point of measure."""


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
    tolerance = allowed.mm if allowed else shop.tolerance[point]
    return Target(
        _charted(chart, size, point),
        tolerance,
        beside,
        SURE_DEVIATIONS * _reading_deviation(shop, point),
    )


def _reading_deviation(shop: Shop, point: str) -> float:
    """Return the standard deviation of one reading of one piece: cloth, tape and hand.

    The tape's step d brings d / sqrt(12) (GUM, JCGM 100:2008, F.2.2.1).
    """
    tape = shop.tape.reads_to.mm / 12**0.5
    return hypot(shop.spread[point].deviation, tape, shop.repeatability.deviation)


def _charted(chart: Chart | None, size: str, point: str) -> float | None:
    length = chart.sizes.get(size, {}).get(point) if chart else None
    return length.mm if length else None


def expected_length(target: Target, siblings: Sequence[float]) -> float | None:
    """Return the median of the siblings, else the charted length, else None."""
    return median(siblings) if siblings else target.charted


@dataclass(frozen=True, slots=True)
class ReadingWarning:
    """What is odd about a reading, said while the piece is still there."""

    kind: str
    """``siblings``, ``chart``, ``size`` or ``slip``."""
    says: str


def reading_warnings(
    mm: float,
    target: Target,
    siblings: Sequence[float],
    others: Mapping[str, float],
    unit: str,
) -> list[ReadingWarning]:
    """Return what is odd about a reading; *others* are the expected lengths of other points.

    *unit* is the tape's: slips happen in its numbers, and a person looks for the answer on it.
    """
    wanted = expected_length(target, siblings)
    if wanted is None:
        return []
    off = mm - wanted
    if abs(off) <= target.limit(len(siblings)) + SUM_ROUNDING:
        return []
    kind = "siblings" if siblings else "chart"
    by = "the others of its label" if siblings else "the chart"
    found = [
        ReadingWarning(
            kind, f"{say_length_change(off, unit)} against {by} ({say_length(wanted, unit)})"
        )
    ]
    nearer = _nearer(mm, wanted, target)
    if nearer:
        found.append(ReadingWarning("size", f"it measures as {nearer}: look at the label"))
    if slip := _slip(mm, wanted, target, others, unit):
        found.append(ReadingWarning("slip", slip))
    return found


def _nearer(mm: float, wanted: float, target: Target) -> str:
    """Return the neighbouring label that a reading fits better than its own, or nothing."""
    off = {size: abs(mm - length) for size, length in target.beside.items()}
    near = min(target.tolerance + SUM_ROUNDING, abs(mm - wanted) - SUM_ROUNDING)
    fits = [size for size in off if off[size] <= near]
    return min(fits, key=lambda size: round(off[size], 6), default="")


def _slip(mm: float, wanted: float, target: Target, others: Mapping[str, float], unit: str) -> str:
    """Return the slip that would explain a reading, as a question, or nothing."""
    whole = INCH if unit == "in" else CENTIMETRE
    for count in (1, 2, 3):
        if abs(abs(mm - wanted) - count * whole) <= NEAR_WHOLE_SLIP * whole + SUM_ROUNDING:
            meant = mm - count * whole if mm > wanted else mm + count * whole
            return f"is this a {_wholes(mm, whole) % 10} or a {_wholes(meant, whole) % 10}?"
    read = _wholes(mm, whole)
    other = int(str(read)[::-1])
    if (
        read != other
        and abs(mm + (other - read) * whole - wanted) <= target.tolerance + SUM_ROUNDING
    ):
        return f"is it {other} and not {read}?"
    if any(abs(mm / wanted / ratio - 1) <= NEAR_UNIT_RATIO for ratio in (2.54, 1 / 2.54)):
        return "was the other side of the tape read, inches for centimetres?"
    for point, length in others.items():
        if abs(mm - length) <= target.tolerance + SUM_ROUNDING:
            return f"it fits the {POINTS[point].name}: is this the right point?"
    return ""


def _wholes(mm: float, whole: float) -> int:
    """Return the whole units of a length: the number that a person reads before the marks."""
    return int((mm + SUM_ROUNDING) / whole)


def targets_as_data(found: Targets) -> dict[str, Any]:
    """Return the targets as plain data, for a page that warns by the same rule.

    Neighbouring sizes are pairs in a list: a mapping may lose its order, and of two sizes that fit
    alike the first is named.
    """
    return {
        size: {
            point: asdict(target) | {"beside": [*target.beside.items()]}
            for point, target in row.items()
        }
        for size, row in found.items()
    }
