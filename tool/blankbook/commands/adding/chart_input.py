"""A size chart from a file or from standard input, with what a person has to say about it."""

import os
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.shared.errors import WrongUse, shown
from blankbook.commands.shared.prompts import pairs, parts
from blankbook.commands.shared.write_changes import can_ask, read_standard_input

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import MissingAnswerError, SizeChart, TableHints
    from blankbook.entry.tables.table_cells import Table

STDIN = "-"
UNITS = ("in", "cm", "mm")


@dataclass(frozen=True, slots=True)
class Given:
    """What the flags say of a chart."""

    place: str
    sheet: str | None = None
    unit: str | None = None
    points: Iterable[str] = ()
    around: str | None = None
    flat: str | None = None
    body: bytes | None = None
    """What was pasted, where that is known already."""


def chart_from(given: Given) -> "SizeChart":
    """Return the chart; what it leaves open is asked at a terminal.

    Raises: WrongUse where it is none, or where nobody can be asked.
    """
    from blankbook.entry.charts.read_chart import read_chart
    from blankbook.entry.charts.size_chart import MissingAnswerError
    from blankbook.entry.tables.table_cells import NoTableError

    said = _said(given)
    try:
        tables = _tables(given)
        while True:
            try:
                return read_chart(tables, said)
            except MissingAnswerError as open_:
                said = _answered(said, open_)
    except NoTableError as error:
        raise WrongUse(f"the chart {shown(str(error))}", shown(error.instead)) from None


def _tables(given: Given) -> "list[Table]":
    from blankbook.entry.tables.table_cells import MOST_TABLE_BYTES, visible_tables
    from blankbook.entry.tables.table_files import read_tables

    if given.body is not None:
        body = given.body
    elif given.place == STDIN:
        body = pasted()
    else:
        place = Path(given.place)
        if not place.is_file():
            message = f"--chart must name a file, found none at {shown(given.place)}"
            raise WrongUse(message, "write - to give the chart on standard input")
        with place.open("rb") as stream:
            body = stream.read(MOST_TABLE_BYTES + 1)
    tables = read_tables(body)
    named = (
        [one for one in tables if one.name == given.sheet]
        if given.sheet
        else visible_tables(tables)
    )
    if not named:
        names = ", ".join(one.name or "none" for one in tables)
        message = f"--sheet names no sheet of the file: {shown(given.sheet)}"
        raise WrongUse(message, f"there are {shown(names)}")
    return named


def pasted() -> bytes:
    """Return what comes on standard input; at a terminal, say how it ends."""
    from blankbook.entry.tables.table_cells import MOST_TABLE_BYTES

    if can_ask():
        end = "Ctrl-Z and Enter" if os.name == "nt" else "Ctrl-D"
        typer.echo(f"paste the chart, then end it with {end} on a line of its own", err=True)
    return read_standard_input(MOST_TABLE_BYTES + 1)


def _said(given: Given) -> "TableHints":
    from blankbook.entry.charts.chart_layout import LEAVE_OUT
    from blankbook.entry.charts.size_chart import TableHints

    if given.unit not in {None, *UNITS}:
        raise WrongUse(f"--unit must be in, cm or mm, found {shown(given.unit)}", "write --unit in")
    named = pairs(given.points, "--point", "--point 'Width A=half_chest'")
    points = {
        heading: point if point == LEAVE_OUT else point_named("--point", point)
        for heading, point in named.items()
    }
    around, flat = (laid_flat(one, flag) for one, flag in
                    ((given.around, "--around"), (given.flat, "--flat")))  # fmt: skip
    if both := sorted(set(around) & set(flat)):
        raise WrongUse(f"--around and --flat contradict each other: {both[0]}", "keep one of them")
    return TableHints(given.unit or "", points, around, flat)


def laid_flat(given: str | None, flag: str) -> list[str]:
    """Return the points that a flag names, of those that are laid flat. Raises: WrongUse."""
    from blankbook.entry.charts.chart_headings import known_point
    from blankbook.records.flat_or_around import MAYBE_AROUND

    found = [known_point(one) for one in parts(given)]
    for point, one in zip(found, parts(given), strict=True):
        if point not in MAYBE_AROUND:
            message = f"{flag} must name points that are laid flat, found {shown(one)}"
            raise WrongUse(message, f"there are {', '.join(MAYBE_AROUND)}")
    return found


def point_named(flag: str, name: str) -> str:
    """Return the point that a flag names. Raises: WrongUse."""
    from blankbook.entry.charts.chart_headings import known_point
    from blankbook.words.points import POINTS

    if found := known_point(name):
        return found
    message = f"{flag} must name a point of measure, found {shown(name)}"
    raise WrongUse(message, f"there are {', '.join(POINTS)}")


def _answered(said: "TableHints", open_: "MissingAnswerError") -> "TableHints":
    """Return what is said once a person has answered. Raises: WrongUse where nobody can be."""
    from blankbook.entry.charts.chart_layout import LEAVE_OUT

    if open_.what == "unit":
        if not can_ask():
            looks = {"in": "inches", "cm": "centimetres"}[open_.likely]
            remedy = f"it looks like {looks}: write --unit {open_.likely}"
            raise WrongUse(str(open_), remedy)
        return replace(said, unit=_choice(f"{open_}: in, cm or mm?", UNITS, open_.likely))
    heading = shown(open_.heading)
    if not can_ask():
        remedy = f"write --around {open_.point} to halve it, --flat {open_.point} where it is flat"
        raise WrongUse(shown(open_), f"{remedy}, or --point '{heading}=-' where it is the wearer's")
    words = f"{shown(open_)}: around, flat, or - where it is the wearer's?"
    answer = _choice(words, ("around", "flat", LEAVE_OUT), open_.likely)
    if answer == LEAVE_OUT:
        return replace(said, points={**said.points, open_.heading: LEAVE_OUT})
    known = (*getattr(said, answer), open_.point)
    return replace(said, around=known) if answer == "around" else replace(said, flat=known)


def _choice(words: str, choices: Iterable[str], likely: str) -> str:
    while True:
        answer = str(typer.prompt(words, default=likely, err=True)).strip()
        if answer in set(choices):
            return answer
