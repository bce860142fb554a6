"""The `enter` command: readings into a round, at the table or from a list."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.adding.trial_check import prove_round
from blankbook.commands.entering.find_round import Found, find_round
from blankbook.commands.entering.grade_details import describe_held, details_of, wear_of
from blankbook.commands.entering.handed_round import (
    check_handed,
    confirm,
    look_over,
    missing_from,
    read_handed,
)
from blankbook.commands.entering.listed_readings import assignments, put_all
from blankbook.commands.entering.more_pieces import with_more_pieces
from blankbook.commands.entering.round_settings import settle
from blankbook.commands.entering.stage_flags import sheet_of, stage_of
from blankbook.commands.entering.write_round import fill_as_it_is, write_head, write_whole
from blankbook.commands.receiving.found_faults import look_by_flags
from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.completion import points as points_of
from blankbook.commands.shared.completion import sizes as sizes_of
from blankbook.commands.shared.errors import CLEAN, BlankbookError, WrongUse
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.prompts import parts
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    can_ask,
    carry_out,
)

if TYPE_CHECKING:
    from blankbook.entry.round.filled_round import FilledRound


def enter(
    round_: Annotated[
        str,
        typer.Argument(
            metavar="SUPPLIER/STYLE|FILE",
            help="A blank, for its planned or newest round; a file.",
            autocompletion=blanks,
        ),
    ],
    put: Annotated[
        list[str] | None, typer.Option("--put", help="PIECE.POINT=READING; as often as needed.")
    ] = None,
    lines: Annotated[
        str | None,
        typer.Option("--lines", help="A file of lines PIECE POINT READING; - is standard input."),
    ] = None,
    handed: Annotated[
        str | None,
        typer.Option(metavar="FILE", help="What the phone hands over; - is standard input."),
    ] = None,
    points: Annotated[
        str | None,
        typer.Option(
            help="What to look at, such as half_chest,body_length.", autocompletion=points_of
        ),
    ] = None,
    pieces: Annotated[
        str | None, typer.Option(help="Which pieces only, such as L-black-1,L-white-1.")
    ] = None,
    add: Annotated[
        str | None, typer.Option(help="Pieces that the round has not yet, such as M-black-3.")
    ] = None,
    washed: Annotated[
        int | None, typer.Option(help="After so many washes; with --decorated, the print.")
    ] = None,
    worn: Annotated[
        int | None, typer.Option(help="After so many days of wear; --by says whose.")
    ] = None,
    washes: Annotated[
        int | None, typer.Option(help="With --worn: how often it was washed by then.")
    ] = None,
    workmanship: Annotated[
        bool, typer.Option("--workmanship", help="Grade how the pieces are made.")
    ] = False,
    decorated: Annotated[str | None, typer.Option(help="Grade a print of this method.")] = None,
    material: Annotated[str | None, typer.Option(help="Ink, film or thread of the print.")] = None,
    press: Annotated[
        str | None, typer.Option(help='How the press was set, such as "150 C, 12 s, medium".')
    ] = None,
    dryer: Annotated[
        str | None, typer.Option(help='How the dryer was set, such as "160 C, 120 s".')
    ] = None,
    swatches: Annotated[
        str | None, typer.Option(help='Weigh a swatch of each piece, of an area such as "100 cm2".')
    ] = None,
    wash: Annotated[str | None, typer.Option(help="How it was washed and dried: WASH,DRY.")] = None,
    looked: Annotated[
        int | None, typer.Option(help="Of a delivery: how many were looked at in all.")
    ] = None,
    faults: Annotated[
        list[str] | None,
        typer.Option("--fault", help="Of a delivery: SIZE=FAULT, SIZE-COLOUR=FAULT, PIECE=FAULT."),
    ] = None,
    decide: Annotated[str | None, typer.Option(help="Your decision on the blank.")] = None,
    reason: Annotated[str | None, typer.Option(help="Why it was decided so.")] = None,
    sizes: Annotated[
        str | None, typer.Option(help="The sizes that it is about: S,M,L.", autocompletion=sizes_of)
    ] = None,
    uses: Annotated[str | None, typer.Option(help="What for, such as own label,clients.")] = None,
    conditions: Annotated[str | None, typer.Option(help="On condition of.")] = None,
    by: Annotated[str | None, typer.Option(help="Who measures, or decides.")] = None,
    date: Annotated[str | None, typer.Option(help="The day, YYYY-MM-DD; today.")] = None,
    lot: Annotated[str | None, typer.Option(help="The lot of the pieces.")] = None,
    tape: Annotated[str | None, typer.Option(help='What is read with, such as "1/8 in".')] = None,
    by_point: Annotated[
        bool, typer.Option("--by-point", help="Ask for one point of all pieces, then the next.")
    ] = False,
    strict: Annotated[
        bool, typer.Option("--strict", help="Write nothing if a reading looks odd.")
    ] = False,
    ledger: LedgerOption = None,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Fill a round or a delivery: readings, grades, faults, the decision; each as it is read."""
    from blankbook.text.writing.atomic_write import writing_turn

    root = ledger_root(ledger)
    listed, more = list(assignments(put or (), lines)), parts(add)
    over = read_handed(handed) if handed else None
    read_with = tape or (over.tape if over else None)

    def opened() -> "tuple[Found, FilledRound]":
        found = find_round(root, round_, to_decide=bool(decide) and not (put or lines))
        stage = stage_of(washed, worn, workmanship, decorated, swatches)
        grown = with_more_pieces(found, more, [piece for piece, _, _ in listed])
        sheet = sheet_of(replace(found, source=grown), stage, points, read_with, pieces)
        sheet.details = details_of(stage, material, press, dryer) or wear_of(stage, by, washes)
        return found, sheet

    found, sheet = opened()
    hand = None if sheet.stage.block == "worn" and "date" in sheet.tree else by
    given = {"date": date, "by": hand, "lot": lot}
    if over:
        check_handed(sheet, over)
        given = {key: text or over.head.get(key) for key, text in given.items()}
        listed += missing_from(sheet, over)
    described = describe_held(sheet, [piece for piece, _, _ in listed])
    decision = {"decision": decide, "reason": reason, "sizes": sizes, "uses": uses,
                "conditions": conditions}  # fmt: skip
    look = looked is not None or bool(faults)
    if look and found.kind != "delivery":
        raise WrongUse("--looked and --fault are for a delivery", "name its file")
    if not (listed or over or decide or wash or look or (described and not can_ask())):
        return _at_table(root, found, sheet, given, by_point=by_point, dry=dry)

    def fill(found: Found, sheet: "FilledRound") -> int:
        if look:
            look_by_flags(sheet, looked, faults or ())
        odd = put_all(sheet, listed)
        if strict and odd:
            raise BlankbookError("readings look odd, so nothing was written: " + "; ".join(odd))
        if listed:
            write_head(sheet, given, deciding=bool(decide))
        settle(sheet, wash, decision, given)
        if over:
            confirm(sheet, over)
            look_over(sheet, over)
        return write_whole(root, found, sheet, odd, len(listed), dry=dry, as_json=as_json)

    with writing_turn(root):
        return fill_as_it_is(opened, fill, listed)


def _at_table(
    root: Path,
    found: Found,
    sheet: "FilledRound",
    given: dict[str, str | None],
    *,
    by_point: bool,
    dry: bool,
) -> int:
    """Ask for one reading after the other."""
    if dry:
        raise WrongUse("--dry-run shows what a list of readings would do", "add --put or --lines")
    if not can_ask():
        message = "no readings are given, and nobody can be asked here"
        raise WrongUse(message, "write --put PIECE.POINT=READING, or --lines -")
    from blankbook.commands.entering.table_prompts import Table
    from blankbook.commands.receiving.inspected_now import tell_outcome
    from blankbook.commands.receiving.look_over import LookOver

    if sheet.source != found.source:  # what the flags said of entries that are there
        prove_round(root, found.blank, Write(found.path, found.source, sheet.source))
        carry_out(root, [Write(found.path, found.source, sheet.source)], dry=False)
    if found.kind == "round":
        return Table(root, found, sheet, given, by_point=by_point).run()
    if not LookOver(root, found, sheet).run():
        return CLEAN
    code = Table(root, found, sheet, given, by_point=by_point).run() if sheet.pieces else CLEAN
    tell_outcome(root, found)
    return code
