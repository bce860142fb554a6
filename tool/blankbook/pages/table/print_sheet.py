"""The sheet that a blank is measured on: printed, and written on by hand."""

from dataclasses import dataclass

from blankbook.pages.page_spec import PageSpec
from blankbook.pages.site_paths import blank_path, sheet_path
from blankbook.pages.value_words import DASH, length_text, unit_words
from blankbook.records.model import Blank, Chart, Shop
from blankbook.results.chart_values import chart_tolerance, charted_length
from blankbook.results.evidence import points_to_measure
from blankbook.words.points import POINTS, TAPE_SLIPS

ROOM = 6
"""Pieces of one size that a block has room for."""
ASKED = ("piece no.", "colour", "lot", "washes, 0 = as received")
"""What is written down of each piece besides its lengths."""
ONCE = ("date", "by", "tape")
"""What is written once: who goes on with another hand or tape takes another sheet."""


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One point of measure in a block: what is charted, and room for what is read."""

    point: str
    charted: str
    tolerance: str


@dataclass(frozen=True, slots=True)
class SheetBlock:
    """The pieces of one size."""

    size: str
    rows: tuple[SheetRow, ...]


@dataclass(frozen=True, slots=True)
class SheetContext:
    """All that the sheet shows."""

    up: str
    name: str
    key: str
    blank: str
    supplier: str
    colours: tuple[str, ...]
    unit: str
    since: str
    slips: str
    asked: tuple[str, ...]
    once: tuple[str, ...]
    room: int
    sizes: tuple[SheetBlock, ...]
    hows: tuple[str, ...]


def sheet_page(blank: Blank, shop: Shop) -> PageSpec[SheetContext]:
    """Return the sheet of one blank, measured or not: a block for each size."""
    style = blank.style
    chart = style.charts[-1] if style.charts else None
    points = points_to_measure(blank, shop)
    context = SheetContext(
        up="../../",
        name=style.name,
        key=style.key,
        blank=blank_path(style.key),
        supplier=blank.supplier.name,
        colours=tuple(style.colours),
        unit=unit_words(shop.unit),
        since=chart.since.isoformat() if chart else "",
        slips=TAPE_SLIPS,
        asked=ASKED,
        once=ONCE,
        room=ROOM,
        sizes=tuple(_size(size, points, chart, shop) for size in style.sizes),
        hows=_hows(points, chart),
    )
    return PageSpec(
        sheet_path(style.key), f"Measuring sheet, {style.name}", "table/sheet.html.j2", context
    )


def _size(size: str, points: list[str], chart: Chart | None, shop: Shop) -> SheetBlock:
    rows = []
    for point in points:
        target = charted_length(chart, size, point)
        rows.append(
            SheetRow(
                point=POINTS[point].name,
                charted=DASH if target is None else length_text(target, shop.unit),
                tolerance=length_text(chart_tolerance(shop, chart, point), shop.unit),
            )
        )
    return SheetBlock(size, tuple(rows))


def _hows(points: list[str], chart: Chart | None) -> tuple[str, ...]:
    """Return how the chart measures where houses differ, as far as it says."""
    chosen = chart.how if chart else {}
    return tuple(_how(point, chosen[point]) for point in points if point in chosen)


def _how(point: str, way: str) -> str:
    words = f"{POINTS[point].name} {POINTS[point].variant_meaning(way)}"
    if POINTS[point].are_comparable(way, ""):
        return words
    return f"{words} (not as the guide has it: write in the round which way you took)"
