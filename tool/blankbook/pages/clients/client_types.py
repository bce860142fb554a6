"""The pages that clients read, as their templates show them."""

from dataclasses import dataclass

from blankbook.pages.page_types import ChartImage


@dataclass(frozen=True, slots=True)
class ClientLine:
    """One chart in the list."""

    name: str
    place: str
    """Its place on the page."""
    path: str
    data: str
    fabric: str
    sizes: tuple[str, ...]
    measured_on: str


@dataclass(frozen=True, slots=True)
class ClientListContext:
    """All that the list of the charts shows."""

    up: str
    rows: tuple[ClientLine, ...]


@dataclass(frozen=True, slots=True)
class SizeRow:
    """One size, a cell for each point."""

    size: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StageGroup:
    """The sizes as received, or after washing."""

    title: str
    rows: tuple[SizeRow, ...]


@dataclass(frozen=True, slots=True)
class UnitTable:
    """One unit's table."""

    unit: str
    step: str
    """What its lengths are rounded to."""
    points: tuple[str, ...]
    groups: tuple[StageGroup, ...]
    tolerance: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChestRow:
    """The chests of the bodies that a size suits."""

    size: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PointContext:
    """How a point is measured."""

    key: str
    name: str
    where: str
    slip: str
    variants: tuple[str, ...]
    how: str
    chart: ChartImage


@dataclass(frozen=True, slots=True)
class ClientContext:
    """All that a size chart shows."""

    up: str
    home: str
    """The list of the charts."""
    name: str
    data: str
    fabric: str
    caution: str
    measured_on: str
    drawing: ChartImage | None
    tables: tuple[UnitTable, ...]
    chests: tuple[ChestRow, ...]
    ease: str
    washed: str
    """The stage after washing; empty where it was not tested."""
    washed_pieces: int
    laundering: str
    claims: bool
    points: tuple[PointContext, ...]


@dataclass(frozen=True, slots=True)
class PublicGuideContext:
    """All that the guide for outsiders shows."""

    up: str
    points: tuple[PointContext, ...]
