"""The door: the command line, and the one place where every way of ending gets its exit code.

Nothing heavy is imported here; each command imports what it needs when it runs.
"""

import contextlib
import io
import logging
import os
import platform
import re
import signal
import sys
import tempfile
import traceback
import warnings
from collections.abc import Sequence
from difflib import get_close_matches
from typing import Annotated, Any, NoReturn

import typer

from blankbook import __version__
from blankbook.commands import build, changes, check, help_topics, measuring, plan, start, vet
from blankbook.commands.adding import add
from blankbook.commands.entering import enter
from blankbook.commands.importing import import_
from blankbook.commands.ordering import order, outcome
from blankbook.commands.receiving import receive
from blankbook.commands.shared.completion import VARIABLE
from blankbook.commands.shared.epilog import epilog_of
from blankbook.commands.shared.errors import (
    CLEAN,
    EXIT_CODES,
    INTERRUPTED,
    OUR_BUG,
    WRONG_USE,
    BlankbookError,
    WrongUse,
    from_system,
    shown,
)
from blankbook.commands.shared.visible_streams import spelled_out, visible_streams

_ABOUT = """Keep a plain-text ledger of sampled blank garments, and publish what it shows.

\b
blankbook start DIR             begin a ledger in an empty folder
blankbook add                   add a supplier, or a style with its size chart
blankbook plan SUPPLIER/STYLE   which samples to buy, and what they can show
blankbook enter SUPPLIER/STYLE  readings, at the table or from a list
blankbook import FILE SUPPLIER/STYLE
blankbook check                 list every fault of the ledger
blankbook vet                   what holds today, for every blank
blankbook vet SUPPLIER/STYLE    one blank, and what to do next
blankbook build                 make the site
blankbook order SUPPLIER/STYLE  what to buy, what it costs and risks
blankbook outcome SUPPLIER/STYLE
blankbook receive SUPPLIER/STYLE  a delivery: what to look at
blankbook measuring             how well the shop measures
blankbook changes [OLD] [NEW]   what a change of the ledger means
blankbook help [TOPIC]          the handbook
"""
_CODES = "\n\n".join(f"  {code:>3}  {meaning}" for code, meaning in EXIT_CODES.items())

app = typer.Typer(
    name="blankbook",
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog=f"\b\nExit codes:\n{_CODES}".replace("\n\n", "\n"),
)
app.command(epilog=epilog_of("start"))(start.start)
app.add_typer(add.add, epilog=epilog_of("add"))
app.command(epilog=epilog_of("plan"))(plan.plan)
app.command(epilog=epilog_of("enter"))(enter.enter)
app.command("import", epilog=epilog_of("import"))(import_.import_)
app.command(epilog=epilog_of("check"))(check.check)
app.command(epilog=epilog_of("vet"))(vet.vet)
app.command(epilog=epilog_of("order"))(order.order)
app.command(epilog=epilog_of("outcome"))(outcome.outcome)
app.command(epilog=epilog_of("receive"))(receive.receive)
app.command(epilog=epilog_of("build"))(build.build)
app.command(epilog=epilog_of("measuring"))(measuring.measuring)
app.command(epilog=epilog_of("changes"))(changes.changes)
app.command("help", epilog=epilog_of("help"))(help_topics.help_)


def _show_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"blankbook {__version__} (python {platform.python_version()})")
        raise typer.Exit


@app.callback(help=_ABOUT)
def _door(
    version: Annotated[
        bool,
        typer.Option(
            "--version", is_eager=True, callback=_show_version, help="Show the version and leave."
        ),
    ] = False,
) -> None:
    """Take what stands before a command."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code; nothing gets past it but that code."""
    _prepare_process()
    code = run(sys.argv[1:] if arguments is None else list(arguments))
    if code == INTERRUPTED:
        # Python ends by a signal of its own, and not with this code, where an interrupt left a
        # text that a library had it execute, although it was caught since. Another one undoes it.
        exec("")  # noqa: S102
    return code


def run(arguments: list[str]) -> int:
    """Run one command line and return its exit code, leaving the process as it is."""
    try:
        with visible_streams():
            code = _invoke(arguments)
        _flush()
    except KeyboardInterrupt:
        return _end(INTERRUPTED, "interrupted")
    except BrokenPipeError:
        _silence(sys.stdout)  # the reader has seen enough
        return CLEAN
    except OSError as error:
        _silence(sys.stdout)
        return _tell(from_system(error))
    except BlankbookError as error:
        return _tell(error)
    except Exception as error:  # the last net
        # An interrupt that fell into compiled code may come out as something else.
        return _end(INTERRUPTED, "interrupted") if _interrupts else _tell_bug(error, arguments)
    return code


