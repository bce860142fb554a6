"""The size charts that clients get: a page and a file of the same cells each, and their list."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

from blankbook.pages.charts import all_charts
from blankbook.pages.clients.client_rows import (
    BODY_CHEST,
    MAKERS_CLAIM,
    SUITS,
    ClientCell,
    ClientChart,
)
from blankbook.pages.clients.client_types import (
    ChestRow,
    ClientContext,
    ClientLine,
    ClientListContext,
    PointContext,
    PublicGuideContext,
    SizeRow,
    StageGroup,
    UnitTable,
)
from blankbook.pages.page_spec import AnyPage, FileSpec, PageSpec
from blankbook.pages.page_types import chart_image
from blankbook.pages.site_paths import CLIENT_CHARTS, client_data_path, client_path
from blankbook.pages.value_words import DASH, point_name
from blankbook.words.garment_terms import CHILDREN_CHART_CAUTION
from blankbook.words.points import POINTS

HEADS = (
    "size",
    "point of measure",
    "stage",
    "inches",
    "inches as a decimal",
    "centimetres",
    "tolerance in inches",
    "tolerance in centimetres",
    "known from",
)
"""The columns of the file: the fields of a `ClientCell`, in their order."""


@dataclass(frozen=True, slots=True)
class NamedChart:
    """A chart with a title and a path that no other has."""

    title: str
    slug: str
    chart: ClientChart


def named_charts(charts: Mapping[str, ClientChart]) -> list[NamedChart]:
    """Return every chart for clients, by title; *charts* are those of the blanks, by key.

    Blanks that are called alike are numbered: the name alone cannot tell them apart.
    """
    taken: set[str] = set()
    found: list[NamedChart] = []
    again: list[ClientChart] = []
    for _, chart in sorted(charts.items(), key=lambda blank: (blank[1].called, blank[0])):
        if chart.slug in taken:
            again.append(chart)
        else:
            found.append(NamedChart(chart.called, chart.slug, chart))
        taken.add(chart.slug)
    # Numbers are given last, so that a blank that is itself called "Tee 2" keeps its own path.
    for chart in again:
        number = next(n for n in range(2, len(charts) + 2) if f"{chart.slug}-{n}" not in taken)
        taken.add(f"{chart.slug}-{number}")
        found.append(NamedChart(f"{chart.called} ({number})", f"{chart.slug}-{number}", chart))
    return sorted(found, key=lambda named: (named.title, named.slug))


def client_pages(charts: Mapping[str, ClientChart], *, public: bool = False) -> list[AnyPage]:
    """Return the list of the charts for clients, and each of them."""
    named = named_charts(charts)
    home = "index.html" if public else CLIENT_CHARTS
    return [_list(named, home), *(_page(chart, home) for chart in named)]


def _list(charts: Sequence[NamedChart], home: str) -> PageSpec[ClientListContext]:
    context = ClientListContext(up="", rows=tuple(map(_line, charts)))
    return PageSpec(home, "Size charts", "clients/clients.html.j2", context)


def _line(named: NamedChart) -> ClientLine:
    chart = named.chart
    return ClientLine(
        name=named.title,
        place=f"shirt-{named.slug}",
        path=client_path(named.slug),
        data=client_data_path(named.slug),
        fabric="" if chart.fabric in named.title else chart.fabric,
        sizes=chart.sizes,
        measured_on=chart.measured_on or DASH,
    )


def _page(named: NamedChart, home: str) -> PageSpec[ClientContext]:
    chart = named.chart
    file = FileSpec(client_data_path(named.slug), as_csv(chart.cells))
    shirt = all_charts.client_shirt_chart(named.slug, chart.drawn, chart.points)
    context = ClientContext(
        up="../",
        home=home,
        name=named.title,
        data=file.path,
        fabric=chart.fabric,
        caution=CHILDREN_CHART_CAUTION if chart.children else "",
        measured_on=chart.measured_on,
        drawing=chart_image(shirt) if shirt else None,
        tables=(_table(chart, "inches"), _table(chart, "centimetres")),
        chests=_chest_rows(chart),
        ease=chart.ease,
        washed=chart.stages[1] if len(chart.stages) > 1 else "",
        washed_pieces=chart.washed_pieces,
        laundering=chart.laundering,
        claims=chart.claims,
        points=tuple(_point_context(key, chart.how.get(key, "")) for key in chart.points),
    )
    path = client_path(named.slug)
    drawn = (shirt,) if shirt else ()
    return PageSpec(path, named.title, "clients/client.html.j2", context, drawn, files=(file,))


def as_csv(cells: Sequence[ClientCell]) -> str:
    r"""Return cells as a file of comma-separated values: RFC 4180, a head, lines that end in \r\n.

    It is UTF-8 without a mark at its start.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADS)
    columns = [field.name for field in fields(ClientCell)]
    writer.writerows([_inert(getattr(cell, column)) for column in columns] for cell in cells)
    return text.getvalue()


