"""The `import` command: readings from a table that was kept elsewhere."""

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.adding.trial_check import prove_round
from blankbook.commands.entering.find_round import Found as FoundRound
from blankbook.commands.entering.find_round import answers, find_round, head, tape_of
from blankbook.commands.entering.round_settings import launder, laundering
from blankbook.commands.importing.import_report import SCHEMA, Done, as_data, lines_of, rejects
from blankbook.commands.importing.table_input import confirm, known, said_of, table_in, understood
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import CLEAN, FINDINGS, BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import CHECK, missing, schema_of
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.write_changes import (
    TIMES,
    ChangedMeanwhileFault,
    DryRunOption,
    JsonOption,
    Write,
    ask,
    carry_out,
    edited,
    said_as_data,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.readings.read_table import TableReadings
    from blankbook.records.model import Blank, Shop, Tape

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
    word: Annotated[str, typer.Option(help="What a new round is called after its day.")] = "import",
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Bring readings in from a table; each cell that is not understood is named."""
    from blankbook.entry.readings.read_table import read_table
    from blankbook.entry.tables.table_cells import NoTableError
    from blankbook.text.writing.atomic_write import writing_turn

    with said_as_data(SCHEMA, as_json=as_json):
        root = ledger_root(ledger)
        said = said_of(column or (), unit, around, flat)
        if not _WORD.fullmatch(word) or len(word) > 40:
            raise WrongUse(
                "--word must be small letters, digits and hyphens", "write --word import"
            )
        heads = {"date": _day(date), "by": by, "lot": lot, "wash": wash}
        job = _job(root, blank, into, tape)
        style = job.owner.style
        try:
            table = table_in(file, sheet)
            read = understood(
                lambda one: read_table(table, one, style, job.shop, job.tape, colour), said
            )
        except NoTableError as error:
            raise WrongUse(f"{shown(file)} {shown(str(error))}", shown(error.instead)) from None
        known(read.columns)
        if read.rejected and not good_rows:
            raise rejects(read)
        _can_be_counted(read)
        if not any(one.read for one in read.pieces):
            raise WrongUse("no reading was understood, so nothing was written", "see --column")
        confirm(read.columns, read.notes, quiet=as_json)
        _day_of_table(read, heads)
        _how_washed(job, read, heads)
        with writing_turn(root):
            job = _job(root, blank, into, tape)
            for left in reversed(range(TIMES)):
                write = _made(job, read, heads, word)
                prove_round(root, job.owner, write)
                try:
                    told = carry_out(root, [write], dry=dry)
                except ChangedMeanwhileFault:
                    if not left:
                        raise
                    job = _job(root, blank, into, tape)
                else:
                    break
    done = Done(write.path, style.key, job.readings, job.kept, job.added, told, dry)
    data, lines = as_data(read, done), lines_of(read, done)
    tell(SCHEMA, data, "\n".join(lines), as_json=as_json)
    return FINDINGS if read.rejected or job.kept else CLEAN


@dataclass(slots=True)
class _Job:
    """What a table is brought into."""

    root: Path
    owner: "Blank"
    shop: "Shop"
    target: FoundRound | None
    tape: "Tape"
    tree: Mapping[str, object]
    """What the round says before."""
    kept: list[str] = field(default_factory=list)
    added: list[str] = field(default_factory=list)
    readings: int = 0
    """How many are written."""


def _job(root: Path, blank: str, into: str | None, tape: str | None) -> _Job:
    from blankbook.text.findings import UnreadableError
    from blankbook.text.writing.yaml_spans import RecordText

    target = find_round(root, into) if into else None
    if target and target.blank.style.key != blank:
        message = f"--into is a round of {target.blank.style.key}, and not of {shown(blank)}"
        raise WrongUse(message, f"write {target.blank.style.key}")
    owner, shop = (target.blank, target.shop) if target else _blank(root, blank)
    try:
        tree = RecordText(target.source).tree if target else {}
    except UnreadableError as error:
        raise edited(error, target.path if target else "") from None
    return _Job(root, owner, shop, target, tape_of(tree, shop, tape), tree)


def _blank(root: Path, key: str) -> "tuple[Blank, Shop]":
    from blankbook.records.load_ledger import load_ledger

    loaded = load_ledger(root, only={key}, pictures=False)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults", CHECK)
    if key not in loaded.ledger.blanks:
        raise missing(loaded, key)
    return loaded.ledger.blanks[key], loaded.ledger.shop


def _day(given: str | None) -> str | None:
    """Return the day that a flag says. Raises: WrongUse."""
    from blankbook.entry.tables.table_dates import NoDateError, read_date

    if given is None:
        return None
    try:
        return read_date(given).isoformat()
    except NoDateError as error:
        raise WrongUse(f"--date {shown(error)}", shown(error.instead)) from None


def _day_of_table(read: "TableReadings", heads: dict[str, str | None]) -> None:
    """Take the day of measuring from the table, where it has one. Raises: WrongUse."""
    days = {day.isoformat(): cell for day, cell in sorted(read.days.items())}
    named = ", ".join(f"{day} in {cell}" for day, cell in days.items())
    if len(days) > 1:
        message = f"a round is of one day, and the table has {len(days)}: {named[:200]}"
        raise WrongUse(message, "give each day's rows alone, or write --column DATE=skip")
    if days and heads["date"] not in {None, *days}:
        raise WrongUse(f"--date is {heads['date']}, and the table says {named}", "keep one of them")
    heads["date"] = heads["date"] or next(iter(days), None)


def _how_washed(job: _Job, read: "TableReadings", heads: dict[str, str | None]) -> None:
    """Ask how pieces were washed that were, where neither a flag nor the round says it."""
    if heads["wash"] or not any(washes for one in read.pieces for washes, _ in one.read):
        return
    if job.tree.get("laundering"):
        return
    heads["wash"] = ask("how the pieces were washed and dried", "--wash home_warm,tumble_low")


def _can_be_counted(read: "TableReadings") -> None:
    """Refuse to count pieces past a row of which nobody knows what garment it is."""
    if read.uncounted and not all(one.named for one in read.pieces):
        message = (
            f"pieces without a name cannot be counted while {read.uncounted} is not understood"
        )
        raise BlankbookError(message, "correct that cell, or name the pieces in a column")


def _made(job: _Job, read: "TableReadings", heads: dict[str, str | None], word: str) -> Write:
    from blankbook.entry.readings.imported_round import new_round_text

    if job.target is not None:
        return _filled(job, job.target, read, heads)
    today = datetime.datetime.now().astimezone().date().isoformat()
    asked = {
        "date": heads["date"] or ask("the day of measuring", "--date", today),
        "by": heads["by"] or ask("who measured", "--by"),
        "lot": heads["lot"] or ask("the lot, as the invoice or the carton says", "--lot"),
    }
    asked["date"] = _day(asked["date"]) or today
    asked |= laundering(heads["wash"])
    job.readings = sum(len(texts) for one in read.pieces for texts in one.read.values())
    style = job.owner.style.key
    path = f"blanks/{style}/{asked['date']}-{word}.yaml"
    text = new_round_text(style, asked, job.tape, read.pieces, schema_of(job.root, path, "round"))
    return Write(path, None, text.encode())


def _filled(
    job: _Job, target: FoundRound, read: "TableReadings", heads: dict[str, str | None]
) -> Write:
    from blankbook.entry.readings.imported_round import OtherPieceError, fill_round
    from blankbook.text.findings import UnreadableError
    from blankbook.text.writing.edits import CannotEditError
    from blankbook.text.writing.yaml_spans import RecordText

    try:
        filled = fill_round(target.source, read.pieces, job.tape)
        source = filled.source
        own = {key: heads[key] for key in ("date", "by", "lot")}
        tree = RecordText(source).tree
        source = head(source, tree, answers(tree, own), job.tape)
        source = launder(source, heads["wash"])
    except OtherPieceError as error:
        raise BlankbookError(
            f"nothing was written: {shown(error)}", "look which piece it is"
        ) from None
    except (CannotEditError, UnreadableError) as error:
        raise edited(error, target.path) from None
    job.kept, job.added, job.readings = filled.kept, filled.added, filled.written
    return Write(target.path, target.source, source)