def _invoke(arguments: list[str]) -> int:
    """Run the command and return its code, with wrong use as our own error.

    The command line library's own ``main`` is not used: it turns a closed pipe into exit code 1.
    """
    command = typer.main.get_command(app)
    if os.environ.get(VARIABLE):
        return _complete(command)
    try:
        with command.make_context("blankbook", list(arguments)) as context:
            code = command.invoke(context)
    except typer.Exit as end:
        return end.exit_code
    except typer.Abort:
        raise KeyboardInterrupt from None
    except typer.TyperException as error:
        if not arguments or type(error).__name__ == "NoArgsIsHelpError":
            return _end(WRONG_USE, error.format_message())
        raise _wrong_use(error) from None
    return code if isinstance(code, int) else CLEAN


def _complete(command: Any) -> int:
    """Answer a shell that asks how a line may go on; whatever goes wrong, it gets no answer."""
    try:
        command.main(args=[], prog_name="blankbook", complete_var=VARIABLE)
    except SystemExit:
        pass
    except Exception:  # a shell's prompt is no place for our faults
        return OUR_BUG
    return CLEAN


def _wrong_use(error: typer.TyperException) -> WrongUse:
    """Put what the command line library says into the house's words."""
    said, _, meant = error.message.partition(". Did you mean ")
    near = getattr(error, "possibilities", None)
    if near:
        meant = " or ".join(near)
    elif not meant:
        said = error.format_message()
    context = getattr(error, "ctx", None)
    path = context.command_path if context else "blankbook"
    if not meant and (choice := _NOT_ONE_OF.search(said)):
        meant = next(iter(get_close_matches(choice[1], re.findall("'([^']*)'", choice[2]))), "")
    remedy = f"did you mean {meant.rstrip('?')}?" if meant else f"see {path} --help"
    said = said.removesuffix(".").replace(": Value error, ", ": ").replace(": Input ", ": it ")
    return WrongUse(shown(said[:1].lower() + said[1:]), shown(remedy))


_NOT_ONE_OF = re.compile(r"'([^']*)' is not one of (.*)")


def _tell(error: BlankbookError) -> int:
    remedy = f"\n    help: {error.remedy}" if error.remedy else ""
    return _end(error.code, f"error: {error.message}{remedy}")


def _tell_bug(error: Exception, arguments: list[str]) -> int:
    """Write what a developer needs to a file, and tell the person what to do with it."""
    try:
        place = _write_log(error, arguments)
    except OSError as refused:
        place = f"(no log could be written: {refused.strerror})"
    return _end(
        OUR_BUG,
        "error: blankbook has a fault and stopped; your ledger is as it was\n"
        f"    help: send this file to whoever looks after blankbook: {place}",
    )


def _write_log(error: Exception, arguments: list[str]) -> str:
    handle, place = tempfile.mkstemp(prefix="blankbook-", suffix=".log")
    with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as log:
        log.write(f"blankbook {__version__}\n")
        log.write(f"python {platform.python_version()} on {platform.platform()}\n")
        log.write(f"command: {arguments!r}\n\n")
        log.writelines(traceback.format_exception(error))
    return place


def _end(code: int, words: str) -> int:
    """Say *words* on the error stream, whatever state that is in, and return *code*."""
    try:
        print(spelled_out(words), file=sys.stderr, flush=True)  # noqa: T201 - the door speaks here
    except OSError:
        _silence(sys.stderr)
    return code


def _flush() -> None:
    """Write out what is pending while a failure can still be told."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()


def _silence(stream: object) -> None:
    """Point a stream that cannot be written to at nothing, so that the last flush is quiet."""
    if not isinstance(stream, io.TextIOWrapper):
        return
    nothing = os.open(os.devnull, os.O_WRONLY)
    with contextlib.suppress(io.UnsupportedOperation):  # a stream in memory has no number
        os.dup2(nothing, stream.fileno())
    os.close(nothing)


def _prepare_process() -> None:
    """Set what belongs to the whole process: streams, signals, warnings and threads."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # What leaves through a pipe is UTF-8 in any locale; a terminal keeps its own.
            encoding = None if stream.isatty() else "utf-8"
            stream.reconfigure(encoding=encoding, errors="backslashreplace")
    for number in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(number) is not signal.SIG_IGN:  # as for what a shell puts aside
            signal.signal(number, _interrupt)
    if "PYTHONWARNINGS" in os.environ:
        # Somebody else's setting; a library's warning is no reason to stop a shop's work.
        warnings.simplefilter("ignore")
    # It says at length that it cannot keep its fonts where a home cannot be written to.
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    # numpy's solver starts a thread for each core and has nothing for them to do here: a tenth of
    # a command's work, and threads where copies of this process are made.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


_interrupts: list[int] = []
"""Signals to stop that this process was sent."""


def _interrupt(number: int, _frame: object) -> NoReturn:
    _interrupts.append(number)
    raise KeyboardInterrupt
