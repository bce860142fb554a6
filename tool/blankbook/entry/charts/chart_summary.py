"""What was understood of a size chart, for a person to compare with the original."""

from collections.abc import Mapping

from blankbook.entry.charts.size_chart import SizeChart
from blankbook.records.chart_remarks import chart_remarks
from blankbook.records.lengths import Length, in_centimetres, in_inches
from blankbook.words.points import POINTS

UNIT_NAMES = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}


def summary_lines(chart: SizeChart) -> list[str]:
    """Return the lines of a table with each length in both units, and what to look at again."""
    points = chart.points
    rows = [["", *(POINTS[point].name for point in points)]]
    rows += [[size, *_cells(row, points)] for size, row in chart.sizes.items()]
    if chart.tolerance:
        rows.append(["±", *_cells(chart.tolerance, points)])
    widths = [max(len(row[at]) for row in rows) for at in range(len(points) + 1)]
    where = "across" if chart.across else "down"
    return [
        f"read in {UNIT_NAMES[chart.unit]}, sizes {where}",
        *("  ".join(map(str.ljust, row, widths)).rstrip() for row in rows),
        *(f"look again: {says}" for says in chart_remarks(chart, list(chart.sizes))),
    ]


def _cells(row: Mapping[str, Length], points: list[str]) -> list[str]:
    return [in_both_units(row[point]) if point in row else "–" for point in points]


def in_both_units(length: Length) -> str:
    """Return a length as it was given, with the other unit in brackets."""
    own = (
        length.written
        if length.written.endswith(length.unit)
        else f"{length.written} {length.unit}"
    )
    other = (
        f"{in_centimetres(length.mm)} cm" if length.unit == "in" else f"{in_inches(length.mm)} in"
    )
    return f"{own} ({other})"


def chart_as_data(chart: SizeChart) -> dict[str, object]:
    """Return what was understood, and what was not, as plain data."""
    return {
        "unit": chart.unit,
        "sizes": {size: _data(row) for size, row in chart.sizes.items()},
        "tolerance": _data(chart.tolerance),
        "how": chart.how,
        "halved": chart.halved,
        "notes": chart.remarks.notes,
        "not_understood": [
            {
                "cell": trouble.address,
                "text": trouble.text,
                "why": trouble.why,
                "instead": trouble.instead,
            }
            for trouble in chart.remarks.troubles
        ],
    }


def _data(lengths: Mapping[str, Length]) -> dict[str, dict[str, object]]:
    return {
        point: {"written": length.written, "mm": length.mm} for point, length in lengths.items()
    }
