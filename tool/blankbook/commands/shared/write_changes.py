"""What every command that writes has in common: what would change, writing it, and saying so."""

import contextlib
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import Annotated, Any, TypeVar, cast

import typer

from blankbook.commands.shared.errors import BlankbookError, EnvironmentFault, WrongUse, shown

Command = TypeVar("Command", bound=Callable[..., int])
DryRunOption = Annotated[
    bool, typer.Option("--dry-run", help="Show what would be written, and write nothing.")
]
JsonOption = Annotated[bool, typer.Option("--json", help="Say what was done as data.")]


TIMES = 5
"""How often a change is made anew in a file that others change, before it is given up."""


class ChangedMeanwhileFault(EnvironmentFault):
    """A file was changed after it was read; it was left as it is."""


@dataclass(frozen=True, slots=True)
class Write:
    """One file as it will be."""

    path: str
    """Relative to the ledger."""
    old: bytes | None
    """What it holds now; None where it must not be there yet."""
    new: bytes


def can_ask() -> bool:
    """Say whether there is a person at both ends."""
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))


def read_standard_input(most: int) -> bytes:
    """Return what comes in, at most that many bytes. Raises: WrongUse where it is closed."""
    if sys.stdin is None or sys.stdin.closed:
        raise WrongUse("standard input is closed", "name a file, or give it with < FILE")
    return sys.stdin.buffer.read(most)


def ask(words: str, flag: str, default: str | None = None) -> str:
    """Return what a person answers; where nobody can be asked, the default.

    Raises: WrongUse that names the *flag*, where there is no default.
    """
    if can_ask():
        return str(typer.prompt(words, default=default, err=True)).strip()
    if default is None:
        raise WrongUse(f"{words} is not given, and nobody can be asked here", f"write {flag}")
    return default


def carry_out(root: Path, writes: Sequence[Write], *, dry: bool) -> str:
    """Write the files in order, or only return the difference, where it is a *dry* run.

    Where one cannot be written, the new ones before it are taken back.
    Raises: WrongUse where a new file is there already; EnvironmentFault where one has changed, or a
    link leaves the ledger; OSError.
    """
    from blankbook.text.writing.atomic_write import remove_new_file
    from blankbook.text.writing.file_diff import file_patch

    if dry:
        return "".join(file_patch(one.path, one.old, one.new) for one in writes)
    done: list[tuple[Write, list[Path]]] = []
    try:
        for one in writes:
            made = _carry_out(root, one)
            done.append((one, made))
    except BaseException:
        for one, made in reversed(done):
            if one.old is None:
                remove_new_file(root / one.path, one.new, made, root)
        raise
    return ""


def _carry_out(root: Path, one: Write) -> list[Path]:
    """Write one file, and return the folders that were made for it."""
    from blankbook.text.writing.atomic_write import (
        AlreadyThereError,
        FileChangedError,
        OutsideLedgerError,
        replace_file,
        write_new_file,
    )

    try:
        if one.old is None:
            return write_new_file(root / one.path, one.new, root)
        replace_file(root / one.path, one.old, one.new, root)
    except AlreadyThereError:
        raise WrongUse(
            f"{shown(one.path)} is there already", "choose another name; nothing was replaced"
        ) from None
    except FileChangedError:
        raise ChangedMeanwhileFault(
            f"{shown(one.path)} was changed meanwhile, and was left as it is",
            "look at what was changed, then run it again",
        ) from None
    except OutsideLedgerError:
        raise leads_out(one.path) from None
    return []


def leads_out(path: str) -> EnvironmentFault:
    """Return why nothing is written where a link leads elsewhere."""
    message = f"a link leaves the ledger on the way to {shown(path)}, so nothing was written"
    return EnvironmentFault(message, "put the folder or file itself in its place")


def tell(schema: str, data: dict[str, Any], text: str, *, as_json: bool) -> None:
    """Say what was done: as one document of data, or in words."""
    if as_json:
        whole = {"schema": schema, **data}
        text = json.dumps(whole, ensure_ascii=False, indent=2, sort_keys=True, allow_nan=False)
    if text:
        typer.echo(text.removesuffix("\n"))


@contextlib.contextmanager
def said_as_data(schema: str, *, as_json: bool) -> Iterator[None]:
    """Say as data, too, what stops a command that says its outcome as data.

    The message still goes to the error stream, and the exit code is that of the error.
    """
    try:
        yield
    except BlankbookError as error:
        if as_json:
            said = {"error": error.message, "help": error.remedy, "written": False}
            tell(schema, {**said, **error.data}, "", as_json=True)
        raise


def says_data(schema: str) -> Callable[[Command], Command]:
    """Return a command that, asked for data, gives it also where it is stopped."""

    def around(command: Command) -> Command:
        @wraps(command)
        def wrapped(*args: Any, **given: Any) -> int:
            with said_as_data(schema, as_json=bool(given.get("as_json"))):
                return command(*args, **given)

        return cast("Command", wrapped)

    return around


def edited(error: Exception, path: str) -> BlankbookError:
    """Return why a file cannot be edited, in words for a person."""
    return BlankbookError(
        f"{shown(path)} cannot be changed safely: {shown(error)}", "change it in an editor"
    )
