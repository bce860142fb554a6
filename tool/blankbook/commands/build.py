"""The `build` command: the ledger as a site."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from blankbook.commands.shared.errors import CLEAN, FINDINGS, EnvironmentFault, WrongUse, shown
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.terminal import working

if TYPE_CHECKING:
    from blankbook.build.build_site import BuildResult
    from blankbook.text.findings import Finding

PLACE = "catalogue"
SCHEMA = "blankbook/build/1"


def build(
    ledger: LedgerOption = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Where the site goes; LEDGER/catalogue when left out."),
    ] = None,
    jobs: Annotated[
        int | None,
        typer.Option(min=1, metavar="N", help="Processes; as many as cores if left out."),
    ] = None,
    public: Annotated[
        bool, typer.Option("--public", help="Only what outsiders may see; needs --out.")
    ] = False,
    fresh: Annotated[bool, typer.Option("--fresh", help="Make everything anew.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Say what was done as data.")] = False,
) -> int:
    """Check the ledger, work out what it shows, and publish the site in one step."""
    from blankbook.build import build_site as site
    from blankbook.build.trust.build_lock import BusyError
    from blankbook.build.trust.output_place import RefusedPlaceError

    if public and out is None:
        raise WrongUse("--public needs a place of its own", "add --out DIR")
    root = ledger_root(ledger)
    target = (out or root / PLACE).expanduser()
    target = target if target.is_absolute() else Path.cwd() / target
    try:
        with working("building the site"):
            built = site.build_site(root, target, jobs=jobs, fresh=fresh, public=public)
    except site.LedgerFaultsError as stopped:
        return _stopped(stopped.findings, root, as_json)
    except BusyError as refused:
        raise EnvironmentFault(refused.message, refused.remedy) from None
    except RefusedPlaceError as refused:
        if out is None:  # nobody has named this place
            message = refused.message.replace("--out", "the site's place", 1)
            raise EnvironmentFault(message, "remove it, or name another: --out DIR") from None
        raise WrongUse(refused.message, refused.remedy) from None
    _tell(built.findings, root)
    for note in built.notes:
        typer.echo(f"note: {note}", err=True)
    typer.echo(_json(_data(built)) if as_json else _text(built))
    return CLEAN


def _stopped(findings: "tuple[Finding, ...]", root: Path, as_json: bool) -> int:
    """Say why nothing was built."""
    _tell(findings, root)
    typer.echo("nothing was built; the site is as it was", err=True)
    if as_json:
        typer.echo(_json({"schema": SCHEMA, "built": False, "findings": _counts(findings)}))
    return FINDINGS


def _tell(findings: "tuple[Finding, ...]", root: Path) -> None:
    """Say on the error stream what was found; notes are left to check."""
    from blankbook.commands.check import prefix_of
    from blankbook.commands.shared import findings_report

    listed = [one for one in findings if one.level != "note"]
    if listed:
        typer.echo(findings_report.as_text(listed, prefix_of(root)), err=True)


def _text(built: "BuildResult") -> str:
    index = built.out / "index.html"
    done = (
        f"{built.pages} pages ({built.rendered} made anew), "
        f"{built.charts} charts ({built.drawn} drawn anew), {built.seconds:.1f} s"
    )
    return f"{done}\nopen {shown(index)}\n  or {index.resolve().as_uri()}"


def _data(built: "BuildResult") -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "built": True,
        "out": str(built.out),
        "index": (built.out / "index.html").resolve().as_uri(),
        "pages": built.pages,
        "charts": built.charts,
        "rendered": built.rendered,
        "drawn": built.drawn,
        "seconds": round(built.seconds, 3),
        "findings": _counts(built.findings),
        "notes": list(built.notes),
    }


def _counts(findings: "tuple[Finding, ...]") -> dict[str, int]:
    """Return how many findings there are of each level; `check` lists them."""
    from blankbook.text.findings import FINDING_LEVELS

    return {level: sum(one.level == level for one in findings) for level in FINDING_LEVELS}


def _json(data: dict[str, Any]) -> str:
    import json

    return json.dumps(data, ensure_ascii=False, indent=2, sort_keys=True)
