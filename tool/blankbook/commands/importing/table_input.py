"""A table of readings from a file, with what a person has to say about its columns."""

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.shared.errors import BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import CHECK, missing
from blankbook.commands.shared.write_changes import can_ask
from blankbook.words.points import POINTS

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import MissingAnswerError, TableHints
    from blankbook.entry.readings.read_table import TableReadings
    from blankbook.entry.readings.reading_columns import ReadingColumn
    from blankbook.entry.tables.table_cells import Table
    from blankbook.records.model import Blank, Shop

UNITS = ("in", "cm", "mm")


def table_in(file: Path, sheet: str | None) -> "Table":
    """Return the one table that is meant. Raises: WrongUse, NoTableError."""
    from blankbook.entry.tables.table_cells import MOST_TABLE_BYTES, visible_tables
    from blankbook.entry.tables.table_files import read_tables

    if not file.is_file():
        raise WrongUse(f"no file at {shown(file)}", "name a .csv or .xlsx file")
    with file.open("rb") as stream:
        tables = read_tables(stream.read(MOST_TABLE_BYTES + 1))
    named = [one for one in tables if one.name == sheet] if sheet else visible_tables(tables)
    if len(named) == 1:
        return named[0]
    names = shown(", ".join(one.name for one in tables if one.name))
    if sheet and not names:
        raise WrongUse("the file has no sheets, and --sheet names one", "leave --sheet out")
    if sheet:
        raise WrongUse(f"--sheet names no sheet of the file: {shown(sheet)}", f"there are {names}")
    raise WrongUse(f"the file has {len(named)} sheets: {names}", "write --sheet NAME")


def said_of(
    column: Sequence[str], unit: str | None, around: str | None, flat: str | None
) -> "TableHints":
    """Return what the flags say of the columns. Raises: WrongUse."""
    from blankbook.commands.adding.chart_input import laid_flat
    from blankbook.entry.charts.size_chart import TableHints

    if unit not in {None, *UNITS}:
        raise WrongUse(f"--unit must be in, cm or mm, found {shown(unit)}", "write --unit in")
    ways = laid_flat(around, "--around"), laid_flat(flat, "--flat")
    if both := sorted(set(ways[0]) & set(ways[1])):
        raise WrongUse(f"--around and --flat contradict each other: {both[0]}", "keep one of them")
    from blankbook.entry.readings.reading_columns import OTHER_COLUMNS

    return TableHints(unit or "", columns_said(column, OTHER_COLUMNS, POINTS), *ways)


def columns_said(
    given: Sequence[str], others: Sequence[str], points: Collection[str] = ()
) -> dict[str, str]:
    """Return what ``--column`` says, by heading or letter: *others*, *points*, or skip.

    Raises: WrongUse.
    """
    from blankbook.entry.readings.reading_columns import SKIP

    found: dict[str, str] = {}
    for one in given:
        heading, equals, holds = one.rpartition("=")
        point, _, after = holds.strip().partition("@")
        key = " ".join(heading.split()).casefold()
        known = point in points or (point in {*others, SKIP} and "@" not in holds)
        counted = "@" not in holds or (re.fullmatch("[0-9]{1,3}", after) and int(after) <= 200)
        if not equals or not key or not known or not counted:
            words = ", ".join([*points, *others, SKIP])
            message = f"--column must be HEADING=WHAT, found {shown(one)}"
            after_washes = "; a point may have @5 behind it, after 5 washes" if points else ""
            raise WrongUse(message, f"WHAT is {words}{after_washes}")
        if key in found:
            raise WrongUse(f"--column names {shown(heading)} twice", "keep one of them")
        found[key] = holds.strip()
    return found


def understood(
    read: "Callable[[TableHints], TableReadings]", said: "TableHints"
) -> "TableReadings":
    """Return what was read; what only a person can say is asked at a terminal.

    Raises: WrongUse where nobody can be asked; NoTableError.
    """
    from blankbook.entry.charts.size_chart import MissingAnswerError

    while True:
        try:
            return read(said)
        except MissingAnswerError as open_:
            said = _answered(said, open_)


def _answered(said: "TableHints", open_: "MissingAnswerError") -> "TableHints":
    if not can_ask():
        if open_.what == "unit":
            other = "in" if open_.likely == "cm" else "cm"
            remedy = f"write --unit {open_.likely}, or --unit {other} where they are right"
        else:
            remedy = f"write --around {open_.point} where the column is, and it is halved; "
            remedy += f"--flat {open_.point} where it is flat"
        raise WrongUse(shown(open_), remedy)
    typer.echo(shown(open_), err=True)
    if open_.what == "unit":
        return replace(said, unit=_choice("in, cm or mm?", UNITS, open_.likely))
    answer = _choice("around or flat?", ("around", "flat"), open_.likely)
    if answer == "around":
        return replace(said, around=(*said.around, open_.point))
    return replace(said, flat=(*said.flat, open_.point))


def _choice(words: str, choices: Sequence[str], likely: str) -> str:
    while True:
        answer = str(typer.prompt(words, default=likely, err=True)).strip()
        if answer in choices:
            return answer


def known(columns: "Sequence[ReadingColumn]", such_as: str) -> None:
    """Make sure that every column is understood. Raises: WrongUse."""
    unknown = [one for one in columns if not one.holds]
    if unknown:
        headings = ", ".join(_called(one) for one in unknown)
        first = unknown[0].heading
        name = repr(first.text) if first.text else first.address.rstrip("0123456789")
        flag = f"--column {shown(name)}={such_as}, or =skip"
        raise WrongUse(f"not understood: {shown(headings)}", f"write {flag}")


def confirm(columns: "Sequence[ReadingColumn]", notes: Sequence[str], *, quiet: bool) -> None:
    """Show what each column was taken for; a person at a terminal says whether it is right.

    Raises: WrongUse where the person says no.
    """
    if quiet:
        return
    for one in columns:
        if not one.heading.text and one.holds == "skip":
            continue
        washes = "1 wash" if one.washes == 1 else f"{one.washes} washes"
        after = f" after {washes}" if one.washes else ""
        holds = "left out" if one.holds == "skip" else one.holds
        typer.echo(shown(f"  {_called(one)}: {holds}{after}"), err=True)
    for note in notes:
        typer.echo(shown(f"  {note}"), err=True)
    if can_ask() and not typer.confirm("is that right?", default=True, err=True):
        raise WrongUse("nothing was written", "say it with --column HEADING=WHAT")


def _called(one: "ReadingColumn") -> str:
    return f"{one.heading.address} {one.heading.text or 'without a heading'}"


def blank_named(root: Path, key: str) -> "tuple[Blank, Shop]":
    """Return a blank, and the shop's rules. Raises: WrongUse, BlankbookError."""
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(root, only={key}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    if key not in loaded.ledger.blanks:
        raise missing(loaded, key)
    return loaded.ledger.blanks[key], loaded.ledger.shop


def day_said(given: str | None) -> str | None:
    """Return the day that a flag says. Raises: WrongUse."""
    from blankbook.entry.tables.table_dates import NoDateError, read_date

    if given is None:
        return None
    try:
        return read_date(given).isoformat()
    except NoDateError as error:
        raise WrongUse(f"--date {shown(error)}", shown(error.instead)) from None
