"""The `import` command: readings, or a client's list, from a table that was kept elsewhere."""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import typer

from blankbook.commands.importing.import_list import ListFlags, import_list
from blankbook.commands.importing.import_readings import ReadingFlags, import_readings
from blankbook.commands.importing.import_report import SCHEMA
from blankbook.commands.importing.table_input import blank_named, day_said, said_of
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import WrongUse
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.write_changes import DryRunOption, JsonOption, said_as_data

_WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


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
    unit: Annotated[str | None, typer.Option(help="in, cm or mm, where no heading says.")] = None,
    around: Annotated[
        str | None, typer.Option(help="Points given all the way around, which are halved.")
    ] = None,
    flat: Annotated[
        str | None, typer.Option(help="Points given flat, however large they look.")
    ] = None,
    colour: Annotated[str, typer.Option(help="The colour, where no column says.")] = "",
    good_rows: Annotated[
        bool,
        typer.Option(
            "--good-rows", help="Write the rows that were understood whole, list the rest."
        ),
    ] = False,
    by: Annotated[str | None, typer.Option(help="Who measured.")] = None,
    date: Annotated[str | None, typer.Option(help="The day of measuring, YYYY-MM-DD.")] = None,
    lot: Annotated[str | None, typer.Option(help="The lot of the pieces.")] = None,
    tape: Annotated[str | None, typer.Option(help='What was read with, such as "1/8 in".')] = None,
    wash: Annotated[
        str | None, typer.Option(help="How pieces that were washed were: WASH,DRY.")
    ] = None,
    word: Annotated[
        str | None, typer.Option(help="What a new file is called after its day.")
    ] = None,
    client: Annotated[
        str, typer.Option("--for", help="Whose list of shirts it is; it becomes an order.")
    ] = "",
    use: Annotated[str, typer.Option(help="Of a list: what the shirts are for.")] = "",
    needed_by: Annotated[str, typer.Option(help="Of a list: the day, YYYY-MM-DD.")] = "",
    shirt: Annotated[str, typer.Option(help="Of a list: what a finished shirt sells for.")] = "",
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Bring in readings, or a client's list, from a table; no cell is passed over."""
    with said_as_data(SCHEMA, as_json=as_json):
        root = ledger_root(ledger)
        word = word or ("bulk" if client else "import")
        if not _WORD.fullmatch(word) or len(word) > 40:
            message = "--word must be small letters, digits and hyphens"
            raise WrongUse(message, f"write --word {'bulk' if client else 'import'}")
        of_list = {"--use": use, "--needed-by": needed_by, "--shirt": shirt}
        of_readings = {"--into": into, "--unit": unit, "--around": around, "--flat": flat,
                       "--good-rows": good_rows, "--lot": lot, "--tape": tape,
                       "--wash": wash}  # fmt: skip
        place, day = (file, sheet), day_said(date)
        if client:
            _refuse(of_readings, "is for readings, and --for says that it is a list", "keep one")
            style = blank_named(root, blank)[0].style
            told = ListFlags(client, use, needed_by, shirt, by, day, word)
            given = (column or (), colour)
            return import_list(root, style, place, given, told, dry=dry, as_json=as_json)
        _refuse(of_list, "is for a client's list, and nobody is named", "write --for WHOM")
        heads = {"date": day, "by": by, "lot": lot, "wash": wash}
        said = said_of(column or (), unit, around, flat)
        flags = ReadingFlags(into, said, colour, tape, heads, word, good_rows)
        return import_readings(root, blank, place, flags, dry=dry, as_json=as_json)


def _refuse(flags: Mapping[str, str | bool | None], why: str, instead: str) -> None:
    """Refuse flags that are for the other kind of table. Raises: WrongUse."""
    if given := [flag for flag, value in flags.items() if value]:
        raise WrongUse(f"{given[0]} {why}", instead)
