"""The size charts that clients get: a page and a file each, of the same cells, and their list."""

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

from blankbook.pages.blank.blank_page import chart_context
from blankbook.pages.clients.client_rows import BODY_CHEST, MAKERS_CLAIM
from blankbook.pages.page_spec import FileSpec, PageSpec
from blankbook.pages.site_paths import CLIENT_CHARTS, client_data_path, client_path
from blankbook.pages.value_words import DASH, point_name
from blankbook.words.garment_terms import CHILDREN_CHART_CAUTION
from blankbook.words.points import POINTS

Row = Mapping[str, Any]
HEADS = {
    "size": "size",
    "point": "point of measure",
    "stage": "stage",
    "inches": "inches",
    "decimal": "inches as a decimal",
    "centimetres": "centimetres",
    "tolerance_in": "tolerance in inches",
    "tolerance_cm": "tolerance in centimetres",
    "known": "known from",
}
"""The columns of the file."""


def named_charts(rows: Sequence[Row]) -> list[tuple[str, str, Row]]:
    """Return title, slug and data of every chart for clients, by title.

    Blanks that are called alike are numbered: the name alone cannot tell them apart.
    """
    own = sorted((row["client"]["called"], row["key"], row["client"]) for row in rows
                 if row["client"])  # fmt: skip
    taken: set[str] = set()
    found: list[tuple[str, str, Row]] = []
    again: list[tuple[str, str, Row]] = []
    for title, _, data in own:
        (again if data["slug"] in taken else found).append((title, data["slug"], data))
        taken.add(data["slug"])
    for title, start, data in again:
        number = next(n for n in range(2, len(own) + 2) if f"{start}-{n}" not in taken)
        taken.add(f"{start}-{number}")
        found.append((f"{title} ({number})", f"{start}-{number}", data))
    return sorted(found, key=lambda named_chart: named_chart[:2])


def client_pages(rows: Sequence[Row], *, public: bool = False) -> list[PageSpec]:
    """Return the list of the charts for clients, and each of them."""
    charts = named_charts(rows)
    home = "index.html" if public else CLIENT_CHARTS
    return [
        _list(charts, home),
        *(_chart(title, place, data, home) for title, place, data in charts),
    ]


def _list(charts: Sequence[tuple[str, str, Row]], home: str) -> PageSpec:
    context: dict[str, Any] = {
        "up": "",
        "rows": [
            {
                "name": title,
                "place": f"shirt-{place}",
                "path": client_path(place),
                "data": client_data_path(place),
                "fabric": "" if data["fabric"] in title else data["fabric"],
                "sizes": data["sizes"],
                "measured_on": data["measured_on"] or DASH,
            }
            for title, place, data in charts
        ],
    }
    return PageSpec(home, "Size charts", "clients/clients.html.j2", context)


def _chart(title: str, place: str, data: Row, home: str) -> PageSpec:
    file = FileSpec(client_data_path(place), as_csv(data["cells"]))
    context: dict[str, Any] = {
        "up": "../",
        "home": home,
        "name": title,
        "data": file.path,
        "fabric": data["fabric"],
        "caution": CHILDREN_CHART_CAUTION if data["children"] else "",
        "measured_on": data["measured_on"],
        "tables": [_table(data, "inches"), _table(data, "centimetres")],
        "chests": _chest_rows(data),
        "letters": [letters["head"] for letters in data["letters"]],
        "ease": data["ease"],
        "washed": data["stages"][1] if len(data["stages"]) > 1 else "",
        "washed_pieces": data["washed_pieces"],
        "laundering": data["laundering"],
        "claims": data["claims"],
        "points": [point_context(key, data["how"].get(key, "")) for key in data["points"]],
    }
    return PageSpec(client_path(place), title, "clients/client.html.j2", context, files=(file,))


def as_csv(cells: Sequence[Mapping[str, str]]) -> str:
    r"""Return cells as a file of comma-separated values: RFC 4180, a head, lines that end in \r\n.

    It is UTF-8 without a mark at its start.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADS.values())
    writer.writerows([cell[key] for key in HEADS] for cell in cells)
    return text.getvalue()


def _table(data: Row, unit: str) -> dict[str, Any]:
    """Return one unit's table: sizes down, points across, a group for each stage."""
    cells = {(cell["stage"], cell["size"], cell["point"]): cell for cell in data["cells"]}
    points = [point_name(key) for key in data["points"]]
    allowed = {cell["point"]: cell[f"tolerance_{'in' if unit == 'inches' else 'cm'}"]
               for cell in data["cells"]}  # fmt: skip
    groups = [
        {"title": stage, "rows": _rows(cells, stage, data["sizes"], points, unit)}
        for stage in data["stages"]
    ]
    return {
        "unit": unit,
        "step": f"{data['inch']} in" if unit == "inches" else f"{data['centimetre']} cm",
        "points": points,
        "groups": [group for group in groups if group["rows"]],
        "tolerance": [allowed[point] for point in points],
    }


def _rows(
    cells: Mapping[tuple[str, str, str], Row],
    stage: str,
    sizes: Sequence[str],
    points: Sequence[str],
    unit: str,
) -> list[dict[str, Any]]:
    rows = []
    for size in sizes:
        own = [cells.get((stage, size, point)) for point in points]
        if any(own):
            rows.append({"size": size, "cells": [_text(cell, unit) for cell in own]})
    return rows


def _text(cell: Row | None, unit: str) -> str:
    if cell is None:
        return DASH
    return f"{cell[unit]}*" if cell["known"] == MAKERS_CLAIM else str(cell[unit])


def _chest_rows(data: Row) -> list[dict[str, Any]]:
    return [
        {
            "size": cell["size"],
            "cells": [_text(cell, "inches"), _text(cell, "centimetres")],
            "letters": [list_["spans"].get(cell["size"], DASH) for list_ in data["letters"]],
        }
        for cell in data["cells"]
        if cell["point"] == BODY_CHEST
    ]


def point_context(key: str, how: str = "") -> dict[str, Any]:
    """Return how a point is measured, in plain words and with its drawing."""
    from blankbook.pages.charts import all_charts

    point = POINTS[key]
    return {
        "key": key,
        "name": point.name,
        "where": point.where,
        "slip": point.slip,
        "variants": [meaning for _, meaning in point.variants],
        "how": how,
        "chart": chart_context(all_charts.guide_chart(key)),
    }


def public_guide() -> PageSpec:
    """Return how the points are measured, for outsiders."""
    from blankbook.pages.charts import all_charts

    context: dict[str, Any] = {"up": "", "points": [point_context(key) for key in POINTS]}
    charts = tuple(all_charts.guide_chart(key) for key in POINTS)
    return PageSpec("guide.html", "How we measure", "clients/points.html.j2", context, charts)
