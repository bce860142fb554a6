"""What a person at a terminal sees: its own width, colour where it is wanted, and what goes on."""

import re

import pytest

from blankbook.commands.shared.terminal import painted
from support import LedgerMaker, Program
from terminals import Terminal

COLOUR = re.compile(r"\x1b\[[0-9;]*m")
FAILING = "blanks/tarn-thrush/h6/style.yaml"


def seen(root: object, *arguments: str, door: str = "vet", columns: int = 80, **more: str) -> str:
    """Return all that a command shows at a terminal."""
    terminal = Terminal(root, *arguments, door=door, columns=columns, **more)  # type: ignore[arg-type]
    terminal.until("\x00never shown")
    assert terminal.end() == 0
    return terminal.seen


def lines(told: str) -> list[str]:
    """Return the lines that are left to be read, without colour."""
    return [COLOUR.sub("", line.rpartition("\x1b[K")[2]).rstrip("\r") for line in told.split("\n")]


@pytest.mark.parametrize("columns", [60, 80, 110])
def test_lines_are_as_wide_as_the_terminal(columns: int, ledger_factory: LedgerMaker) -> None:
    """A wide terminal is filled, and a narrow one not overrun."""
    told = lines(seen(ledger_factory(), "tarn-thrush/h6", columns=columns))

    assert columns - 25 < max(map(len, told)) <= columns


def test_lines_of_words_stay_readable(ledger_factory: LedgerMaker) -> None:
    """However wide the terminal is, no line is longer than 120."""
    told = lines(seen(ledger_factory(), "tarn-thrush/h6", columns=400))

    assert max(map(len, told)) <= 120


def test_colour_repeats_what_shape_and_word_say(ledger_factory: LedgerMaker) -> None:
    """The words are the same with colour and without it."""
    root, asked = ledger_factory(), ("tarn-thrush/h6", "--all")
    coloured, plain = seen(root, *asked), seen(root, *asked, NO_COLOR="1")

    assert COLOUR.search(coloured)
    assert not COLOUR.search(plain)
    assert lines(coloured) == lines(plain)


def test_signs_are_painted() -> None:
    """What holds has one colour and what fails another; what is open has none."""
    assert painted("● meets  ◐ hold") == "\x1b[36m● meets\x1b[0m  ◐ hold"
    assert painted("■ do not order x") == "\x1b[1;31m■ do not order\x1b[0m x"
    assert painted("a ■ b") == "a ■ b"


@pytest.mark.seldom(3)
@pytest.mark.parametrize("command_line", [("vet",), ("vet", "tarn-thrush/h6"), ("build",)])
def test_a_pipe_gets_words_alone(
    command_line: tuple[str, ...], ledger_factory: LedgerMaker, program: Program
) -> None:
    """No colour, no progress, and 80 columns, whatever the settings say."""
    ended = program(*command_line, "--ledger", ledger_factory())

    assert "\x1b" not in ended.out + ended.err
    assert "…" not in ended.err


def test_long_work_says_what_it_does(ledger_factory: LedgerMaker) -> None:
    """On a terminal a line says so, and is gone when the work is done."""
    told = seen(ledger_factory(), door="build")

    assert told.startswith("building the site …\r\x1b[K")
    assert told.count("building the site") == 1


def test_dumb_terminal_gets_no_control_characters(ledger_factory: LedgerMaker) -> None:
    """One that cannot move its cursor is told no progress, and no colour."""
    assert "\x1b" not in seen(ledger_factory(), door="build", TERM="dumb")


def test_handbook_is_laid_out(ledger_factory: LedgerMaker) -> None:
    """At a terminal a page of it has no marks of Markdown, and its tables are tables."""
    import os
    import sys

    pty = pytest.importorskip("pty", reason="only Unix has it")
    child, handle = pty.fork()
    if not child:  # pragma: no cover - the other process
        os.environ.update(TERM="xterm", COLUMNS="80", NO_COLOR="1")
        os.execv(sys.executable, [sys.executable, "-m", "blankbook", "help", "table"])
    told = b""
    try:
        while part := os.read(handle, 65536):
            told += part
    except OSError:
        pass
    os.close(handle)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    text = told.decode()
    assert "At the table" in text
    assert "```" not in text
    assert "|---|" not in text
    assert "\\u001b" not in text
