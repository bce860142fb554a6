"""Finding the ledger: the folder that holds shop.yaml."""

import os
from pathlib import Path
from typing import Annotated

import typer

from blankbook.commands.shared.errors import WrongUse, shown

MARK = "shop.yaml"
"""The file that makes a folder a ledger."""

LedgerOption = Annotated[
    Path | None,
    typer.Option(
        "--ledger",
        metavar="DIR",
        help="The folder that holds shop.yaml; found upward from here when left out.",
    ),
]
"""The option that every command takes."""


def ledger_root(option: Path | None = None) -> Path:
    """Return the ledger's folder, absolute: the one that was named, or the nearest one upward.

    Upward from the working folder, each folder counts when it is a ledger or has one in it that
    is called ``ledger``.
    Raises: WrongUse where there is none.
    """
    return _named(option) if option is not None else _upward(Path.cwd())


def _named(option: Path) -> Path:
    folder = Path(os.path.abspath(option))  # noqa: PTH100 - a linked ledger keeps its own name
    if not folder.is_dir():
        message = f"--ledger must name a folder, found none at {shown(option)}"
        raise WrongUse(message, f"name the folder that holds {MARK}")
    if is_ledger(folder):
        return folder
    inner = option / "ledger"
    remedy = f"write --ledger {shown(inner)}" if is_ledger(inner) else _START
    raise WrongUse(f"--ledger must name a folder that holds {MARK}, found {shown(option)}", remedy)


def _upward(start: Path) -> Path:
    for folder in (start, *start.parents):
        for place in (folder, folder / "ledger"):
            if is_ledger(place):
                return place
    raise WrongUse(
        f"no ledger here: no folder from {shown(start)} upward holds {MARK}",
        "go to the ledger's folder, write --ledger DIR, or start a ledger: blankbook start DIR",
    )


def is_ledger(folder: Path) -> bool:
    """Tell whether *folder* is a ledger, even where its shop.yaml cannot be read."""
    return os.path.lexists(folder / MARK)


_START = f"name the folder with {MARK}, or start a ledger: blankbook start DIR"
