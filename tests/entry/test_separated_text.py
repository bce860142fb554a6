"""Separated values: quotation as RFC 4180 has it, and whatever separates."""

import pytest

from blankbook.entry.tables.separated_text import table_from_text
from blankbook.entry.tables.table_cells import NoTableError, Table
from blankbook.entry.tables.table_files import read_tables


def filled_row_texts(table: Table) -> list[list[str]]:
    """Return what stands in the cells of rows that are not empty."""
    rows = [[cell.text for cell in row] for row in table.rows]
    return [row for row in rows if any(row)]


QUOTED = [
    ("aaa,bbb,ccc\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx\r\n', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b bb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","b""bb","ccc"\nx,y,z', [["aaa", 'b"bb', "ccc"], ["x", "y", "z"]]),
    ('size,chest\nM,"22 1/8"""\n', [["size", "chest"], ["M", '22 1/8"']]),
]


@pytest.mark.published
@pytest.mark.parametrize(("text", "rows"), QUOTED)
def test_quotation_is_that_of_the_standard(text: str, rows: list[list[str]]) -> None:
    """RFC 4180, section 2, rules 1 to 7, with its own examples, from memory.

    A line break inside a cell becomes a space, as everything here stands on one line.
    """
    assert filled_row_texts(table_from_text(text)) == rows


UNCLOSED = [
    'size,note,chest\nM,"loose,20\nL,x,22\n',
    'size,note,chest\nM,"loose,20\nL,"x,22\n',
    'size,chest\nM,"20\n',
]


@pytest.mark.parametrize("text", UNCLOSED)
def test_a_quote_that_is_never_closed_swallows_no_rows(text: str) -> None:
    """RFC 4180, section 2, rule 5: an error, as the rows behind it would be lost in a cell."""
    with pytest.raises(
        NoTableError, match="quote that is never closed, or text behind one, in row 2"
    ):
        table_from_text(text)


def test_what_separates_stands_equally_often_in_every_row() -> None:
    """Two readings in a cell, and decimal commas, separate nothing."""
    two = table_from_text("size,colour,chest\nM,black,20; 20 1/8\nL,black,22; 22\n")
    assert filled_row_texts(two)[1] == ["M", "black", "20; 20 1/8"]
    decimal = table_from_text("Größe;Chest, cm;Length, cm\nM;52,5;70,2\nL;57,5;72\n")
    assert filled_row_texts(decimal)[1] == ["M", "52,5", "70,2"]


def test_a_line_for_a_spreadsheet_names_the_separator() -> None:
    """It is no row of the table, and the addresses stay those of the file."""
    table = table_from_text("sep=;\nsize;chest\nM;20,5\n")
    assert filled_row_texts(table) == [["size", "chest"], ["M", "20,5"]]
    assert table.rows[2][1].address == "B3"


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig", "cp1252"])
def test_a_file_of_another_system_is_read(encoding: str) -> None:
    """With semicolons and decimal commas, as spreadsheets of half of Europe write."""
    (table,) = read_tables("size;half chest ½\r\nM;52,5\r\n".encode(encoding))
    assert filled_row_texts(table) == [["size", "half chest ½"], ["M", "52,5"]]


def test_a_million_rows_are_refused_at_once() -> None:
    """Before any row is taken apart."""
    with pytest.raises(NoTableError, match="at most 5000 rows"):
        table_from_text("M,black,20\n" * 1_000_000)


OTHERS = [
    (b"%PDF-1.7 and so on", "is a PDF"),
    (b"\x89PNG\r\n", "is a picture"),
    (b"\xff\xd8\xff\xe0", "is a picture"),
    (b"\x1f\x8b\x08", "is a compressed file"),
    (b"<html><table><tr><td>size</td></tr></table>", "is a page of markup"),
    (b"\xef\xbb\xbf  <!DOCTYPE html>", "is a page of markup"),
    (b"\xd0\xcf\x11\xe0rest", "of the old kind, or locked with a password"),
]


@pytest.mark.parametrize(("body", "words"), OTHERS)
def test_what_is_no_table_is_named(body: bytes, words: str) -> None:
    """By what it is, whatever its name ends with."""
    with pytest.raises(NoTableError, match=words) as caught:
        read_tables(body)
    assert "CSV" in caught.value.instead
