"""The handbook's pages of commands, made from the program's own help."""

from collections import Counter
from collections.abc import Iterator

import typer

from blankbook.commands.main import app
from blankbook.commands.shared.errors import EXIT_CODES
from blankbook.words.handbook_topics import TOPICS

ROOT_COMMAND = typer.main.get_command(app)
PAGES: dict[str, tuple[str, ...]] = {
    "commands": (
        "check",
        "vet",
        "build",
        "measuring",
        "changes",
        "help",
    ),
    "commands-start": (
        "start",
        "add supplier",
        "add style",
        "add chart",
        "plan",
    ),
    "commands-table": (
        "enter",
        "import",
    ),
    "commands-orders": (
        "order",
        "outcome",
        "receive",
    ),
}
"""The commands of each page, by its topic."""
INTRODUCTIONS = {
    "commands": (
        "Each command finds the ledger upward from where you stand. `-h` or `--help` explains it, "
        "and `--version` says which blankbook you have. Commands that write ask only "
        "where somebody sits at a terminal. Elsewhere every answer comes as a flag or on standard "
        "input, and a missing one is named. `--install-completion` lets your shell complete "
        "blanks, sizes, colours and points; `--show-completion` prints what it would set up."
    ),
    "commands-start": "Options that many commands take stand under [Commands](commands.md).",
    "commands-table": "Options that many commands take stand under [Commands](commands.md).",
    "commands-orders": "Options that many commands take stand under [Commands](commands.md).",
}


def every_command(group: object, before: str = "") -> dict[str, typer.core.TyperCommand]:
    """Return the commands by the words they are called with, those of a group among them."""
    found: dict[str, typer.core.TyperCommand] = {}
    for name, command in getattr(group, "commands").items():  # noqa: B009
        inner = hasattr(command, "commands")
        found |= (
            every_command(command, f"{before}{name} ") if inner else {f"{before}{name}": command}
        )
    return found


COMMANDS = every_command(ROOT_COMMAND)


def command_page(key: str) -> str:
    """Return the Markdown of a page of commands."""
    parts = [f"# {TOPICS[key].title}", INTRODUCTIONS[key]]
    for name in PAGES[key]:
        parts += _command(name)
    if key == "commands":
        parts += ["## Options that many commands take", "These mean the same everywhere:"]
        parts.append(_table("option", ((f"`{flags}`", says) for flags, says in sorted(_SHARED))))
        parts += ["## How a command ends", "The exit codes:"]
        parts.append(_table("code", ((f"`{code}`", says) for code, says in EXIT_CODES.items())))
    return "\n\n".join(parts) + "\n"


def _command(name: str) -> Iterator[str]:
    command = COMMANDS[name]
    arguments, options = [], []
    for parameter in command.params:
        says = str(getattr(parameter, "help", ""))
        if parameter.param_type_name == "argument":
            arguments.append(str(parameter.metavar or parameter.name))
        elif (flags := _flags(parameter), says) not in _SHARED:
            options.append((f"`{flags}`", says))
    yield f"## blankbook {' '.join([name, *arguments])}"
    yield " ".join((command.help or "").split())
    if options:
        yield f"The options of `{name}`:"
        yield _table("option", options)


def _flags(parameter: object) -> str:
    opts, others = getattr(parameter, "opts"), getattr(parameter, "secondary_opts")  # noqa: B009
    metavar = getattr(parameter, "metavar", None)
    named = " / ".join([*opts, *others])
    return f"{named} {metavar}" if metavar and "|" not in metavar else named


def _table(head: str, rows: "Iterator[tuple[str, str]] | list[tuple[str, str]]") -> str:
    lines = [f"| {head} | means |", "|---|---|"]
    return "\n".join([*lines, *(f"| {what} | {' '.join(says.split())} |" for what, says in rows)])


_COUNTS = Counter(
    (_flags(parameter), str(getattr(parameter, "help", "")))
    for command in COMMANDS.values()
    for parameter in command.params
    if parameter.param_type_name == "option"
)
_SHARED = {option for option, count in _COUNTS.items() if count > 2}
"""The options that several commands have, with the same words."""
