"""What a spreadsheet shows is what is read: formats, what is merged, hidden or crossed out."""

import datetime
import io
import zipfile
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import openpyxl
import pytest
from openpyxl.styles import Font
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.formula import ArrayFormula

from blankbook.entry.tables.table_cells import Cell, NoTableError, Table, visible_tables
from blankbook.entry.tables.table_files import read_tables
from blankbook.records.lengths import read_length

Change = Callable[[Any, Any], None]


def changed_spreadsheet(change: Change) -> bytes:
    """Return a spreadsheet with a small table, changed."""
    book = openpyxl.Workbook()
    page: Any = book.active
    for row in (["size", "chest"], ["M", 20.125], ["L", 22.125]):
        page.append(row)
    change(book, page)
    body = io.BytesIO()
    book.save(body)
    return body.getvalue()


def changed_table(change: Change) -> Table:
    """Return what is read of it."""
    return visible_tables(read_tables(changed_spreadsheet(change)))[0]


def cell_with(value: object, form: str = "") -> Cell:
    """Return what is read of one cell."""

    def change(_: Any, page: Any) -> None:
        page["B2"] = value
        if form:
            page["B2"].number_format = form

    return changed_table(change).rows[1][1]


FORMATS = [
    (22.125, "# ?/?", "22.125"),
    (22.125, "# ??/??", "22.125"),
    (22.125, "0.0", "22.125"),
    (57.2, '0.0" cm"', "57.2 cm"),
    (57.2, '0.0\\ "cm";-0.0\\ "cm"', "57.2 cm"),
    (22.5, '0.0\\"', "22.5 in"),
    (22.5, '# ?/?" in"', "22.5 in"),
    (0.225, "0.0%", "22.5 %"),
    (180, '0" gsm"', "180 gsm"),
    (22.5, "[Red]0.0", "22.5"),
    (22.5, "_(0.0_)", "22.5"),
]


@pytest.mark.published
@pytest.mark.parametrize(("value", "form", "shown"), FORMATS)
def test_a_number_has_the_unit_that_its_format_shows(value: float, form: str, shown: str) -> None:
    """ECMA-376 Part 1, 18.8.30 and 18.8.31, from memory: quoted text and escaped characters show.

    A column of numbers may show cm in one cell and inches in the next.
    """
    assert cell_with(value, form).text == shown


@pytest.mark.published
def test_a_fraction_is_the_number_behind_it() -> None:
    """22 1/8 in is 22.125 in is 561.975 mm: the inch is exactly 25.4 mm (NIST SP 811, B.8)."""
    text = cell_with(22.125, "# ?/?").text
    assert (
        read_length(text, "in").exact == read_length("22 1/8", "in").exact == Fraction(561975, 1000)
    )


def test_a_day_is_a_day_and_a_number_shown_as_one_is_told() -> None:
    """3/4 becomes 4 March; a reading in a cell that was formatted as a day lies in 1900."""
    assert cell_with(datetime.datetime(2026, 3, 4)).text == "2026-03-04"
    assert "holds the number 22.125" in cell_with(22.125, "yyyy-mm-dd").odd
    assert "holds the number 22" in cell_with(22, "m/d/yyyy").odd
    assert "time of the day" in cell_with(datetime.time(3, 4)).odd


@pytest.mark.published
def test_days_of_either_system_are_the_same_days() -> None:
    """ECMA-376 Part 1, 18.17.4.1, from memory: a file says whether it counts from 1900 or 1904."""

    def change(book: Any, page: Any) -> None:
        book.epoch = CALENDAR_MAC_1904
        page["B2"] = datetime.datetime(2026, 11, 24)

    assert changed_table(change).rows[1][1].text == "2026-11-24"


def test_what_a_formula_never_computed_is_told() -> None:
    """Whether it is a formula of one cell or of many, or an error that was saved."""
    assert cell_with("=20+2").odd == "is a formula without a value, found =20+2"
    assert (
        cell_with(ArrayFormula("B2:B2", "=20+2")).odd == "is a formula without a value, found =20+2"
    )
    assert cell_with("#REF!").odd == "is an error of the spreadsheet, found #REF!"


def test_what_is_crossed_out_is_told() -> None:
    """Somebody meant that it does not count."""

    def change(_: Any, page: Any) -> None:
        page["B2"].font = Font(strike=True)

    rows = changed_table(change).rows
    assert rows[1][1].odd == "is crossed out, found 20.125"
    assert rows[2][1].odd == ""


def test_a_merged_cell_lies_over_all_of_its_cells() -> None:
    """The first has its text, and each knows what lies over it."""

    def change(_: Any, page: Any) -> None:
        page.merge_cells("A2:A3")

    rows = changed_table(change).rows
    assert [(row[0].text, row[0].over) for row in rows] == [("size", ""), ("M", "M"), ("", "M")]


def test_what_is_hidden_is_known() -> None:
    """Rows, columns one by one or in a group, and sheets; what is empty hides nothing."""

    def change(book: Any, page: Any) -> None:
        page.row_dimensions[3].hidden = True
        page.row_dimensions[9].hidden = True
        page.column_dimensions.group("B", "D", hidden=True)
        book.create_sheet("aside").append(["x"])
        book["aside"].sheet_state = "hidden"

    shown, aside = read_tables(changed_spreadsheet(change))
    assert shown.hidden == ("row 3", "column B")
    assert aside.hidden == ("the sheet",)
    assert [table.name for table in visible_tables([shown, aside])] == ["Sheet"]


def test_what_has_too_many_cells_is_refused_before_it_is_opened() -> None:
    """A sheet of 120,000 cells packs to a few kilobytes."""
    row = b"<row>" + b"<c><v>1</v></c>" * 20 + b"</row>"
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", "<workbook/>")
        packed.writestr("xl/worksheets/sheet1.xml", b"<sheetData>" + row * 6000)
    with pytest.raises(NoTableError, match="at most 5000 rows and 200 columns, found more"):
        read_tables(body.getvalue())


MEMBERS = [
    ("content.xml", "is an OpenDocument file"),
    ("xl/workbook.bin", "in a binary form"),
    ("word/document.xml", "is a text document"),
    ("Index/Document.iwa", "of another kind"),
]


@pytest.mark.parametrize(("member", "words"), MEMBERS)
def test_other_packed_files_are_named(member: str, words: str) -> None:
    """By what is in them."""
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w") as packed:
        packed.writestr(member, "x")
    with pytest.raises(NoTableError, match=words):
        read_tables(body.getvalue())


def test_a_size_that_is_claimed_is_believed() -> None:
    """A file that says it unpacks to a gigabyte is not unpacked to see."""
    body = bytearray(changed_spreadsheet(lambda *_: None))
    at = -1
    while (at := body.find(b"PK\x01\x02", at + 1)) >= 0:  # the central directory; APPNOTE 4.3.12
        body[at + 24 : at + 28] = (1 << 30).to_bytes(4, "little")
    with pytest.raises(NoTableError, match="unpacks to more than a table"):
        read_tables(bytes(body))
