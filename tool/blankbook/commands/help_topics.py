"""The `help` command: the handbook's topics, or one of them."""

import sys
from typing import Annotated

import typer

from blankbook.commands.shared.errors import CLEAN, WrongUse, shown
from blankbook.commands.shared.terminal import columns, is_terminal, uncovered
from blankbook.words.handbook_topics import COMMAND_TOPICS, TOPICS


def help_(
    topic: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[TOPIC]",
            help="A topic of the handbook, or a command.",
            autocompletion=lambda: list(TOPICS),
        ),
    ] = None,
) -> int:
    """Print a page of the handbook, or list its topics."""
    if not topic:
        wide = max(map(len, TOPICS))
        lines = [f"{key:<{wide}}  {topic.title}" for key, topic in TOPICS.items()]
        typer.echo("\n".join([*lines, "", "next: blankbook help TOPIC"]))
        return CLEAN
    asked = " ".join(topic)
    key = COMMAND_TOPICS.get(asked, asked)
    if key not in TOPICS:
        raise WrongUse(f"the handbook has no topic {shown(asked)}", _near(asked))
    _show(key)
    return CLEAN


def _near(asked: str) -> str:
    import difflib

    near = difflib.get_close_matches(asked, [*TOPICS, *COMMAND_TOPICS], n=1)
    return f"did you mean {near[0]}?" if near else "blankbook help lists the topics"


def _show(key: str) -> None:
    """Print a topic: laid out for a person at a terminal, elsewhere as it is written."""
    from blankbook.text.handbook_text import terminal_text, topic_text

    text = terminal_text(topic_text(key))
    if not is_terminal(sys.stdout):
        typer.echo(text.removesuffix("\n"))
        return
    from rich.console import Console
    from rich.markdown import Markdown

    page = Markdown(text, hyperlinks=False, code_theme="ansi_light")
    Console(file=uncovered(sys.stdout), width=columns()).print(page)
