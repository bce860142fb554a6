"""The sheets of a spreadsheet as tables: what each cell shows; no formula is computed."""

import io
import re
import warnings
import zipfile
from collections import Counter
from typing import Any

from blankbook.entry.tables.spreadsheet_cells import ShownCell, shown_cell
from blankbook.entry.tables.table_cells import (
    HIDDEN_SHEET,
    MOST_COLUMNS,
    MOST_TABLE_ROWS,
    TABLE_ALONE,
    TOO_LARGE_TABLE,
    NoTableError,
    Table,
    cell_address,
    make_table,
)

MOST_UNPACKED = 100 << 20
MOST_SHEETS = 50
MOST_SHEET_CELLS = 100_000
"""In all sheets; a file with more takes longer to open than a person waits."""
_INSTEAD = "save it as .xlsx or as CSV"
_CHUNK = 1 << 20
_TAGS = re.compile(rb"<(?:\w+:)?(c|f|row)[ >/]")


def read_sheets(body: bytes) -> list[Table]:
    """Return the sheets that have anything in them.

    A formula counts as the value that was saved with it. Without one it keeps its own text, which
    is not taken for a number. Raises: NoTableError.
    """
    formulas = _has_formulas(body)
    try:
        values = _open_workbook(body, values=True)
        written = _open_workbook(body, values=False) if formulas else values
        found = [
            _sheet_table(values[name], written[name]) for name in values.sheetnames[:MOST_SHEETS]
        ]
    except NoTableError:
        raise
    except Exception as error:  # a broken or foreign file can raise anything in the library
        raise NoTableError("must be a spreadsheet that can be read", _INSTEAD) from error
    kept = [table for table in found if table is not None]
    if not kept:
        raise NoTableError("must have a table in it, found an empty spreadsheet", _INSTEAD)
    return kept


def _has_formulas(body: bytes) -> bool:
    """Say whether a spreadsheet has formulas; refuse one that could harm when it is opened.

    That is one that unpacks to too much, or that declares entities of its own.
    Raises: NoTableError.
    """
    found: Counter[bytes] = Counter()
    try:
        with zipfile.ZipFile(io.BytesIO(body)) as packed:
            if sum(member.file_size for member in packed.infolist()) > MOST_UNPACKED:
                raise NoTableError("unpacks to more than a table", TABLE_ALONE)
            for member in packed.infolist():
                if member.filename.endswith((".xml", ".rels")) and _has_doctype(packed, member):
                    raise NoTableError("is not a plain spreadsheet", _INSTEAD)
                if member.filename.startswith("xl/worksheets/"):
                    found += _count_tags(packed, member)
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, OSError, ValueError) as error:
        if isinstance(error, NoTableError):
            raise
        raise NoTableError("must be a spreadsheet that can be read", _INSTEAD) from error
    return found[b"f"] > 0


def _has_doctype(packed: zipfile.ZipFile, member: zipfile.ZipInfo) -> bool:
    with packed.open(member) as stream:
        return bool(re.search(rb"<!(DOCTYPE|ENTITY)", stream.read(4096), re.IGNORECASE))


def _count_tags(packed: zipfile.ZipFile, member: zipfile.ZipInfo) -> Counter[bytes]:
    """Return how many cells, formulas and rows a sheet has; it is read in pieces.

    Raises: NoTableError.
    """
    found: Counter[bytes] = Counter()
    rest = b""
    with packed.open(member) as stream:
        while chunk := stream.read(_CHUNK):
            body = rest + chunk
            cut = body.rfind(b"<")
            body, rest = (body[:cut], body[cut:]) if cut > 0 else (body, b"")
            found.update(_TAGS.findall(body))
            if found[b"c"] > MOST_SHEET_CELLS or found[b"row"] > MOST_SHEET_CELLS:
                raise NoTableError(f"{TOO_LARGE_TABLE}, found more", TABLE_ALONE)
    found.update(_TAGS.findall(rest))
    return found


def _open_workbook(body: bytes, *, values: bool) -> Any:
    import openpyxl

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of formats and extensions that no table needs
        return openpyxl.load_workbook(io.BytesIO(body), data_only=values)


def _sheet_table(values: Any, formulas: Any) -> Table | None:
    """Return a sheet as a table, or None where nothing stands in it. Raises: NoTableError."""
    if not hasattr(values, "iter_rows"):  # a sheet with nothing but a diagram
        return None
    if values.max_row > MOST_TABLE_ROWS or values.max_column > MOST_COLUMNS:
        raise NoTableError(
            f"{TOO_LARGE_TABLE}, found more on the sheet {values.title}", TABLE_ALONE
        )
    struck: dict[int, bool] = {}
    rows = [
        [shown_cell(cell, other.value, struck) for cell, other in zip(here, there, strict=True)]
        for here, there in zip(values.iter_rows(), formulas.iter_rows(), strict=True)
    ]
    if not any(shown.text.strip() for row in rows for shown in row):
        return None
    marks = {
        (at, place): (shown.odd, "")
        for at, row in enumerate(rows)
        for place, shown in enumerate(row)
        if shown.odd
    }
    marks |= _merged_texts(values, rows, marks)
    texts = [[shown.text for shown in row] for row in rows]
    return make_table(texts, values.title, marks, _hidden_parts(values, rows))


def _merged_texts(
    values: Any, rows: list[list[ShownCell]], marks: dict[tuple[int, int], tuple[str, str]]
) -> dict[tuple[int, int], tuple[str, str]]:
    """Return what is odd about each merged cell, and the text of the cell that covers it."""
    found = {}
    for merged in values.merged_cells.ranges:
        text = rows[merged.min_row - 1][merged.min_col - 1].text
        for row in range(merged.min_row - 1, min(merged.max_row, len(rows))):
            for column in range(merged.min_col - 1, min(merged.max_col, len(rows[0]))):
                odd, _ = marks.get((row, column), ("", ""))
                found[row, column] = (odd, text)
    return found


def _hidden_parts(values: Any, rows: list[list[ShownCell]]) -> list[str]:
    """Return the rows and columns that hold something and are not shown."""
    found = [HIDDEN_SHEET] if values.sheet_state != "visible" else []
    for at, row in enumerate(rows):
        if values.row_dimensions[at + 1].hidden and any(shown.text for shown in row):
            found.append(f"row {at + 1}")
    columns: set[int] = set()
    for group in values.column_dimensions.values():
        if group.hidden:
            group.reindex()  # the library keeps equal columns as one group
            columns |= set(range(group.min, min(group.max, len(rows[0])) + 1))
    full = [column for column in sorted(columns) if any(row[column - 1].text for row in rows)]
    return [*found, *(f"column {cell_address(0, column - 1).rstrip('1')}" for column in full)]
