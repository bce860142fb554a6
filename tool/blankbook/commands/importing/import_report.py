"""What the `import` command says of a table: as data, and in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from blankbook.commands.shared.errors import BlankbookError, shown

if TYPE_CHECKING:
    from blankbook.entry.orders.client_list import ClientList
    from blankbook.entry.readings.read_table import TableReadings
    from blankbook.entry.readings.reading_columns import ReadingColumn

SCHEMA = "blankbook/import/1"
MOST_SHOWN = 20


@dataclass(frozen=True, slots=True)
class Done:
    """What became of a table."""

    path: str
    blank: str
    readings: int
    """How many were written, or would be."""
    kept: Sequence[str]
    added: Sequence[str]
    difference: str
    dry: bool


def as_data(read: "TableReadings", done: Done) -> dict[str, Any]:
    """Return what was done as plain data."""
    return {
        "path": done.path,
        "pieces": len(read.pieces),
        "readings": done.readings,
        "kept": list(done.kept),
        "added": list(done.added),
        "written": not done.dry,
        "difference": done.difference,
        **of_table(read),
    }


def of_table(read: "TableReadings") -> dict[str, Any]:
    """Return what became of the cells of a table of readings."""
    return {"rows_left_out": list(read.rows_left), "halved": list(read.halved), **of_cells(read)}


def of_cells(read: "TableReadings | ClientList") -> dict[str, Any]:
    """Return what became of the cells of a table as plain data."""
    return {
        "rejected": [{"cell": one.address, "why": one.why} for one in read.rejected],
        "notes": list(read.notes),
        "columns": [_column(one) for one in read.columns],
    }


def _column(one: "ReadingColumn") -> dict[str, Any]:
    return {
        "cell": one.heading.address,
        "heading": one.heading.text,
        "holds": one.holds or None,
        "washes": one.washes,
        "unit": one.unit or None,
    }


def lines_of(read: "TableReadings", done: Done) -> list[str]:
    """Return what was done in words, the outcome last."""
    lines = [shown(f"not read: {one.address} {one.why}") for one in read.rejected]
    if read.rows_left:
        what = "row" if len(read.rows_left) == 1 else "rows"
        lines.append(f"left out whole: {what} {', '.join(read.rows_left)}")
    lines += [shown(f"left as it was: {one}") for one in done.kept]
    if done.added:
        lines.append(shown(f"new in the round: {', '.join(done.added)}"))
    if done.dry:
        return [*lines, done.difference]
    wrote = f"wrote {_many(done.readings, 'reading')} of {_many(len(read.pieces), 'piece')}"
    return [*lines, f"{wrote} to {done.path}", f"next: blankbook check, and vet {done.blank}"]


def _many(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}s"


def rejects(
    read: "TableReadings | ClientList", remedy: str, data: dict[str, Any]
) -> BlankbookError:
    """Return that cells were not understood, each by its address."""
    lines = [f"    {one.address}: {one.why}" for one in read.rejected[:MOST_SHOWN]]
    more = len(read.rejected) - MOST_SHOWN
    lines += [f"    and {more} more"] if more > 0 else []
    count = "1 cell was" if len(read.rejected) == 1 else f"{len(read.rejected)} cells were"
    message = f"{count} not understood, so nothing was written\n"
    error = BlankbookError(message + "\n".join(shown(line) for line in lines), remedy)
    error.data = data
    return error
