"""Sixty invented size charts as suppliers write them, each with what it must be read as.

A chart lies in `charts_corpus` beside a file of its name that ends in ``.yaml``: its unit, its
sizes, tolerance and ways of measuring, what of it was halved, and the cells that were left out or
not understood. The words of the five languages are the trade's, from memory, no source.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from blankbook.entry.charts.read_chart import read_chart
from blankbook.entry.charts.size_chart import MissingAnswerError, SizeChart, TableHints
from blankbook.entry.tables.table_cells import NoTableError, Table
from blankbook.entry.tables.table_files import read_tables
from blankbook.records.lengths import read_length

CORPUS = Path(__file__).with_name("charts_corpus")
CHARTS = sorted(place for place in CORPUS.iterdir() if place.suffix != ".yaml")
FEWEST_CHARTS = 60


def expected(place: Path) -> dict[str, Any]:
    """Return what a chart must be read as; every number is a text."""
    text = place.with_suffix(".yaml").read_text(encoding="utf-8")
    found: dict[str, Any] = yaml.load(text, yaml.BaseLoader)
    return found


def read(place: Path) -> tuple[Table, SizeChart]:
    """Return the table in a file, and the chart that was read from it."""
    (table,) = read_tables(place.read_bytes())
    hints = TableHints(**expected(place).get("said", {}))
    return table, read_chart([table], hints)


def exact(lengths: dict[str, str], unit: str) -> dict[str, object]:
    """Return lengths in exact millimetres."""
    return {point: read_length(text, unit).exact for point, text in lengths.items()}


@pytest.mark.parametrize("place", CHARTS, ids=lambda place: place.stem)
def test_a_chart_is_read_as_it_was_meant(place: Path) -> None:
    """Every length to the last fraction, with its unit, tolerance and way of measuring."""
    wanted, (_, chart) = expected(place), read(place)
    assert chart.unit == wanted["unit"]
    assert list(chart.sizes) == list(wanted["sizes"])
    for size, row in wanted["sizes"].items():
        found = {point: length.exact for point, length in chart.sizes[size].items()}
        assert found == exact(row, chart.unit), size
    allowed = {point: length.exact for point, length in chart.tolerance.items()}
    assert allowed == exact(wanted.get("tolerance", {}), chart.unit)
    assert chart.how == wanted.get("how", {})
    assert chart.halved == wanted.get("halved", [])
    assert [trouble.address for trouble in chart.remarks.troubles] == wanted.get(
        "not_understood", []
    )


@pytest.mark.parametrize("place", CHARTS, ids=lambda place: place.stem)
def test_nothing_of_a_chart_is_dropped_silently(place: Path) -> None:
    """Just the cells that the corpus names are said to be left out."""
    wanted, (_, chart) = expected(place), read(place)
    assert sorted(chart.remarks.left_out) == sorted(wanted.get("left_out", []))


@pytest.mark.parametrize("place", CHARTS, ids=lambda place: place.stem)
def test_a_word_in_any_cell_is_named_or_refused(place: Path) -> None:
    """Whatever stands where a heading, a size or a length should, its address is said."""
    table, _ = read(place)
    hints = TableHints(**expected(place).get("said", {}))
    for cell in (cell for row in table.rows for cell in row if cell.text):
        spoilt = replace(cell, text="zqx7")
        rows = tuple(tuple(spoilt if c is cell else c for c in row) for row in table.rows)
        try:
            remarks = read_chart([Table(rows, table.name)], hints).remarks
        except (NoTableError, MissingAnswerError):
            continue
        named = [trouble.address for trouble in remarks.troubles] + remarks.left_out
        # A row whose heading is left out is left out whole, and said once.
        assert cell.address in named or any(
            place.strip("0123456789") == cell.address.strip("0123456789")
            or place.strip("ABCDEFGHIJ") == cell.address.strip("ABCDEFGHIJ")
            for place in named
        ), cell.address


def test_the_corpus_is_as_large_as_it_says() -> None:
    """Sixty charts, in five languages, and every unit."""
    assert len(CHARTS) >= FEWEST_CHARTS
    assert {place.name[:2] for place in CHARTS} == {"de", "en", "es", "fr", "it"}
    assert {expected(place)["unit"] for place in CHARTS} == {"in", "cm", "mm"}
    assert {place.stem for place in CHARTS} == {place.stem for place in CORPUS.glob("*.yaml")}
