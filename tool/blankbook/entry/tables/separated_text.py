"""A table in a text: values separated by commas, semicolons, tabs, bars, or wide gaps.

Quotes are those of RFC 4180: a cell in quotes may hold separators and line breaks, and a quote
inside it is doubled. A quote that is never closed is an error, as it would swallow the rows below.
"""

import csv
import io
import re
from collections import Counter
from itertools import islice

from blankbook.entry.tables.table_cells import (
    MOST_TABLE_ROWS,
    TABLE_ALONE,
    TOO_LARGE_TABLE,
    NoTableError,
    Table,
    make_table,
)

_DELIMITERS = ("\t", ";", "|", ",")
_RULE = re.compile(r"[\s|:+=_-]+")
_GAP = re.compile(r"\s{2,}")
_SAID = re.compile(r"\s*\"?sep=([\t;|,])\"?[;,\t|\s]*", re.IGNORECASE)
_KINDS = "give CSV or .xlsx"
MOST_IN_SENTENCE = 2
"""Commas of a line that may be those of a sentence."""
_LINES = 4
"""Lines that one row may have on average; a file with more lines is refused before it is parsed."""


def decode_table(body: bytes) -> str:
    """Return the text of a file in UTF-16 with its mark, in UTF-8, or else in Windows-1252."""
    if body.startswith((b"\xff\xfe", b"\xfe\xff")):
        return body.decode("utf-16", "replace")
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError:
        return body.decode("cp1252", "replace")


def table_from_text(text: str) -> Table:
    """Return the table in a text: separated by tabs, semicolons, bars, commas, or wide gaps.

    Raises: NoTableError.
    """
    if "\x00" in text:
        raise NoTableError("must be a table, found bytes that are no text", _KINDS)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if text.count("\n") > MOST_TABLE_ROWS * _LINES:
        raise NoTableError(TOO_LARGE_TABLE, TABLE_ALONE)
    first, _, rest = text.partition("\n")
    declared = _SAID.fullmatch(first)
    if (
        declared
    ):  # for a spreadsheet; the line stays, empty, so that addresses are those of the file
        text = "\n" + rest
    delimiter = declared[1] if declared else _delimiter(text)
    if not delimiter:
        return make_table(_cut_at_gaps(text.split("\n")))
    rows = _rows(text, delimiter)
    return make_table(_without_bars(rows) if delimiter == "|" else rows)


def _cut_at_gaps(lines: list[str]) -> list[list[str]]:
    """Return rows cut at wide gaps; where only some lines are indented, an empty cell begins those.

    The line of sizes has nothing over the headings, and begins with the gap.
    """
    indented = [bool(re.match(r"\s{2,}\S", line)) for line in lines if line.strip()]
    kept = not all(indented)
    return [_GAP.split(line.rstrip() if kept else line.strip()) for line in lines]


def _rows(text: str, delimiter: str) -> list[list[str]]:
    """Return the rows of separated values. Raises: NoTableError."""
    lines = csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
    rows: list[list[str]] = []
    try:
        rows.extend(islice(lines, MOST_TABLE_ROWS + 1))
    except csv.Error as error:
        if "field larger" in str(error):
            raise NoTableError(
                "must be a table, found a cell of more than 100 kB", _KINDS
            ) from None
        message = f"has a quote that is never closed, or text behind one, in row {len(rows) + 1}"
        raise NoTableError(message, 'double a quote inside a quoted cell: "22 1/8"""') from None
    return rows


def _delimiter(text: str) -> str:
    """Return what separates the cells, or nothing for gaps.

    It stands in most lines. Of several, it is the one with the same count in the most lines: a
    decimal comma, or a semicolon between two readings, does not stand in every row.
    """
    lines = [line for line in text.split("\n") if line.strip()]
    quoted = [re.sub(r'"[^"\n]*"', "", line) for line in lines]
    alike = {delimiter: _lines_alike(quoted, delimiter) for delimiter in _DELIMITERS}
    usual = [
        delimiter
        for delimiter in _DELIMITERS
        if sum(delimiter in line for line in quoted) * 2 > len(lines)
    ]
    if usual:
        return max(usual, key=lambda delimiter: alike[delimiter])
    counts = [(sum(delimiter in line for line in quoted), delimiter) for delimiter in _DELIMITERS]
    most, found = max(counts, key=lambda pair: pair[0], default=(0, ""))
    gaps = sum(bool(_GAP.search(line.strip())) for line in lines)
    # One line with a comma or two is a sentence, such as "Size chart, in inches".
    is_sentence = most == 1 and max(line.count(found) for line in quoted) <= MOST_IN_SENTENCE
    return found if most > gaps and not is_sentence else ""


def _lines_alike(lines: list[str], delimiter: str) -> int:
    """Return how many lines have the delimiter's commonest count."""
    counts = Counter(count for line in lines if (count := line.count(delimiter)))
    return max(counts.values(), default=0)


def _without_bars(rows: list[list[str]]) -> list[list[str]]:
    """Return rows that were drawn with bars, without edges, and with empty rows for rules."""
    kept = [row if not _is_rule(row) else [] for row in rows]
    full = [row for row in kept if any(cell.strip() for cell in row)]
    if full and all(not row[0].strip() for row in full):
        kept = [row[1:] for row in kept]
    return [row[:-1] if row and not row[-1].strip() else row for row in kept]


def _is_rule(row: list[str]) -> bool:
    return bool(row) and bool(_RULE.fullmatch("|".join(row))) and "--" in "".join(row)
