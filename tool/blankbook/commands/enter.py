"""The `enter` command: readings into a round, at the table or from a list."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.asking import parts
from blankbook.commands.changing import (
    DryRunOption,
    JsonOption,
    Write,
    can_ask,
    carry_out,
    tell,
)
from blankbook.commands.completing import blanks
from blankbook.commands.completing import points as points_of
from blankbook.commands.errors import CLEAN, FINDINGS, BlankbookError, WrongUse, shown
from blankbook.commands.listed import assignments, known_key, put_all
from blankbook.commands.rounds import Found, answers, find_round, head, tape_of
from blankbook.commands.settling import settle
from blankbook.commands.where import LedgerOption, ledger_root

if TYPE_CHECKING:
    from blankbook.entry.sheet import Sheet
    from blankbook.entry.stages import Stage

SCHEMA = "blankbook/enter/1"


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
    points: Annotated[
        str | None,
        typer.Option(
            help="What to look at, such as half_chest,body_length.", autocompletion=points_of
        ),
    ] = None,
    washed: Annotated[int | None, typer.Option(help="After so many washes.")] = None,
    worn: Annotated[int | None, typer.Option(help="After so many days of wear.")] = None,
    workmanship: Annotated[
        bool, typer.Option("--workmanship", help="Grade how the pieces are made.")
    ] = False,
    decorated: Annotated[str | None, typer.Option(help="Grade a print of this method.")] = None,
    wash: Annotated[str | None, typer.Option(help="How it was washed and dried: WASH,DRY.")] = None,
    decide: Annotated[str | None, typer.Option(help="Your decision on the blank.")] = None,
    reason: Annotated[str | None, typer.Option(help="Why it was decided so.")] = None,
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
    """Fill a round: readings, grades and the decision; each is written as soon as it is read."""
    root = ledger_root(ledger)
    found = find_round(root, round_)
    stage = _stage(washed, worn, workmanship, decorated)
    sheet = _sheet(found, stage, points, tape)
    given = {"date": date, "by": by, "lot": lot}
    listed = list(assignments(put or (), lines))
    decision = {"decision": decide, "reason": reason, "uses": uses, "conditions": conditions}
    if not listed and not decide and not wash:
        return _at_table(root, found, sheet, given, by_point=by_point, dry=dry)
    odd = put_all(sheet, listed)
    if strict and odd:
        raise BlankbookError("readings look odd, so nothing was written: " + "; ".join(odd))
    if listed:
        _head(sheet, given, deciding=bool(decide))
    settle(sheet, wash, decision, given)
    return _write(root, found, sheet, odd, len(listed), dry=dry, as_json=as_json)


def _head(sheet: "Sheet", given: dict[str, str | None], *, deciding: bool) -> None:
    """Write what stands above the pieces; with a decision, its day and hand are not the round's."""
    held = sheet.tree if deciding else {}
    own = {key: value for key, value in given.items() if key not in held}
    sheet.take(head(sheet.source, sheet.tree, answers(sheet.tree, own), sheet.tape))


def _stage(
    washed: int | None, worn: int | None, workmanship: bool, decorated: str | None
) -> "Stage":
    from blankbook.entry import stages

    asked = [washed is not None, worn is not None, workmanship, decorated is not None]
    if sum(asked) > 1:
        message = "--washed, --worn, --workmanship and --decorated are one stage each"
        raise WrongUse(message, "enter one after the other")
    if washed is not None:
        return stages.washed(_least(washed, 1, "--washed"))
    if worn is not None:
        return stages.worn(_least(worn, 0, "--worn"))
    if decorated is not None:
        from blankbook.words.decoration import METHODS

        if decorated not in METHODS:
            known = ", ".join(METHODS)
            raise WrongUse(f"--decorated names no method: {shown(decorated)}", f"there are {known}")
        return stages.decorated(decorated)
    return stages.WORKMANSHIP_SEEN if workmanship else stages.RECEIVED


def _least(number: int, least: int, flag: str) -> int:
    if number < least:
        raise WrongUse(f"{flag} must be {least} or more, found {number}", f"write {flag} {least}")
    return number


def _sheet(found: Found, stage: "Stage", points: str | None, tape: str | None) -> "Sheet":
    from blankbook.entry.sheet import Sheet
    from blankbook.entry.stages import RECEIVED
    from blankbook.results.evidence import points_to_measure
    from blankbook.text.writing.spans import Text
    from blankbook.words.points import POINTS

    tree = Text(found.source).tree
    read_with = tape_of(tree, found.shop, tape)
    known = [*(POINTS if stage.takes_lengths else ()), *stage.grades]
    if points is None:
        usual = points_to_measure(found.blank, found.shop) if stage.takes_lengths else known
        keys = _measured(tree, usual) if stage.block == "washed" else usual
    else:
        keys = parts(points)
        for key in keys:
            known_key(key, known, stage is RECEIVED)
    return Sheet(found.source, found.blank.style, found.shop, read_with, stage, keys)


def _measured(tree: dict[str, Any], usual: list[str]) -> list[str]:
    """Return the points that were read as received; what was not cannot have changed."""
    read = {point for one in tree["pieces"] for point in one.get("received") or ()}
    return [point for point in usual if point in read] or usual


def _write(
    root: Path,
    found: Found,
    sheet: "Sheet",
    odd: list[str],
    count: int,
    *,
    dry: bool,
    as_json: bool,
) -> int:
    from blankbook.entry.sheet import faults_of

    faults = faults_of(sheet.source)
    if faults:
        raise WrongUse(f"{faults[0].message}, so nothing was written", faults[0].help)
    changed = sheet.source != found.source
    writes = [Write(found.path, found.source, sheet.source)] if changed else []
    told = carry_out(root, writes, dry=dry)
    data = {"path": found.path, "readings": count, "odd": odd, "written": changed and not dry,
            "difference": told}  # fmt: skip
    said = [f"look again: {shown(one)}" for one in odd]
    readings = "1 reading" if count == 1 else f"{count} readings"
    said.append(told if dry else f"wrote {readings} to {found.path}" if changed else "no change")
    if not dry:
        said.append(f"next: blankbook vet {sheet.style.key}")
    tell(SCHEMA, data, "\n".join(said), as_json=as_json)
    return CLEAN if not odd else FINDINGS


def _at_table(
    root: Path,
    found: Found,
    sheet: "Sheet",
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
    from blankbook.commands.at_table import Table

    return Table(root, found, sheet, given, by_point=by_point).run()
