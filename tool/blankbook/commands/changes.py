"""The `changes` command: what differs between two versions of the ledger, by meaning."""

import enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blankbook.commands.shared.errors import CLEAN, FINDINGS, EnvironmentFault, WrongUse, shown
from blankbook.commands.shared.ledger_root import LedgerOption, ledger_root
from blankbook.commands.shared.terminal import columns, working

if TYPE_CHECKING:
    from blankbook.history.review.make_review import Review


class Shape(enum.StrEnum):
    """How a review is printed."""

    TEXT = "text"
    MARKDOWN = "markdown"
    JSON = "json"
    HTML = "html"


def changes(
    old: Annotated[
        str, typer.Argument(metavar="[OLD]", help="A commit, branch, tag or day (2026-05-01).")
    ] = "HEAD",
    new: Annotated[
        str, typer.Argument(metavar="[NEW]", help="The same; the folder as it is when left out.")
    ] = "",
    ledger: LedgerOption = None,
    as_json: Annotated[bool, typer.Option("--json", help="The same as --format json.")] = False,
    form: Annotated[
        Shape | None, typer.Option("--format", help="text, markdown, json, or html.")
    ] = None,
    short: Annotated[
        bool, typer.Option("--short", help="One screen: a line for each blank, the worst first.")
    ] = False,
    exit_code: Annotated[
        bool, typer.Option("--exit-code", help="Return 1 where anything differs in meaning.")
    ] = False,
    textconv: Annotated[
        Path | None,
        typer.Option(
            "--textconv", metavar="FILE", help="Print one file as sorted facts, for git diff."
        ),
    ] = None,
) -> int:
    """Say what a change of the ledger means: for advice and decisions, sizes, and the past."""
    if textconv is not None:
        return _print_flat(textconv)
    if as_json and form not in {None, Shape.JSON}:
        raise WrongUse(f"--json and --format {form} contradict each other", "leave one of them out")
    shape = Shape.JSON if as_json else form or Shape.TEXT
    if short and shape is Shape.JSON:
        raise WrongUse("--short and JSON contradict each other", "leave one of them out")
    text, differs = _said(ledger_root(ledger), old, new, shape, short)
    typer.echo(text)
    return FINDINGS if exit_code and differs else CLEAN


def _said(root: Path, old: str, new: str, shape: Shape, short: bool) -> tuple[str, bool]:
    """Return the review as it is printed, and whether anything differs in meaning."""
    from blankbook.history.review.make_review import make_review
    from blankbook.history.versions.git import GitError
    from blankbook.history.versions.revisions import UnknownRevisionError, find_revision
    from blankbook.history.versions.version_pair import read_pair

    if not old:
        raise WrongUse("the older version must have a name", "write HEAD, or a branch, tag or day")
    try:
        with working("comparing"):
            found = make_review(read_pair(root, find_revision(root, old), find_revision(root, new)))
    except UnknownRevisionError as error:
        remedy = "see git log for commits, git branch and git tag for names"
        raise WrongUse(shown(error), remedy) from None
    except GitError as error:
        if "not a git repository" in str(error):
            message = "the ledger is not in git, so nothing older is there to compare with"
            commit = "git init, git add . and git commit -m 'as it is'"
            remedy = f"in {shown(root)}: {commit}; from then on this says what a change means"
            raise EnvironmentFault(message, remedy) from None
        message = f"git cannot tell what changed: {shown(error)}"
        raise EnvironmentFault(message, "keep the ledger in git: git init, then commit") from None
    return _told(found, shape, short, columns()), found.differs


def _told(found: "Review", shape: Shape, short: bool, width: int) -> str:
    if shape is Shape.JSON:
        import json

        from blankbook.history.report.json_review import review_data

        return json.dumps(review_data(found), ensure_ascii=False, indent=2, allow_nan=False)
    from blankbook.history.report.html_report import html_report
    from blankbook.history.report.markdown_report import markdown_report
    from blankbook.history.report.review_document import review_sections
    from blankbook.history.report.short_review import short_sections
    from blankbook.history.report.text_report import text_report

    parts = short_sections(found) if short else review_sections(found)
    if shape is Shape.TEXT:
        return text_report(parts, width)
    return markdown_report(parts) if shape is Shape.MARKDOWN else html_report(parts)


def _print_flat(file: Path) -> int:
    """Print one file's facts; git stops where this fails, so it does not."""
    from blankbook.history.facts.diff_text import fact_lines

    try:
        body = file.read_bytes()
    except OSError as error:
        typer.echo(f"cannot read {shown(file)}: {(error.strerror or '').lower()}", err=True)
        return CLEAN
    typer.echo(fact_lines(body).decode("utf-8", "backslashreplace"), nl=False)
    return CLEAN
