"""Readings from a table that was kept elsewhere: what the `import` command does with them."""

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from blankbook.commands.adding.trial_check import prove_round
from blankbook.commands.entering.find_round import Found as FoundRound
from blankbook.commands.entering.find_round import answers, find_round, head, tape_of
from blankbook.commands.entering.round_settings import launder, laundering
from blankbook.commands.importing.import_report import (
    SCHEMA,
    Done,
    as_data,
    lines_of,
    of_table,
    rejects,
)
from blankbook.commands.importing.table_input import (
    blank_named,
    confirm,
    day_said,
    known,
    table_in,
    understood,
)
from blankbook.commands.shared.errors import CLEAN, FINDINGS, BlankbookError, WrongUse, shown
from blankbook.commands.shared.find_blank import schema_of
from blankbook.commands.shared.write_changes import (
    TIMES,
    ChangedMeanwhileFault,
    Write,
    ask,
    carry_out,
    edited,
    tell,
)

if TYPE_CHECKING:
    from blankbook.entry.charts.size_chart import TableHints
    from blankbook.entry.readings.read_table import TableReadings
    from blankbook.records.model import Blank, Shop, Tape

GOOD_ROWS = "correct them, or write the rows without them with --good-rows"


@dataclass(frozen=True, slots=True)
class ReadingFlags:
    """What is said of a table of readings."""

    into: str | None
    said: "TableHints"
    colour: str
    tape: str | None
    heads: dict[str, str | None]
    """What a new round says of itself: ``date``, ``by``, ``lot`` and ``wash``."""
    word: str
    good_rows: bool


def import_readings(
    root: Path,
    blank: str,
    place: tuple[Path, str | None],
    flags: ReadingFlags,
    *,
    dry: bool,
    as_json: bool,
) -> int:
    """Write the readings of a table into a round. Raises: WrongUse, BlankbookError."""
    from blankbook.text.writing.atomic_write import writing_turn

    heads = dict(flags.heads)
    job = _job(root, blank, flags.into, flags.tape)
    read = _read(job, place, flags)
    confirm(read.columns, read.notes, quiet=as_json)
    _day_of_table(read, heads)
    _how_washed(job, read, heads)
    with writing_turn(root):
        job = _job(root, blank, flags.into, flags.tape)
        for left in reversed(range(TIMES)):
            write = _made(job, read, heads, flags.word)
            prove_round(root, job.owner, write)
            try:
                told = carry_out(root, [write], dry=dry)
            except ChangedMeanwhileFault:
                if not left:
                    raise
                job = _job(root, blank, flags.into, flags.tape)
            else:
                break
    style = job.owner.style.key
    done = Done(write.path, style, job.readings, job.kept, job.added, told, dry)
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
    owner, shop = (target.blank, target.shop) if target else blank_named(root, blank)
    try:
        tree = RecordText(target.source).tree if target else {}
    except UnreadableError as error:
        raise edited(error, target.path if target else "") from None
    return _Job(root, owner, shop, target, tape_of(tree, shop, tape), tree)


def _read(job: _Job, place: tuple[Path, str | None], flags: ReadingFlags) -> "TableReadings":
    """Return what the table says, every column and cell of it understood or named."""
    from blankbook.entry.readings.read_table import read_table
    from blankbook.entry.tables.table_cells import NoTableError

    try:
        table = table_in(*place)
        read = understood(
            lambda said: read_table(table, said, job.owner.style, job.shop, job.tape, flags.colour),
            flags.said,
        )
    except NoTableError as error:
        raise WrongUse(f"{shown(place[0])} {shown(str(error))}", shown(error.instead)) from None
    known(read.columns, "half_chest")
    if read.rejected and not flags.good_rows:
        raise rejects(read, GOOD_ROWS, of_table(read))
    _can_be_counted(read)
    if not any(piece.read for piece in read.pieces):
        raise WrongUse("no reading was understood, so nothing was written", "see --column")
    return read


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
    asked["date"] = day_said(asked["date"]) or today
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
