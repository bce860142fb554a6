"""The `vet` command: what holds today for one blank, or two lines for each."""

import json
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.shared.completion import blanks
from blankbook.commands.shared.errors import CLEAN, FINDINGS, BlankbookError, shown
from blankbook.commands.shared.find_blank import CHECK, missing
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.terminal import working

if TYPE_CHECKING:
    from blankbook.records.load_ledger import LoadedLedger
    from blankbook.results.result_types import Judged


def vet(
    blank: Annotated[
        str | None,
        typer.Argument(
            metavar="[SUPPLIER/STYLE]",
            help="The blank; every one when left out.",
            autocompletion=blanks,
        ),
    ] = None,
    ledger: LedgerOption = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the results as data.")] = False,
    every: Annotated[
        bool, typer.Option("--all", help="Print everything, not only what fits one screen.")
    ] = False,
) -> int:
    """Say whether a blank may be ordered today, in which sizes, why, and what to do next."""
    from blankbook.commands.shared.judge_ledger import judge_ledger

    show = _data if as_json else _sheet(blank, every)
    only = None if blank is None else {blank}
    root = ledger_root(ledger)
    with working("judging" if blank is None else f"judging {shown(blank)}"):
        loaded, shown_of = judge_ledger(root, show, only)
    if loaded.ledger is None:
        raise BlankbookError("shop.yaml has faults, so nothing can be judged", CHECK)
    if blank is not None and not shown_of:
        raise missing(loaded, blank)
    typer.echo(_json(shown_of, blank) if as_json else _text(loaded, shown_of, blank))
    return _tell_faults(loaded)


def _data(judged: "Judged") -> Any:
    from blankbook.results.json_results import judged_data

    return judged_data(judged)


def _sheet(blank: str | None, every: bool) -> "Callable[[Judged], Any]":
    """Return what is made of each blank as text: the whole sheet of one, a line of many."""
    from blankbook.commands.vet_report import blank_sheet, line_of

    return line_of if blank is None else lambda judged: blank_sheet(judged, every)


def _json(data: Sequence[Any], blank: str | None) -> str:
    shape = data[0] if blank is not None else data
    return json.dumps(shape, ensure_ascii=False, indent=2, sort_keys=True, allow_nan=False)


def _text(loaded: "LoadedLedger", texts: Sequence[Any], blank: str | None) -> str:
    from blankbook.commands.vet_report import line_for_each

    if not texts and loaded.styles:
        return "no blank is free of faults"
    return str(texts[0]) if blank is not None else line_for_each(texts)


def _tell_faults(loaded: "LoadedLedger") -> int:
    """Say on the error stream that some files were left out, and return the exit code."""
    bad = [finding for finding in loaded.findings if finding.level == "error"]
    if not bad:
        return CLEAN
    files = len({finding.path for finding in bad})
    faults = "1 fault" if len(bad) == 1 else f"{len(bad)} faults"
    where = "1 file" if files == 1 else f"{files} files"
    if sys.stdout is not None:
        sys.stdout.flush()
    typer.echo(f"left out: {faults} in {where}; {CHECK}", err=True)
    return FINDINGS
