"""A size chart in a spreadsheet: what is hidden, merged, crossed out or a day is never a length."""

import datetime
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.styles import Font

from blankbook.entry.charts.read_chart import read_chart
from blankbook.entry.charts.size_chart import SizeChart, TableHints
from blankbook.entry.tables.table_cells import NoTableError
from blankbook.entry.tables.table_files import read_tables
from support import Program

Change = Callable[[Any], None]


def changed_chart(change: Change, **said: object) -> SizeChart:
    """Return what is understood of a small chart in inches, changed."""
    book = openpyxl.Workbook()
    page: Any = book.active
    for row in (["Size", "Chest", "Length"], ["S", 18, 28], ["M", 20, 29], ["L", 22, 30]):
        page.append(row)
    change(page)
    body = io.BytesIO()
    book.save(body)
    return read_chart(read_tables(body.getvalue()), TableHints(unit="in", **said))  # type: ignore[arg-type]


def cross_out(page: Any) -> None:
    """Cross a length out."""
    page["B3"].font = Font(strike=True)


def merge_cells(page: Any) -> None:
    """Put one length over two sizes."""
    page.merge_cells("B3:B4")


def write_error(page: Any) -> None:
    """Leave what a spreadsheet writes where a reference is gone."""
    page["B3"] = "#REF!"


def write_formula(page: Any) -> None:
    """Leave a formula that was never computed."""
    page["B3"] = "=18+2"


def write_date(page: Any) -> None:
    """Leave what a spreadsheet makes of 1/8."""
    page["B3"] = datetime.datetime(2026, 1, 8)


def format_number_as_date(page: Any) -> None:
    """Show a length as a day."""
    page["B3"].number_format = "yyyy-mm-dd"


def write_serial_date(page: Any) -> None:
    """Leave the number of a day."""
    page["B3"] = 46030


def measure_one_around(page: Any) -> None:
    """Measure one size all the way around."""
    page["B3"] = 40


def measure_largest_around(page: Any) -> None:
    """Measure the largest size all the way around, so that the sizes still grow."""
    page["B4"] = 44


ODD: list[tuple[Change, list[str], str]] = [
    (cross_out, ["B3"], "is crossed out, found 20"),
    (merge_cells, ["B3", "B4"], "is merged with other cells, found 20"),
    (write_error, ["B3"], "is an error of the spreadsheet, found #REF!"),
    (write_formula, ["B3"], "is a formula without a value, found =18+2"),
    (write_date, ["B3"], "a spreadsheet has made a day of it"),
    (format_number_as_date, ["B3"], "is shown as a day, and holds the number 20"),
    (write_serial_date, ["B3"], "a spreadsheet counts days so"),
    (measure_one_around, ["B3"], "as if it alone were measured all the way around"),
    (measure_largest_around, ["B4"], "as if it alone were measured all the way around"),
]


@pytest.mark.parametrize(("change", "cells", "words"), ODD)
def test_what_is_odd_is_named_by_its_cell(change: Change, cells: list[str], words: str) -> None:
    """And no length is made of it."""
    found = changed_chart(change)
    assert [trouble.address for trouble in found.remarks.troubles] == cells
    assert words in f"{found.remarks.troubles[0].why} {found.remarks.troubles[0].instead}"
    spoilt = {"B3": "M", "B4": "L"}
    assert all("half_chest" not in found.sizes.get(spoilt[cell], {}) for cell in cells)


def test_what_is_said_to_be_flat_is_taken() -> None:
    """However large it looks beside the others."""
    found = changed_chart(measure_largest_around, flat=("half_chest",))
    assert found.remarks.troubles == []
    assert found.sizes["L"]["half_chest"].written == "44"


def test_a_format_with_a_unit_is_read() -> None:
    """57 shown as 57 cm is no 57 in; a centimetre is 10 mm."""

    def change(page: Any) -> None:
        page["B4"] = 57
        page["B4"].number_format = '0" cm"'

    assert changed_chart(change).sizes["L"]["half_chest"].mm == 570


def test_what_a_sheet_does_not_show_is_not_read() -> None:
    """Somebody may have hidden an older chart there."""

    def row(page: Any) -> None:
        page.row_dimensions[3].hidden = True

    def column(page: Any) -> None:
        page.column_dimensions["C"].hidden = True

    with pytest.raises(NoTableError, match="does not show: row 3"):
        changed_chart(row)
    with pytest.raises(NoTableError, match="does not show: column C"):
        changed_chart(column)


STOPPED = [
    ("Size,Chest\nS,18\nM,20\n", 2, "the chart does not say its unit"),
    ('Size,Chest in\nS,"18\nM,20\n', 2, "a quote that is never closed"),
    ("Size,Chest in\nS,1x\n", 2, "nothing of the chart was understood"),
]


@pytest.mark.parametrize(("text", "code", "words"), STOPPED)
def test_what_stops_it_is_data_too(
    demo_copy: Path, tmp_path: Path, command: Program, text: str, code: int, words: str
) -> None:
    """With --json there is one document on standard output, and the message stays where it was."""
    (tmp_path / "c.csv").write_text(text, encoding="utf-8")
    flags = ("--name", "Z9", "--chart", str(tmp_path / "c.csv"), "--json")
    ended = command("add", "style", "hobnettle/z9", *flags, "--ledger", str(demo_copy))
    assert ended.code == code
    told = json.loads(ended.out)
    assert words in told["error"]
    assert words in ended.err
    assert told["written"] is False