def _inert(text: str) -> str:
    """Return a cell that no spreadsheet takes for a formula; a number stays one."""
    return f"'{text}" if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text


_FORMULA = re.compile("[=+@\t\r＝＋－＠-]")
_NUMBER = re.compile(r"[+-]?[0-9]+([.][0-9]+)?([ -][0-9]+/[0-9]+)?|[+-]?[0-9]+/[0-9]+")


def _table(chart: ClientChart, unit: str) -> UnitTable:
    """Return one unit's table: sizes down, points across, a group for each stage."""
    points = [point_name(key) for key in chart.points]
    inches = unit == "inches"
    allowed = {
        cell.point: cell.tolerance_in if inches else cell.tolerance_cm for cell in chart.cells
    }
    groups = (StageGroup(stage, _rows(chart, stage, points, unit)) for stage in chart.stages)
    return UnitTable(
        unit=unit,
        step=f"{chart.inch} in" if inches else f"{chart.centimetre} cm",
        points=tuple(points),
        groups=tuple(group for group in groups if group.rows),
        tolerance=tuple(allowed[point] for point in points),
    )


def _rows(chart: ClientChart, stage: str, points: Sequence[str], unit: str) -> tuple[SizeRow, ...]:
    """Return the sizes that were measured at a stage."""
    cells = {(cell.size, cell.point): cell for cell in chart.cells if cell.stage == stage}
    rows = ((size, [cells.get((size, point)) for point in points]) for size in chart.sizes)
    return tuple(
        SizeRow(size, tuple(_text(cell, unit) for cell in own)) for size, own in rows if any(own)
    )


def _text(cell: ClientCell | None, unit: str) -> str:
    """Return a length; a star marks it as only claimed."""
    if cell is None:
        return DASH
    text = cell.inches if unit == "inches" else cell.centimetres
    return f"{text}*" if cell.known == MAKERS_CLAIM else text


def _chest_rows(chart: ClientChart) -> tuple[ChestRow, ...]:
    """Return by size the chests that it suits, from and to, in both units."""
    ends = {(c.size, c.stage): c for c in chart.cells if c.point == BODY_CHEST}
    units = ("inches", "centimetres")
    return tuple(
        ChestRow(
            size=size,
            cells=tuple(
                " to ".join(_text(ends[size, stage], unit) for stage in SUITS) for unit in units
            ),
        )
        for size in chart.sizes
        if (size, SUITS[0]) in ends
    )


def _point_context(key: str, how: str = "") -> PointContext:
    """Return how a point is measured, in plain words and with its drawing."""
    point = POINTS[key]
    return PointContext(
        key=key,
        name=point.name,
        where=point.where,
        slip=point.slip,
        variants=tuple(meaning for _, meaning in point.variants),
        how=how,
        chart=chart_image(all_charts.guide_chart(key)),
    )


def public_guide() -> PageSpec[PublicGuideContext]:
    """Return how the points are measured, for outsiders."""
    context = PublicGuideContext(up="", points=tuple(_point_context(key) for key in POINTS))
    charts = tuple(all_charts.guide_chart(key) for key in POINTS)
    return PageSpec("guide.html", "How we measure", "clients/points.html.j2", context, charts)
