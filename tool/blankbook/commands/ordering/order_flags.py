"""What the flags of an order say, and what a person is asked where they do not."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blankbook.commands.shared.errors import BlankbookError, WrongUse, shown
from blankbook.commands.shared.prompts import ask_if_any, pairs, parts
from blankbook.commands.shared.write_changes import ask, can_ask

if TYPE_CHECKING:
    from blankbook.entry.orders.client_list import ClientList
    from blankbook.records.model import Style

Need = dict[str, dict[str, str]]
"""By colour and size, as typed."""


def need_of(given: Iterable[str], flag: str, style: "Style") -> Need:
    """Return what was given as ``COLOUR:SIZE=N,SIZE=N``; one colour need not be named.

    Raises: WrongUse.
    """
    found: Need = {}
    for text in given:
        colour, colon, counts = text.rpartition(":")
        if not colon and len(style.colours) != 1:
            named = ", ".join(style.colours)
            message = f"{flag} must begin with a colour, found {shown(text)}"
            raise WrongUse(message, f"write {flag} COLOUR:M=12,L=9, of {named}")
        own = colour.strip() or style.colours[0]
        for size, count in counts_of(counts, flag).items():
            if size in found.setdefault(own, {}):
                raise WrongUse(f"{flag} names {shown(size)} of {shown(own)} twice", "keep one")
            found[own][size] = count
    return found


def counts_of(text: str, flag: str) -> dict[str, str]:
    """Return what was given as ``SIZE=N,SIZE=N``. Raises: WrongUse."""
    return pairs(parts(text), flag, f"{flag} M=12,L=9")


def asked_need(style: "Style") -> tuple[Need, dict[str, str]]:
    """Return what a person at a terminal needs: sizes by colour, or a total. Raises: WrongUse."""
    if not can_ask():
        message = "what is needed is not given, and nobody can be asked here"
        raise WrongUse(message, "write --need black:M=12,L=9, --list FILE or --total black=60")
    colours = parts(ask("the colours", "--need", ",".join(style.colours[:1])))
    need: Need = {}
    totals: dict[str, str] = {}
    sizes = ", ".join(style.sizes)
    for colour in colours:
        answer = ask(f"how many of {colour}, such as M=12,L=9 ({sizes}), or one total", "--need")
        if "=" in answer:
            need[colour] = counts_of(answer, "--need")
        else:
            totals[colour] = answer
    if need and totals:
        raise WrongUse("some colours have sizes and others a total", "give each of them sizes")
    return need, totals


def listed_need(file: Path, sheet: str | None, colour: str, style: "Style") -> Need:
    """Return what a client's list asks for; each cell that is not understood is named.

    Raises: WrongUse, BlankbookError.
    """
    from blankbook.commands.importing.table_input import table_in
    from blankbook.entry.orders.client_list import read_client_list
    from blankbook.entry.tables.table_cells import NoTableError

    try:
        read = read_client_list(table_in(file, sheet), style.sizes, style.colours, colour)
    except NoTableError as error:
        raise WrongUse(f"{shown(file)} {shown(str(error))}", shown(error.instead)) from None
    _tell(read)
    if not read.needed:
        raise WrongUse("no shirt was understood, so nothing was written", "see the list's cells")
    return {c: {s: str(n) for s, n in sizes.items()} for c, sizes in read.needed.items()}


def _tell(read: "ClientList") -> None:
    for note in read.notes:
        typer.echo(shown(note), err=True)
    if not read.rejected:
        return
    for cell in read.rejected:
        typer.echo(f"{cell.address}: {shown(cell.why)}", err=True)
    count = len(read.rejected)
    said = "1 cell was" if count == 1 else f"{count} cells were"
    raise BlankbookError(f"{said} not understood, so nothing was written", "correct them")


def ask_more(fields: dict[str, str], money: dict[str, str], uses: Sequence[str]) -> None:
    """Ask at a terminal for what an order says beside the need."""
    fields["use"] = fields["use"] or ask_if_any("what the shirts are for", uses)
    fields["needed_by"] = fields["needed_by"] or ask_if_any("needed by, YYYY-MM-DD")
    money["shirt"] = money["shirt"] or ask_if_any("what a finished shirt sells for")
