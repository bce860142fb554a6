"""Whatever is typed behind any option, and whichever stream is closed: a plain end, plain words."""

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import typer

from blankbook.commands.main import app
from blankbook.commands.shared.visible_streams import spelled_out
from support import Ended, LedgerMaker, Program

HIDDEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")
MARKS = "\x1b]8;;http://x\x07a\x1b[2J\u202eb\x9b1mc\r\n\x08"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
BLANK = "tarn-thrush/h6"
NEEDED = {
    "start": ("{root}/new",),
    "add supplier": ("Hobnettle",),
    "add style": ("tarn-thrush/h9",),
    "add chart": (BLANK,),
    "plan": (BLANK,),
    "enter": (ROUND,),
    "import": ("{root}/table.csv", BLANK),
    "order": (BLANK,),
    "outcome": (BLANK,),
    "receive": (BLANK,),
}
"""By command: the arguments that it cannot do without."""
USUAL = {"changes": ("HEAD",), "vet": (BLANK,), "help": ("table",)}
"""By command: an argument that may be left out."""
TABLE = "Piece,Size,Colour,Hem width\nM-black-1,M,black,20\n"


def commands() -> Iterator[tuple[str, Any]]:
    """Yield every command by its name, as the command line library knows it."""
    known = list(typer.main.get_command(app).commands.items())  # type: ignore[attr-defined]
    for name, command in known:
        inner = getattr(command, "commands", None)
        yield from (((f"{name} {key}", one) for key, one in inner.items()) if inner else [])
        if not inner:
            yield name, command


def lines_with_marks() -> Iterator[tuple[str, ...]]:
    """Yield a command line for each option and each argument, with marks in its value."""
    for name, command in commands():
        needed = (*NEEDED.get(name, ()), *USUAL.get(name, ()))
        for place in range(len(needed)):
            yield (*name.split(), *needed[:place], MARKS, *needed[place + 1 :])
        for option in command.params:
            flag = max(option.opts, key=len)
            if not flag.startswith("-") or flag in {"--help", "--install-completion"}:
                continue
            value = () if option.is_flag else (MARKS,)
            yield (*name.split(), *needed, flag, *value)
            if option.multiple:
                yield (*name.split(), *needed, flag, f"a.half_chest={MARKS}")
                yield (*name.split(), *needed, flag, f"{MARKS}.half_chest=22")


@pytest.fixture
def ledger(ledger_factory: LedgerMaker, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a ledger with a table in it; the tests are in it."""
    root = ledger_factory({"table.csv": TABLE, MARKS.replace("/", ""): "x"})
    monkeypatch.chdir(root)
    return root


def plain(ended: Ended) -> bool:
    """Say whether nothing that was printed can play tricks on a terminal."""
    return not HIDDEN.search(ended.out + ended.err)


@pytest.mark.seldom(2)
def test_marks_behind_every_option_come_out_spelled(ledger: Path, command: Program) -> None:
    """Of every command, in every argument and every option; and none is a fault of ours."""
    tried = list(lines_with_marks())
    for line in tried:
        ended = command(*(part.format(root=ledger) for part in line))
        assert ended.code in {0, 1, 2, 3}, (line, ended.err)
        assert plain(ended), (line, ended)
    names = {name.split()[0] for name, one in commands() if one.params}
    assert len(tried) > 100
    assert {line[0] for line in tried} == names


@pytest.mark.parametrize("mark", ["\x1b[2J", "\x07", "\u202e", "\r", "\x9b", "\ud800", "\x00"])
def test_marks_in_a_list_of_readings_come_out_spelled(
    mark: str, ledger: Path, command: Program
) -> None:
    """Wherever in the line they stand."""
    for line in (f"L-black-1 hem_width 2{mark}2", f"L{mark} hem_width 22", f"L-black-1 h{mark} 22"):
        place = ledger / "list"
        place.write_bytes(line.encode("utf-8", "surrogatepass"))
        ended = command("enter", ROUND, "--lines", place)
        assert ended.code == 2
        assert plain(ended)


def test_a_ledger_in_a_folder_with_marks_is_told_plainly(
    ledger_factory: LedgerMaker, command: Program
) -> None:
    """What a command prints of a path, and what it prints as data."""
    root = ledger_factory(name="a\x1b[31m\u202eb")
    for line in (("check",), ("vet",), ("build",), ("build", "--json"), ("measuring", "--json")):
        ended = command(*line, "--ledger", root)
        assert ended.code == 0
        assert plain(ended)
        if "--json" in line:
            json.loads(ended.out)


def test_what_can_be_seen_is_left_as_it_is() -> None:
    """Fractions, letters of any script, signs, tabs and line ends."""
    text = "22½ in\tgröße 尺寸 ◐ …\r\nنص\n"
    assert spelled_out(text) == text
    assert spelled_out("a\rb\x1b\u202e") == "a\\u000db\\u001b\\u202e"


LINES = [
    ("check",), ("check", "--json"), ("vet",), ("vet", BLANK), ("measuring",), ("changes", "HEAD"),
    ("changes", "--textconv", ROUND, "HEAD"), ("build",), ("plan", BLANK), ("start", "new"),
    ("add", "supplier"), ("add", "style", "tarn-thrush/h9"), ("add", "chart", BLANK),
    ("add", "style", "tarn-thrush/h8", "--chart", "-"), ("enter", ROUND), ("enter", BLANK),
    ("enter", ROUND, "--lines", "-"), ("enter", ROUND, "--decide", "hold"),
    ("import", "table.csv", BLANK), ("import", "table.csv", BLANK, "--into", ROUND),
]  # fmt: skip


@pytest.mark.parametrize("stream", ["stdin", "stdout", "stderr"])
@pytest.mark.parametrize("line", LINES, ids=" ".join)
def test_a_closed_stream_is_no_fault_of_ours(
    line: tuple[str, ...],
    stream: str,
    ledger: Path,
    command: Program,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A process may be started without one; nobody is asked then, and nothing breaks."""
    monkeypatch.setattr(sys, stream, None)
    assert command(*line).code in {0, 1, 2, 3}


@pytest.mark.parametrize("closing", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_streams_closed_by_the_caller_are_no_fault_of_ours(closing: str, ledger: Path) -> None:
    """As a shell closes them."""
    for line in (f"enter {ROUND} --lines -", "changes HEAD", "check"):
        code = f"exec {sys.executable} -m blankbook {line} {closing}"
        ended = subprocess.run(["sh", "-c", code], check=False, cwd=ledger, timeout=60)
        assert ended.returncode in {0, 2, 3}


@pytest.mark.parametrize("arguments", [("add",), ("check", "--format", "gitub")])
def test_wrong_use_is_told_with_what_is_near(arguments: tuple[str, ...], command: Program) -> None:
    """A group without a command shows its help, a slip the nearest word."""
    ended = command(*arguments)
    assert (ended.code, ended.out) == (2, "")
    assert "Usage: " in ended.err or "did you mean github?" in ended.err
