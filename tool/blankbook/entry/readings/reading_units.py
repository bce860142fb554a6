"""Whether a table's readings are flat or all the way around, and in which unit, by their size.

A half chest of 41 in is none. Where a whole column is that large, a person must say what it holds;
where a single cell is, it is rejected. Readings are compared with the style's chart, or without one
with the chest of the body that a letter size is meant for.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import median

from blankbook.entry.charts.size_chart import MissingAnswerError, TableHints
from blankbook.entry.tables.table_cells import Cell
from blankbook.records.flat_or_around import MAYBE_AROUND, is_around, usual_half_chest
from blankbook.records.lengths import CM_IN_INCH, exact_length
from blankbook.records.model import Shop, Style
from blankbook.records.reading_slips import (
    AROUND,
    NEAR_OTHER_UNIT,
    OTHER_SCALE,
    mistaken_scale,
    say_mistaken_scale,
)
from blankbook.words.points import POINTS

NEAR_MEDIAN = Fraction(6, 100)
"""Share by which the middle of all ratios may differ from 2.54 and still be the other unit."""


@dataclass(frozen=True, slots=True)
class RawReading:
    """A reading as it is written, before it is halved or rejected."""

    point: str
    size: str
    mm: Fraction
    """Exact, flat or all the way around, as it was measured."""
    cell: Cell
    bare: bool
    """Whether nothing but the tape says its unit: neither cell, heading, title nor flag."""
    unit: str


def table_points_around(
    raws: Sequence[RawReading], by_heading: Mapping[str, bool], style: Style, hints: TableHints
) -> set[str]:
    """Return the points that are given all the way around; *by_heading* has what headings say.

    Raises: MissingAnswerError where only a person can say the way or the unit.
    """
    raws = [raw for raw in raws if _could_be(raw)]
    _check_unit(raws, style)
    found: set[str] = set()
    for point in MAYBE_AROUND:  # the chest comes first: the others are compared with it
        own = [raw for raw in raws if raw.point == point]
        if not own or point in hints.flat:
            continue
        seems = _seems_around(point, own, raws, style, half="half_chest" in found)
        if point in hints.around or (by_heading.get(point) and seems is not False):
            found.add(point)
        elif seems is not None and seems != bool(by_heading.get(point)):
            raise _around_or_flat(own, style, seems)
    return found


def _could_be(raw: RawReading) -> bool:
    """Say whether a reading can be of a garment at all, flat or all the way around."""
    limits = POINTS[raw.point]
    return limits.least <= raw.mm <= limits.most * (2 if raw.point in MAYBE_AROUND else 1)


def _check_unit(raws: Sequence[RawReading], style: Style) -> None:
    """Ask for the unit where most bare readings look like the other one.

    Raises: MissingAnswerError.
    """
    bare = [(ratio, raw) for raw in raws if raw.bare and (ratio := ratio_to_chart(raw, style))]
    middle = median(ratio for ratio, _ in bare) if bare else Fraction(1)
    for off, likely in ((CM_IN_INCH, "cm"), (1 / CM_IN_INCH, "in")):
        if abs(middle / off - 1) <= NEAR_MEDIAN:
            example = next(raw for ratio, raw in bare if abs(ratio / off - 1) <= NEAR_OTHER_UNIT)
            name = "centimetres" if likely == "cm" else "inches"
            words = f"{example.cell.address} {example.cell.text} and others look like {name}"
            raise MissingAnswerError("unit", f"{words}, and nothing says the unit", likely)


def ratio_to_chart(raw: RawReading, style: Style) -> Fraction | None:
    """Return the ratio of a reading to its charted length, or None without one."""
    charted = style.charts[-1].sizes.get(raw.size, {}).get(raw.point) if style.charts else None
    return raw.mm / charted.exact if charted else None


def _seems_around(
    point: str, own: Sequence[RawReading], raws: Sequence[RawReading], style: Style, *, half: bool
) -> bool | None:
    """Say whether the readings of a point look as if they were taken all the way around."""
    ratios = [ratio for raw in own if (ratio := ratio_to_chart(raw, style))]
    if ratios:
        return sum(ratio > OTHER_SCALE for ratio in ratios) * 2 > len(ratios)
    chest = _middles("half_chest", raws)
    chest = {size: mm / (2 if half else 1) for size, mm in chest.items()}
    return is_around(point, _middles(point, raws), chest, _middles("body_length", raws))


def _middles(point: str, raws: Sequence[RawReading]) -> dict[str, Fraction]:
    sizes = dict.fromkeys(raw.size for raw in raws if raw.point == point)
    return {
        size: median(raw.mm for raw in raws if (raw.point, raw.size) == (point, size))
        for size in sizes
    }


def _around_or_flat(own: Sequence[RawReading], style: Style, seems: bool) -> MissingAnswerError:
    """Return the question how a point was measured, by the reading that shows it best."""
    ranked = sorted(own, key=lambda raw: ratio_to_chart(raw, style) or Fraction(0))
    farthest = ranked[-1] if seems else ranked[0]
    way = "all the way around" if seems else "flat"
    where = f"{farthest.cell.address} {farthest.cell.text}"
    words = f"{where} looks as if the {POINTS[farthest.point].name} "
    words += f"of {farthest.size} were measured {way}"
    likely = "around" if seems else "flat"
    return MissingAnswerError(
        "around", words, likely, point=farthest.point, heading=farthest.cell.address
    )


def oddity(
    raw: RawReading, points_around: set[str], style: Style, shop: Shop, hints: TableHints
) -> str:
    """Return why one reading is not measured or written like its neighbours, or nothing.

    *points_around* are the points that the table gives all the way around.
    """
    by = 2 if raw.point in points_around else 1
    ratio = ratio_to_chart(raw, style)
    expected = raw.mm / ratio if ratio else None
    if raw.point == "half_chest" and expected is None:
        expected = usual_half_chest(raw.size, style.wearer, exact_length(shop.ease))
    if expected is None:
        return ""
    if by == 2 and raw.point not in hints.flat and raw.mm < OTHER_SCALE * expected:
        return f"looks as if it were measured flat among others all around, found {raw.cell.text}"
    slip = mistaken_scale(raw.mm / by, expected, raw.point, raw.unit)
    if not slip or (raw.point in hints.flat if slip == AROUND else not (ratio and raw.bare)):
        return ""
    why = say_mistaken_scale(slip, raw.mm / by, expected, raw.unit)
    if slip == AROUND:
        return f"{why}, and --flat {raw.point} takes {raw.cell.text} as it is"
    return f"{why}; write {raw.cell.text} {slip}"
