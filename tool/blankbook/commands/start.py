"""The `start` command: a new shop's ledger in an empty folder."""

import os
import re
import shlex
from pathlib import Path
from typing import Annotated

import typer

from blankbook import __version__
from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.ledger_root import MARK, is_ledger
from blankbook.commands.shared.write_changes import (
    DryRunOption,
    JsonOption,
    Write,
    ask,
    carry_out,
    tell,
)

SCHEMA = "blankbook/start/1"
_CURRENCY = re.compile(r"[A-Z]{3}")


def start(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="A folder, empty or not there yet.")
    ],
    name: Annotated[str | None, typer.Option(help="What the shop is called.")] = None,
    units: Annotated[str, typer.Option(help="in or cm: what your tape is marked in.")] = "in",
    currency: Annotated[str, typer.Option(help="ISO 4217 code of your prices.")] = "USD",
    git: Annotated[
        bool, typer.Option("--git/--no-git", help="Make it a git repository too, or not.")
    ] = True,
    dry: DryRunOption = False,
    as_json: JsonOption = False,
) -> int:
    """Begin a ledger: its rules with comments, its folders, and what an editor and git need."""
    from blankbook.entry.new.new_shop import new_shop_files

    root = Path(os.path.abspath(folder))  # noqa: PTH100 - a link keeps its own name
    _must_be_free(root)
    if units not in {"in", "cm"}:
        raise WrongUse(f"--units must be in or cm, found {shown(units)}", "write --units in")
    if not _CURRENCY.fullmatch(currency):
        message = f"--currency must be three capital letters, found {shown(currency)}"
        raise WrongUse(message, "write --currency USD")
    called = name or ask("the shop's name", "--name NAME", _guess(root))
    if not called.strip() or len(called) > 80 or not called.isprintable():
        raise WrongUse("--name must be 1 to 80 characters on one line", "write --name NAME")
    texts = new_shop_files(called.strip(), units, currency, __version__)
    there = _there(root, texts)
    writes = [Write(path, None, text.encode()) for path, text in texts.items() if path not in there]
    shown_whole = [one for one in writes if not one.path.startswith("schemas/")]
    told = carry_out(root, shown_whole if dry else writes, dry=dry)
    made = _repository(root) if git and not dry else ""
    data = {"ledger": str(root), "written": [] if dry else [one.path for one in writes],
            "would_write": [one.path for one in writes] if dry else [], "git": made == "made",
            "difference": told}  # fmt: skip
    tell(SCHEMA, data, told if dry else _next(folder, len(writes), made), as_json=as_json)
    return CLEAN


def _must_be_free(root: Path) -> None:
    if not os.path.lexists(root):
        return
    if not root.is_dir():
        raise WrongUse(f"{shown(root)} is a file", "name a folder that is empty or not there yet")
    if is_ledger(root):
        raise WrongUse(f"{shown(root)} holds a ledger already: {MARK}", "go on with it as it is")


def _there(root: Path, texts: dict[str, str]) -> set[str]:
    """Return what a run that was cut off has left behind, to the byte.

    Raises: WrongUse where anything else is in the folder.
    """
    from blankbook.text.writing.atomic_write import PART_PREFIX

    there = set()
    for place, folders, names in os.walk(root):
        if Path(place) == root and ".git" in folders:
            folders.remove(".git")
        for name in names:
            path = os.path.relpath(Path(place) / name, root).replace(os.sep, "/")
            if name.startswith(PART_PREFIX):
                continue
            if path not in texts or (root / path).read_bytes() != texts[path].encode():
                raise _not_empty(root)
            there.add(path)
        if not all(_leads_to(texts, root, Path(place) / one) for one in folders):
            raise _not_empty(root)
    return there


def _leads_to(texts: dict[str, str], root: Path, folder: Path) -> bool:
    """Say whether a folder is one that a new ledger has."""
    path = os.path.relpath(folder, root).replace(os.sep, "/")
    return not folder.is_symlink() and any(one.startswith(f"{path}/") for one in texts)


def _not_empty(root: Path) -> WrongUse:
    return WrongUse(
        f"{shown(root)} is not empty, and nothing in it is touched",
        "name a folder that is empty or not there yet",
    )


def _guess(root: Path) -> str:
    return root.name.replace("-", " ").replace("_", " ").strip().capitalize() or "Our shop"


def _repository(root: Path) -> str:
    """Make the folder a repository; say why not where that cannot be."""
    from blankbook.history.versions.git import GitError, make_repository

    try:
        return "made" if make_repository(root) else "it is inside a git repository already"
    except GitError as error:
        return f"no repository was made: {shown(error)}"


def _next(folder: Path, count: int, made: str) -> str:
    lines = [f"{count} files in {shown(folder)}"]
    if made:
        lines.append("a git repository; nothing is committed yet" if made == "made" else made)
    lines.append(f"next: {change_folder(str(folder))}blankbook add supplier NAME")
    return "\n".join(lines)


def change_folder(folder: str, windows: bool = os.name == "nt") -> str:
    """Return the beginning of a line for a shell that goes to a folder, whatever it is called."""
    if windows:  # PowerShell, whose older versions know no &&
        return f"cd '{shown(folder).replace(chr(39), chr(39) * 2)}'; "
    dashed = "-- " if folder.startswith("-") else ""
    return f"cd {dashed}{shlex.quote(shown(folder))} && "
