"""The `import` command: readings from a table that was kept elsewhere."""

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.changing import (
    DryRunOption,
    JsonOption,
    Write,
    ask,
    can_ask,
    carry_out,
    edited,
    tell,
)
from blankbook.commands.completing import blanks
from blankbook.commands.errors import CLEAN, FINDINGS, BlankbookError, WrongUse, shown
from blankbook.commands.finding import CHECK, missing, schema_of
from blankbook.commands.proving import prove_round
from blankbook.commands.rounds import Found as FoundRound
from blankbook.commands.rounds import answers, find_round, head, tape_of
from blankbook.commands.settling import laundering
from blankbook.commands.where import LedgerOption, ledger_root

if TYPE_CHECKING:
    from blankbook.entry.readings_table import Column, ReadTable
    from blankbook.entry.tables import Table
    from blankbook.records.model import Blank, Shop

SCHEMA = "blankbook/import/1"


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="CSV, or a spreadsheet (.xlsx).")],
    blank: Annotated[
        str, typer.Argument(metavar="SUPPLIER/STYLE", help="The blank.", autocompletion=blanks)
    ],
    into: Annotated[
        str | None, typer.Option("--into", help="A round's file to add to; else a new one.")
    ] = None,
    column: Annotated[
        list[str] | None,
        typer.Option("--column", help="HEADING=POINT, =size, =skip, or =POINT@5 after 5 washes."),
    ] = None,
    sheet: Annotated[str | None, typer.Option(help="The sheet of a spreadsheet.")] = None,
    unit: Annotated[str | None, typer.Option(help="in or cm, where no heading says.")] = None,
    colour: Annotated[str, typer.Option(help="The colour, where no column says.")] = "",
    good_rows: Annotated[
        bool, typer.Option("--good-rows", help="Write what was understood, and list the rest.")
    ] = False,
    by: Annotated[str | None, typer.Option(help="Who measured.")] = None,
    date: Annotated[str | None, typer.Option(help="The day of measuring, YYYY-MM-DD.")] = None,
    lot: Annotated[str | None, typer.Option(help="The lot of the pieces.")] = None,
    tape: Annotated[str | None, typer.Option(help='What was read with, such as "1/8 in".')] = None,
    wash: Annotated[
        str | None, typer.Option(help="How pieces that were washed were: WASH,DRY.")
    ] = None,
    word: Annotated[str, typer.Option(help="What a new round is called after its day.")] = "import",
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Bring readings in from a table; each cell that is not understood is named."""
    from blankbook.entry.readings_table import read_table
    from blankbook.entry.tables import NoTable
    from blankbook.text.writing.spans import Text

    root = ledger_root(ledger)
    if unit not in {None, "in", "cm", "mm"}:
        raise WrongUse(f"--unit must be in, cm or mm, found {shown(unit)}", "write --unit in")
    given = _given(column or ())
    target = find_round(root, into) if into else None
    if target and target.blank.style.key != blank:
        message = f"--into is a round of {target.blank.style.key}, and not of {shown(blank)}"
        raise WrongUse(message, f"write {target.blank.style.key}")
    owner, shop = (target.blank, target.shop) if target else _blank(root, blank)
    tree = Text(target.source).tree if target else {}
    read_with = tape_of(tree, shop, tape)
    try:
        table = _table(file, sheet)
        read = read_table(table, given, owner.style, read_with, unit or "", colour)
    except NoTable as error:
        raise WrongUse(f"{shown(file)} {shown(str(error))}", shown(error.instead)) from None
    _confirm(read.columns, as_json=as_json)
    if read.rejected and not good_rows:
        raise _rejects(read)
    if not any(one.read for one in read.pieces):
        raise WrongUse("no reading was understood, so nothing was written", "look at --column")
    heads = {"date": date, "by": by, "lot": lot, "wash": wash}
    write, kept = _made(root, owner, target, read, heads, read_with, word)
    prove_round(root, owner, write)
    told = carry_out(root, [write], dry=dry)
    count = sum(len(texts) for one in read.pieces for texts in one.read.values())
    data = {
        "path": write.path,
        "pieces": len(read.pieces),
        "readings": count,
        "rejected": [{"cell": one.address, "why": one.why} for one in read.rejected],
        "kept": kept,
        "columns": [_said(one) for one in read.columns],
        "written": not dry,
        "difference": told,
    }
    lines = [shown(f"not read: {one.address} {one.why}") for one in read.rejected]
    lines += [f"left as it was: {shown(one)}" for one in kept]
    wrote = f"wrote {_many(count, 'reading')} of {_many(len(read.pieces), 'piece')}"
    wrote += f" to {write.path}"
    lines += [told] if dry else [wrote, f"next: blankbook check, and vet {owner.style.key}"]
    tell(SCHEMA, data, "\n".join(lines), as_json=as_json)
    return FINDINGS if read.rejected or kept else CLEAN


def _given(columns: "list[str] | tuple[()]") -> dict[str, str]:
    from blankbook.entry.readings_table import OTHERS, SKIP
    from blankbook.words.points import POINTS

    found = {}
    for one in columns:
        heading, equals, holds = one.rpartition("=")
        point, _, after = holds.partition("@")
        if not equals or point not in {*POINTS, *OTHERS, SKIP} or (after and not after.isdigit()):
            known = ", ".join([*POINTS, *OTHERS, SKIP])
            raise WrongUse(f"--column must be HEADING=WHAT, found {shown(one)}", f"WHAT is {known}")
        found[heading.strip().casefold()] = holds
    return found


def _blank(root: Path, key: str) -> "tuple[Blank, Shop]":
    from blankbook.records.load import load_ledger

    loaded = load_ledger(root, only={key}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    if key not in loaded.ledger.blanks:
        raise missing(loaded, key)
    return loaded.ledger.blanks[key], loaded.ledger.shop


def _table(file: Path, sheet: str | None) -> "Table":
    from blankbook.entry.tables import MOST_BYTES, read_tables

    if not file.is_file():
        raise WrongUse(f"no file at {shown(file)}", "name a .csv or .xlsx file")
    with file.open("rb") as stream:
        tables = read_tables(stream.read(MOST_BYTES + 1))
    named = [one for one in tables if sheet in {None, one.name}]
    if len(named) != 1:
        names = shown(", ".join(one.name for one in tables))
        raise WrongUse(f"the file has {len(tables)} sheets: {names}", "write --sheet NAME")
    return named[0]


def _many(count: int, what: str) -> str:
    return f"1 {what}" if count == 1 else f"{count} {what}s"


def _said(one: "Column") -> dict[str, Any]:
    return {
        "cell": one.heading.address,
        "heading": one.heading.text,
        "holds": one.holds or None,
        "washes": one.washes,
        "unit": one.unit or None,
    }


def _confirm(columns: "tuple[Column, ...]", *, as_json: bool) -> None:
    """Show what each column was taken for; a person says whether it is right.

    Raises: WrongUse where a heading is not understood, or the person says no.
    """
    unknown = [one for one in columns if not one.holds]
    if unknown:
        headings = ", ".join(f"{one.heading.address} {one.heading.text}" for one in unknown)
        message = f"not understood: {shown(headings)}"
        flag = f"--column {shown(repr(unknown[0].heading.text))}=half_chest, or =skip"
        raise WrongUse(message, f"write {flag}")
    if as_json or not can_ask():
        return
    for one in columns:
        after = f" after {one.washes} washes" if one.washes else ""
        typer.echo(shown(f"  {one.heading.address} {one.heading.text}: {one.holds}{after}"))
    if not typer.confirm("is that right?", default=True):
        raise WrongUse("nothing was written", "say it with --column HEADING=WHAT")


def _rejects(read: "ReadTable") -> BlankbookError:
    first = "\n".join(f"    {one.address}: {one.why}" for one in read.rejected[:20])
    more = len(read.rejected) - 20
    rest = f"\n    and {more} more" if more > 0 else ""
    count = "1 cell was" if len(read.rejected) == 1 else f"{len(read.rejected)} cells were"
    message = f"{count} not understood, so nothing was written\n"
    cells = "\n".join(shown(line) for line in (first + rest).split("\n"))
    return BlankbookError(message + cells, "correct them, or write the rest with --good-rows")


def _made(
    root: Path,
    owner: "Blank",
    target: "FoundRound | None",
    read: "ReadTable",
    heads: dict[str, str | None],
    tape: Any,
    word: str,
) -> tuple[Write, list[str]]:
    from blankbook.entry.imported import fill_round, new_round
    from blankbook.text.findings import UnreadableText
    from blankbook.text.writing.edits import CannotEdit, set_value
    from blankbook.text.writing.spans import Text

    if target is not None:
        try:
            source, kept = fill_round(target.source, read.pieces)
            own = {key: heads[key] for key in ("date", "by", "lot")}
            tree = Text(source).tree
            source = head(source, tree, answers(tree, own), tape)
            for key, value in laundering(heads["wash"]).items():
                source = set_value(source, ("laundering", key), value)
        except (CannotEdit, UnreadableText) as error:
            raise edited(error, target.path) from None
        return Write(target.path, target.source, source), kept
    today = datetime.datetime.now().astimezone().date().isoformat()
    asked = {
        "date": heads["date"] or ask("the day of measuring", "--date", today),
        "by": heads["by"] or ask("who measured", "--by"),
        "lot": heads["lot"] or ask("the lot, as the invoice or the carton says", "--lot"),
    }
    asked |= laundering(heads["wash"])
    path = f"blanks/{owner.style.key}/{asked['date']}-{word}.yaml"
    text = new_round(owner.style.key, asked, tape, read.pieces, schema_of(root, path, "round"))
    return Write(path, None, text.encode()), []
