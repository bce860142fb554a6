"""The tables in a file, by its kind; a plain message for a file that holds no cells."""

import io
import re
import zipfile

from blankbook.entry.tables.separated_text import decode_table, table_from_text
from blankbook.entry.tables.table_cells import MOST_TABLE_BYTES, TABLE_ALONE, NoTableError, Table

_SAVE = "save it as .xlsx or as CSV"
_WEB = re.compile(
    rb"\s*(?:<\?xml[^>]*>\s*)?<(?:!doctype|html|table|body|workbook)\b", re.IGNORECASE
)
_BEGINS: tuple[tuple[bytes, str], ...] = (
    (b"\xd0\xcf\x11\xe0", "is a spreadsheet of the old kind, or locked with a password"),
    (b"%PDF", "is a PDF, which holds no cells"),
    (b"\x89PNG", "is a picture"),
    (b"\xff\xd8\xff", "is a picture"),
    (b"\x1f\x8b", "is a compressed file"),
    (b"7z\xbc\xaf", "is a compressed file"),
)
_INSIDE: tuple[tuple[str, str], ...] = (
    ("xl/workbook.bin", "is a spreadsheet in a binary form"),
    ("word/document.xml", "is a text document, and no spreadsheet"),
    ("content.xml", "is an OpenDocument file"),
    ("Index/Document.iwa", "is a spreadsheet of another kind"),
)
"""By a member that only this kind of packed file has: what the file is."""


def read_tables(body: bytes) -> list[Table]:
    """Return the tables in a file: one of separated values, or each sheet of a spreadsheet.

    Raises: NoTableError.
    """
    if len(body) > MOST_TABLE_BYTES:
        raise NoTableError("must be at most 20 MB", TABLE_ALONE)
    for begins, what in _BEGINS:
        if body.startswith(begins):
            raise NoTableError(what, _SAVE)
    if body.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        _look_inside(body)
        from blankbook.entry.tables.spreadsheets import read_sheets

        return read_sheets(body)
    if _WEB.match(body.removeprefix(b"\xef\xbb\xbf")):
        raise NoTableError("is a page of markup, whatever its name says", f"open it and {_SAVE}")
    return [table_from_text(decode_table(body))]


def _look_inside(body: bytes) -> None:
    """Refuse a packed file that is no spreadsheet of the usual kind. Raises: NoTableError."""
    try:
        with zipfile.ZipFile(io.BytesIO(body)) as packed:
            names = set(packed.namelist())
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, RuntimeError):
        return  # `read_sheets` says what is wrong with it
    if "xl/workbook.xml" in names:
        return
    for member, what in _INSIDE:
        if member in names:
            raise NoTableError(what, _SAVE)
