"""The sheets of a spreadsheet as tables: what each cell shows, and never what it computes."""

import datetime
import io
import re
import warnings
import zipfile
from typing import Any

from blankbook.entry.tables import MOST_COLUMNS, MOST_ROWS, NoTable, Table, table_of

MOST_UNPACKED = 100 << 20
MOST_SHEETS = 50
_INSTEAD = "save it as .xlsx or as CSV"


def sheets(body: bytes) -> list[Table]:
    """Return the sheets that have anything in them.

    A formula counts with the value that was saved with it; one that has none keeps its own text,
    which nobody takes for a number. Raises: NoTable.
    """
    _look_at(body)
    try:
        values, formulas = _opened(body, values=True), _opened(body, values=False)
        found = [_sheet(values[name], formulas[name]) for name in values.sheetnames[:MOST_SHEETS]]
    except NoTable:
        raise
    except Exception as error:  # whatever a broken or foreign file makes the library say
        raise NoTable("must be a spreadsheet that can be read", _INSTEAD) from error
    kept = [one for one in found if one is not None]
    if not kept:
        raise NoTable("must have a table in it, found an empty spreadsheet", _INSTEAD)
    return kept


def _look_at(body: bytes) -> None:
    """Refuse what unpacks to too much, or brings its own words into the markup."""
    try:
        with zipfile.ZipFile(io.BytesIO(body)) as packed:
            if sum(one.file_size for one in packed.infolist()) > MOST_UNPACKED:
                raise NoTable("unpacks to more than a table", "give the table alone")
            for one in packed.infolist():
                if one.filename.endswith((".xml", ".rels")) and _declares(packed, one):
                    raise NoTable("is not a plain spreadsheet", _INSTEAD)
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, OSError, ValueError) as error:
        if isinstance(error, NoTable):
            raise
        raise NoTable("must be a spreadsheet that can be read", _INSTEAD) from error


def _declares(packed: zipfile.ZipFile, one: zipfile.ZipInfo) -> bool:
    with packed.open(one) as stream:
        return bool(re.search(rb"<!(DOCTYPE|ENTITY)", stream.read(4096), re.IGNORECASE))


def _opened(body: bytes, *, values: bool) -> Any:
    import openpyxl

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of formats and extensions that no table needs
        return openpyxl.load_workbook(io.BytesIO(body), data_only=values)


def _sheet(values: Any, formulas: Any) -> Table | None:
    if not hasattr(values, "iter_rows"):  # a sheet that is a chart
        return None
    if values.max_row > MOST_ROWS or values.max_column > MOST_COLUMNS:
        message = f"must have at most {MOST_ROWS} rows and {MOST_COLUMNS} columns"
        raise NoTable(f"{message}, found more on the sheet {values.title}", "give the table alone")
    rows = [
        [_text(one.value, other.value) for one, other in zip(here, there, strict=True)]
        for here, there in zip(values.iter_rows(), formulas.iter_rows(), strict=True)
    ]
    if not any(text.strip() for row in rows for text in row):
        return None
    return table_of(rows, values.title)


def _text(value: Any, formula: Any) -> str:
    """Return a cell's text: a number as short as it can be, a day as a day."""
    if value is None:
        return str(formula) if isinstance(formula, str) and formula.startswith("=") else ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:.10g}"
    if isinstance(value, datetime.datetime):
        return value.date().isoformat() if value.time() == datetime.time() else value.isoformat()
    return str(value)
