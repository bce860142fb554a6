"""A supplier's size charts, version by version: what each changed against the one before."""

from dataclasses import dataclass

from blankbook.history.moved.chart_versions import ChartVersion
from blankbook.pages.value_words import DASH, change_text, length_text, point_name
from blankbook.records.model import Style
from blankbook.words.points import POINTS


@dataclass(frozen=True, slots=True)
class VersionCell:
    """What became of a cell of a chart."""

    text: str
    past: bool
    """Whether it moved by more than the tolerance."""


@dataclass(frozen=True, slots=True)
class VersionRow:
    """One point of measure, size by size."""

    head: str
    cells: tuple[VersionCell, ...]


@dataclass(frozen=True, slots=True)
class VersionTable:
    """One chart against the one before it."""

    since: str
    origin: str
    first: bool
    sizes: tuple[str, ...]
    rows: tuple[VersionRow, ...]
    same: tuple[str, ...]
    """The points at which no length moved."""
    notes: tuple[str, ...]
    """What else is different, and what looks like a slip."""
    lots: int
    """How many lots are judged by it."""


def version_table(version: ChartVersion, style: Style, unit: str, lots: int) -> VersionTable:
    """Return one chart against the one before it, lengths in the shop's unit.

    *lots* is how many lots are judged by it.
    """
    # A point at which no cell moved has no row: the page names it once, under "as before".
    at = {(cell.size, cell.point) for cell in version.moved} | version.added | version.removed
    points = [point for point in POINTS if any(point == cell[1] for cell in at)]
    charted = {point for row in version.chart.sizes.values() for point in row}
    return VersionTable(
        since=version.chart.since.isoformat(),
        origin=version.chart.origin,
        first=version.first,
        sizes=tuple(style.sizes) if points else (),
        rows=tuple(
            VersionRow(
                head=point_name(point),
                cells=tuple(_cell(version, size, point, unit) for size in style.sizes),
            )
            for point in points
        ),
        same=tuple(
            point_name(p)
            for p in POINTS
            if p in charted and p not in (*points, *version.not_comparable)
        ),
        notes=(
            *(
                f"{point_name(point)}: the tolerance is ± {length_text(now, unit)}, was "
                f"± {length_text(was, unit)}"
                for point, was, now in version.tolerances
            ),
            *(
                f"{point_name(point)}: measured {now}, was {was}"
                + (
                    ", another length: the two are not comparable"
                    if point in version.not_comparable
                    else ""
                )
                for point, was, now in version.measured_otherwise
            ),
            *version.suspicions,
        ),
        lots=lots,
    )


def _cell(version: ChartVersion, size: str, point: str, unit: str) -> VersionCell:
    """Return what became of a cell; *past* where it moved by more than the tolerance."""
    if (size, point) in version.added:
        return VersionCell(text="new", past=False)
    if (size, point) in version.removed:
        return VersionCell(text="left out", past=False)
    for cell in version.moved:
        if (cell.size, cell.point) == (size, point):
            return VersionCell(text=change_text(float(cell.by), unit), past=cell.past_tolerance)
    is_charted = point in version.chart.sizes.get(size, {})
    return VersionCell(text=change_text(0.0, unit) if is_charted else DASH, past=False)
