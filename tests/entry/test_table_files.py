"""Tables from wherever: every cell keeps its text and the address that a person finds it by."""

import contextlib
import datetime
import io
import zipfile

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.table_cells import NoTableError, Table, cell_address, make_table
from blankbook.entry.tables.table_files import read_tables

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=8)


def cell_texts(table: Table) -> list[list[str]]:
    """Return what stands in the cells."""
    return [[cell.text for cell in row] for row in table.rows]


def workbook_bytes(rows: list[list[object]], title: str = "Sheet") -> bytes:
    """Return a spreadsheet with one sheet."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet
    sheet.title = title
    for row in rows:
        sheet.append(row)
    body = io.BytesIO()
    book.save(body)
    return body.getvalue()


@pytest.mark.parametrize(
    "text",
    [
        "Size,Chest\nS,18 1/2\nM,20",
        "Size;Chest\r\nS;18 1/2\r\nM;20\r\n",
        "Size\tChest\nS\t18 1/2\nM\t20\n",
        "\ufeffSize|Chest\nS|18 1/2\nM|20",
        "| Size | Chest |\n|------|:-----:|\n| S | 18 1/2 |\n| M | 20 |",
        "Size   Chest\nS      18 1/2\nM      20\n",
        '"Size","Chest"\n"S","18 1/2"\n"M","20"',
    ],
)
def test_a_table_is_read_however_it_is_separated(text: str) -> None:
    """Commas, semicolons, tabs, bars, wide gaps; a rule between rows is no row of cells."""
    rows = [row for row in cell_texts(table_from_text(text)) if any(row)]
    assert rows == [["Size", "Chest"], ["S", "18 1/2"], ["M", "20"]]


def test_decimal_commas_do_not_separate() -> None:
    """Where semicolons separate, a comma belongs to the number."""
    assert cell_texts(table_from_text("Size;Chest\nS;46,5\nM;51,5"))[1] == ["S", "46,5"]


def test_inch_marks_are_text() -> None:
    """A mark behind a number begins no quotation."""
    assert cell_texts(table_from_text('Size,Chest\nS,18"\nM,20 1/2"'))[2] == ["M", '20 1/2"']


def test_addresses_are_those_of_a_spreadsheet() -> None:
    """Letters for columns, numbers for rows; a blank line counts."""
    table = table_from_text("Size,Chest\n\nS,18")
    assert table.rows[2][1].address == "B3"
    assert table.turned().rows[1][2].address == "B3"
    assert [cell_address(0, at) for at in (0, 25, 26, 51, 52, 701, 702)] == [
        *("A1", "Z1", "AA1", "AZ1", "BA1", "ZZ1", "AAA1")
    ]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_of_spreadsheets_are_read(encoding: str) -> None:
    """What they export on any system; ½ is in all of them."""
    (table,) = read_tables("Size,½ chest\nS,18".encode(encoding))
    assert cell_texts(table)[0] == ["Size", "½ chest"]


def test_a_spreadsheet_gives_what_it_shows() -> None:
    """Numbers as short as they can be, days as days, space trimmed, empty cells empty."""
    day = datetime.datetime(2026, 5, 6)
    (table,) = read_tables(
        workbook_bytes([["Size", " Chest ", None], ["S", 18.5, 20], [day, 0.1 + 0.2]])
    )
    assert cell_texts(table) == [
        ["Size", "Chest", ""],
        ["S", "18.5", "20"],
        ["2026-05-06", "0.3", ""],
    ]
    assert table.rows[1][1].address == "B2"
    assert table.name == "Sheet"


def test_a_formula_without_a_saved_value_is_no_empty_cell() -> None:
    """It keeps its text, so that nobody takes it for nothing, or for a number."""
    (table,) = read_tables(workbook_bytes([["Size", "Chest"], ["S", "=18+2"]]))
    assert cell_texts(table)[1] == ["S", "=18+2"]


def test_each_sheet_is_a_table() -> None:
    """Empty ones are left out."""
    book = openpyxl.Workbook()
    for name in ("one", "two"):
        book.create_sheet(name).append([name, 1])
    body = io.BytesIO()
    book.save(body)
    assert [table.name for table in read_tables(body.getvalue())] == ["one", "two"]


def zip_bomb() -> bytes:
    """Return a small file that unpacks to more than any table."""
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b"0" * (101 << 20))
    return body.getvalue()


def with_entities() -> bytes:
    """Return a spreadsheet whose markup declares words of its own."""
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w") as packed:
        packed.writestr(
            "xl/workbook.xml", '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]><a/>'
        )
    return body.getvalue()


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "found nothing in it"),
        (b" ,,\n,", "found nothing in it"),
        (b"a,b\n" * 5001, "at most 5000 rows"),
        (b"," * 300 + b"\n1", "at most 5000 rows and 200 columns"),
        (b"a\x00b", "bytes that are no text"),
        (b"\xd0\xcf\x11\xe0rest", "spreadsheet of the old kind"),
        (b"PK\x03\x04rest", "spreadsheet that can be read"),
        (workbook_bytes([])[:-40], "spreadsheet that can be read"),
        (workbook_bytes([]), "an empty spreadsheet"),
        (with_entities(), "not a plain spreadsheet"),
    ],
    ids=[
        *("nothing", "no-text", "rows", "columns", "bytes", "old", "broken", "cut", "empty"),
        "entities",
    ],
)
def test_what_is_no_table_is_refused(body: bytes, words: str) -> None:
    """With one plain message and what to give instead."""
    with pytest.raises(NoTableError, match=words) as caught:
        read_tables(body)
    assert caught.value.instead


def test_what_unpacks_to_too_much_is_refused() -> None:
    """Before it is unpacked."""
    with pytest.raises(NoTableError, match="unpacks to more than a table"):
        read_tables(zip_bomb())


@given(st.lists(st.lists(WORDS, min_size=2, max_size=5), min_size=1, max_size=6))
def test_a_spreadsheet_reads_back(rows: list[list[str]]) -> None:
    """Whatever its cells hold, a table of texts comes back as it was written."""
    if not any(text for row in rows for text in row):
        return
    width = max(len(row) for row in rows)
    kept = [[cell if not cell.startswith("=") else f"'{cell}" for cell in row] for row in rows]
    (table,) = read_tables(workbook_bytes([list(row) for row in kept]))
    wanted = cell_texts(make_table([[*row, *[""] * (width - len(row))] for row in kept]))
    held = [row + [""] * (width - len(row)) for row in cell_texts(table)]
    assert held[: len(wanted)] == wanted[: len(held)]


@given(st.binary(max_size=200))
def test_any_bytes_are_a_table_or_refused(body: bytes) -> None:
    """Nothing else comes out."""
    with contextlib.suppress(NoTableError):
        assert read_tables(body)
