"""What a size chart for clients holds.

Every field is named here one by one, so that nothing of the ledger reaches outsiders by itself.
"""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blankbook.pages.value_words import point_name
from blankbook.records.lengths import in_centimetres, in_inches
from blankbook.records.model import Blank, Shop, Style
from blankbook.results.client_sizes import (
    ClientMeasure,
    ClientSizes,
    body_chest,
    client_name,
    client_rounding,
    client_sizes,
    cloth_text,
    may_be_shown,
)
from blankbook.results.comparable_lines import measuring_line
from blankbook.results.number_words import say_counted
from blankbook.results.result_types import Judged
from blankbook.words.body_sizes import BODY_SIZE_LISTS, letter_size
from blankbook.words.points import INCH, POINTS
from blankbook.words.wash_procedures import DRYINGS, WASHES

MAKERS_CLAIM = "the maker's claim"
NEW = "as received"
BODY_CHEST = "body chest"
"""The point of the row that says what body a size suits."""


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
class LetterList:
    """What a published list means by the letters of sizes."""

    head: str
    spans: Mapping[str, str]
    """By size."""


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
    letters: tuple[LetterList, ...]
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
        called=client_name(style),
        slug=slug(client_name(style)),
        fabric=cloth_text(style),
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
        letters=_letters(style, known.sizes),
        ease=f"{in_inches(shop.ease)} in ({in_centimetres(shop.ease)} cm)",
        inch=f"1/{parts}" if parts > 1 else "1",
        centimetre=f"{step / 10:g}",
    )


def chart_anchor(judged: Judged) -> str:
    """Return the place of a blank's chart, or of its namesakes', on the list of the charts."""
    return f"shirt-{slug(client_name(judged.blank.style))}"


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
    """Return by point how it was measured, where houses differ and a record says which way."""
    chosen = {point: measuring_line(blank, point) for point in points}
    return {point: POINTS[point].variant_meaning(way) for point, way in chosen.items() if way}


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
    """Return the chest of the body that each size suits, to 1/2 in and 1 cm."""
    found = []
    for size in known.sizes:
        measure = known.at(size, "half_chest")
        chest = body_chest(measure.mm, shop.ease) if measure else None
        if measure and chest:
            found.append(
                ClientCell(
                    size=size,
                    point=BODY_CHEST,
                    stage="suits about",
                    inches=in_inches(chest, 2),
                    decimal=f"{round(chest / float(INCH) * 2) / 2:g}",
                    centimetres=f"{chest / 10:.0f}",
                    tolerance_in="",
                    tolerance_cm="",
                    known="twice the half chest, less the ease" if measure.pieces else MAKERS_CLAIM,
                )
            )
    return found


def _letters(style: Style, sizes: Sequence[str]) -> tuple[LetterList, ...]:
    """Return every published list that knows one of these letters, with what it says of them."""
    if style.wearer == "children":
        return ()
    found = []
    for list_ in BODY_SIZE_LISTS:
        spans = {s: list_.chest[letter_size(s)] for s in sizes if letter_size(s) in list_.chest}
        if spans:
            said = {size: f"{low} to {high}" for size, (low, high) in spans.items()}
            found.append(LetterList(head=f"{list_.title}, {list_.unit}", spans=said))
    return tuple(found)
