"""What a size chart for clients holds.

Every field is named here one by one, so that nothing of the ledger reaches outsiders by itself.
"""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blankbook.pages.value_words import point_name
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.records.model import Blank, Shop
from blankbook.results.client_sizes import (
    ClientMeasure,
    ClientSizes,
    chest_ranges,
    client_name,
    client_rounding,
    client_sizes,
    cloth_text,
    may_be_shown,
)
from blankbook.results.comparable_lines import measuring_line
from blankbook.results.number_words import say_counted
from blankbook.results.result_types import Judged
from blankbook.words.points import INCH, POINTS
from blankbook.words.wash_procedures import DRYINGS, WASHES

MAKERS_CLAIM = "the maker's claim"
NEW = "as received"
BODY_CHEST = "body chest"
"""The point of the rows that say what bodies a size suits."""
SUITS = ("suits from", "suits up to")
"""The stages of those rows."""


@dataclass(frozen=True, slots=True)
class ClientCell:
    """One measure of one size, in both units; its fields are the columns of the file."""

    size: str
    point: str
    stage: str
    inches: str
    decimal: str
    """The same inches, as a decimal."""
    centimetres: str
    tolerance_in: str
    tolerance_cm: str
    known: str
    """Where it is known from."""


@dataclass(frozen=True, slots=True)
class ClientChart:
    """All that the chart for clients needs of a blank."""

    called: str
    slug: str
    fabric: str
    children: bool
    sizes: tuple[str, ...]
    points: tuple[str, ...]
    """Keys, in their usual order."""
    how: Mapping[str, str]
    """By point, how it was measured where houses differ and it was written down."""
    drawn: Mapping[str, Mapping[str, float]]
    """By size and point, the lengths that the drawing has: millimetres, as received."""
    cells: tuple[ClientCell, ...]
    stages: tuple[str, ...]
    washed_pieces: int
    laundering: str
    measured_on: str
    claims: bool
    """Whether a measure is only the maker's claim."""
    ease: str
    inch: str
    centimetre: str
    """The steps that the two units are rounded to."""


def client_chart(judged: Judged) -> ClientChart | None:
    """Return all that the chart for clients needs of a blank; None where it may not be shown."""
    if not may_be_shown(judged):
        return None
    style, shop, known = judged.blank.style, judged.case.shop, client_sizes(judged)
    parts, step = client_rounding(shop)
    return ClientChart(
        called=client_name(judged),
        slug=slug(client_name(judged)),
        fabric=cloth_text(judged),
        children=style.wearer == "children",
        sizes=tuple(known.sizes),
        points=tuple(known.points),
        how=_how(judged.blank, known.points),
        drawn=_drawn(known),
        cells=(*_cells(known, shop), *_chests(known, shop)),
        stages=(NEW, *([_after(known.cycles)] if known.cycles else [])),
        washed_pieces=known.washed_pieces,
        laundering=_laundering(known),
        measured_on=known.measured_on.isoformat() if known.measured_on else "",
        claims=any(not measure.pieces for measure in known.measures),
        ease=f"{in_inches(shop.ease)} in ({in_centimetres(shop.ease)} cm)",
        inch=f"1/{parts}" if parts > 1 else "1",
        centimetre=f"{step / 10:g}",
    )


def chart_anchor(judged: Judged) -> str:
    """Return the place of a blank's chart, or of its namesakes', on the list of the charts."""
    return f"shirt-{slug(client_name(judged))}"


def slug(words: str) -> str:
    """Return words as a part of a path: small plain letters, figures and hyphens.

    >>> slug("Größe: Heavy Tee, 6 oz"), slug("厚手")
    ('grosse-heavy-tee-6-oz', 'shirt')
    """
    plain = unicodedata.normalize("NFKD", words.casefold()).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:60].strip("-") or "shirt"


def _after(cycles: int) -> str:
    return f"after {say_counted(cycles, 'wash')}"


def _laundering(known: ClientSizes) -> str:
    if not known.laundering:
        return ""
    wash, dry = known.laundering
    return f"{WASHES[wash]}; {DRYINGS[dry]}"


def _how(blank: Blank, points: Sequence[str]) -> dict[str, str]:
    """Return by point how it was measured, where that is another way than the usual one."""
    chosen = {point: measuring_line(blank, point) for point in points}
    return {
        point: POINTS[point].variant_meaning(way)
        for point, way in chosen.items()
        if way and way != POINTS[point].variants[0][0]
    }


def _cells(known: ClientSizes, shop: Shop) -> list[ClientCell]:
    """Return every measure, as received and washed, with both units."""
    after = _after(known.cycles)
    found = []
    for measure in known.measures:
        found.append(_cell(measure, NEW, measure.mm, known, shop))
        if measure.washed is not None:
            found.append(_cell(measure, after, measure.washed, known, shop))
    return found


def _cell(
    measure: ClientMeasure, stage: str, mm: float, known: ClientSizes, shop: Shop
) -> ClientCell:
    # Each unit is rounded from the measurement itself: rounding twice would move a length.
    parts, step = client_rounding(shop)
    allowed = known.tolerance[measure.point]
    pieces = say_counted(measure.pieces, "piece")
    source = f"measured, {pieces}" if measure.pieces else MAKERS_CLAIM
    return ClientCell(
        size=measure.size,
        point=point_name(measure.point),
        stage=stage,
        inches=in_inches(mm, parts),
        decimal=f"{round(mm / float(INCH) * parts) / parts:g}",
        centimetres=in_centimetres(round(mm / step) * step),
        tolerance_in=in_inches(allowed),
        tolerance_cm=in_centimetres(allowed),
        known=source if stage == NEW else "measured as received, and the mean change in washing",
    )


def _drawn(known: ClientSizes) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = {}
    for measure in known.measures:
        found.setdefault(measure.size, {})[measure.point] = round(measure.mm, 1)
    return found


def _chests(known: ClientSizes, shop: Shop) -> list[ClientCell]:
    """Return the chests of the bodies that each size suits, from and to, to 1/2 in and 1 cm."""
    return [
        _chest(size, known, stage, mm)
        for size, ends in chest_ranges(known, shop.ease).items()
        for stage, mm in zip(SUITS, ends, strict=True)
    ]


def _chest(size: str, known: ClientSizes, stage: str, mm: float) -> ClientCell:
    measure = known.at(size, "half_chest")
    assert measure
    return ClientCell(
        size=size,
        point=BODY_CHEST,
        stage=stage,
        inches=in_inches(mm, 2),
        decimal=f"{round(mm / float(INCH) * 2) / 2:g}",
        centimetres=f"{mm / 10:.0f}",
        tolerance_in="",
        tolerance_cm="",
        known="twice the half chest, less the ease" if measure.pieces else MAKERS_CLAIM,
    )
