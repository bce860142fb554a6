"""The `check` command: every fault of the whole ledger."""

import enum
import os
from pathlib import Path
from typing import Annotated

import typer

from blankbook.commands.shared.errors import CLEAN, FINDINGS, WrongUse
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root


class Format(enum.StrEnum):
    """How findings are printed."""

    TEXT = "text"
    JSON = "json"
    GITHUB = "github"


def check(
    ledger: LedgerOption = None,
    as_json: Annotated[bool, typer.Option("--json", help="The same as --format json.")] = False,
    form: Annotated[
        Format | None, typer.Option("--format", help="text, json, or annotations for a code host.")
    ] = None,
    every: Annotated[bool, typer.Option("--all", help="List all, however many there are.")] = False,
) -> int:
    """List every fault of the ledger: where it is, what is wrong, what to write instead."""
    import datetime

    from blankbook.commands.shared import findings_report
    from blankbook.commands.unreasoned import decided_silently, unreasoned
    from blankbook.records.load_ledger import list_files, load_ledger
    from blankbook.results.learning.ledger_learning import blank_contribution

    if as_json and form not in {None, Format.JSON}:
        raise WrongUse(f"--json and --format {form} contradict each other", "leave one of them out")
    root = ledger_root(ledger)
    today = datetime.datetime.now().astimezone().date()
    loaded = load_ledger(root, today=today, keep=decided_silently, gather=blank_contribution)
    files = len(list_files(root))
    findings = loaded.findings
    if loaded.ledger:
        findings = tuple(sorted([*findings, *unreasoned(root, loaded)]))
    if as_json or form == Format.JSON:
        typer.echo(findings_report.as_json(findings, files))
    elif form == Format.GITHUB:
        typer.echo(findings_report.as_annotations(findings, prefix_of(root)))
    else:
        if findings:
            typer.echo(findings_report.as_text(findings, prefix_of(root), every))
        typer.echo(findings_report.summary(findings, files), err=True)
    return CLEAN if all(one.level == "note" for one in findings) else FINDINGS


def prefix_of(root: Path) -> str:
    """Return what to put before a path of the ledger so that it can be opened from here."""
    here = Path.cwd()
    if root == here:
        return ""
    near = os.path.relpath(root, here)
    shorter = near if not near.startswith("../../..") else str(root)
    return shorter.replace(os.sep, "/") + "/"
