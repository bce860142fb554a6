"""A command that writes leaves the old ledger or the new one, at any fault of the disk."""

import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from blankbook.text.writing.atomic_write import PART_PREFIX
from disk_calls import act_at_call, before_each_write
from shares import share
from support import SMALL_LEDGER, LedgerMaker, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
SMALL = SMALL_LEDGER[ROUND].splitlines()
CSV = "Piece,Size,Colour,Hem width\nM-black-1,M,black,20\nL-black-9,L,black,22 1/8\n"
WHO = ("--by", "rv", "--lot", "B", "--date", "2026-11-24")
COMMANDS: dict[str, tuple[str, ...]] = {
    "start": ("start", "{root}/new/shop", "--name", "Harebell Press"),
    "start in an empty folder": ("start", "{root}/empty", "--name", "Harebell Press"),
    "add supplier": ("add", "supplier", "Hobnettle", "--contact", "mo"),
    "add style": ("add", "style", "tarn-thrush/h9", "--name", "H9 tee", "--sizes", "S,M",
                  "--colours", "black", "--construction", "side_seamed", "--wearer", "adult"),
    "plan": ("plan", "tarn-thrush/h6", "--sizes", "M,L", "--colours", "black"),
    "enter": ("enter", ROUND, "--put", "L-black-1.hem_width=22", "--put", "M-black-1.hem_width=20"),
    "decide": ("enter", ROUND, "--decide", "hold", "--reason", "waiting", "--by", "mo"),
    "import": ("import", "{table}", "tarn-thrush/h6", *WHO),
    "import into": ("import", "{table}", "tarn-thrush/h6", "--into", ROUND),
}  # fmt: skip
SHARE = 5
"""A command is killed by day at one call in so many."""
NUMBERS = (errno.ENOSPC, errno.EACCES, errno.EROFS)


def contents(root: Path) -> dict[str, bytes | None]:
    """Return everything below a folder: the bytes of files, None for a folder."""
    found = sorted(root.rglob("*"))
    return {
        str(path.relative_to(root)): None if path.is_dir() else path.read_bytes() for path in found
    }


@pytest.fixture
def ledger(ledger_factory: LedgerMaker, tmp_path: Path) -> Path:
    """Return a ledger with an empty folder in it, and a table beside it."""
    root = ledger_factory()
    (root / "empty").mkdir()
    (tmp_path / "old.csv").write_text(CSV, encoding="utf-8")
    return root


def arguments(case: str, root: Path) -> list[str]:
    """Return a command line that writes to the ledger."""
    table = str(root.parent / "old.csv")
    line = [word.format(root=root, table=table) for word in COMMANDS[case]]
    return line if line[0] == "start" else [*line, "--ledger", str(root)]


def after(case: str, root: Path, command: Program) -> tuple[dict[str, bytes | None], list[str]]:
    """Return what the ledger holds when all goes well, and the calls that changed the disk."""
    whole = root.parent / "whole"
    shutil.copytree(root, whole)
    calls: list[str] = []
    with before_each_write(calls.append):
        ended = command(*arguments(case, whole))
    assert ended.code == 0, ended.err
    found = contents(whole)
    shutil.rmtree(whole)
    return found, [call for call in calls if str(whole) in call]


@pytest.mark.seldom(3)
@pytest.mark.parametrize("case", COMMANDS)
def test_a_call_that_fails_leaves_old_or_new(case: str, ledger: Path, command: Program) -> None:
    """Each call that changes the ledger once: told with the place, and nothing half is left."""
    before = contents(ledger)
    whole, calls = after(case, ledger, command)
    assert whole != before
    refused = 0
    for number in share(range(1, len(calls) + 1), one_in=2):
        fault = NUMBERS[number % len(NUMBERS)]
        ended = with_a_fault(case, ledger, command, number, fault)
        now = contents(ledger)
        if calls[number - 1].startswith("os.remove"):
            now = without_parts(now)  # what may not be removed stays, until it is swept away
        assert ended.code in {0, 3}, ended.err
        assert now == (whole if ended.code == 0 else before), (number, calls[number - 1])
        if ended.code == 3:
            assert str(ledger) in ended.err
            assert os.strerror(fault).lower() in ended.err
            refused += 1
        else:
            shutil.rmtree(ledger)
            restore(ledger, before)
    assert refused


def restore(root: Path, held: dict[str, bytes | None]) -> None:
    """Put a folder back to what it held."""
    root.mkdir()
    for path, body in held.items():
        if body is None:
            (root / path).mkdir()
        else:
            (root / path).write_bytes(body)


def with_a_fault(case: str, root: Path, command: Program, number: int, fault: int) -> Any:
    """Run a command whose so-manieth call that changes the ledger fails, and only that."""
    left = [number]

    def hook(call: str) -> None:
        if str(root) in call:
            left[0] -= 1
            if left[0] == 0:
                raise OSError(fault, os.strerror(fault), call.partition(" ")[2])

    with before_each_write(hook):
        return command(*arguments(case, root))


class Full:
    """A stream to a disk that has no room: some bytes are taken, the rest is not."""

    def __init__(self, stream: Any, room: int) -> None:
        self.stream, self.room = stream, room

    def __enter__(self) -> "Full":
        return self

    def __exit__(self, *_: object) -> None:
        self.stream.close()

    def __getattr__(self, name: str) -> Any:
        return getattr(self.stream, name)

    def write(self, body: bytes) -> int:
        self.stream.write(body[: self.room])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("case", COMMANDS)
@pytest.mark.parametrize("way", ["write", "fsync"])
def test_a_full_disk_leaves_everything_as_it_was(
    case: str, way: str, ledger: Path, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the middle of a file, or when the disk is asked to keep it; nothing new stays."""
    before = contents(ledger)
    fsync, fdopen = os.fsync, os.fdopen

    def no_room(handle: int) -> None:
        if Path(f"/dev/fd/{handle}").is_dir():
            return fsync(handle)
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        if way == "write":
            patched.setattr(os, "fdopen", lambda *some, **more: Full(fdopen(*some, **more), 40))
        else:
            patched.setattr(os, "fsync", no_room)
        ended = command(*arguments(case, ledger))
    assert ended.code == 3, ended.err
    assert str(ledger) in ended.err
    assert PART_PREFIX not in ended.err
    assert "no space left on device" in ended.err
    assert "free some space there" in ended.err
    assert contents(ledger) == before


def die() -> None:
    """End this process as a power cut would."""
    os.kill(os.getpid(), signal.SIGKILL)


def killed_at(case: str, root: Path, number: int) -> int:
    """Run a command in a process that dies at its so-manieth call to the disk; how it ended."""
    child = os.fork()
    if child == 0:
        from blankbook.commands.main import run

        with Path(os.devnull).open("w") as nothing:
            sys.stdout = sys.stderr = nothing
            try:
                with before_each_write(act_at_call(number, die)):
                    os._exit(run(arguments(case, root)))
            finally:
                os._exit(99)
    return os.waitpid(child, 0)[1]


def without_parts(held: dict[str, bytes | None]) -> dict[str, bytes | None]:
    """Leave out what a killed process was writing, which nothing reads."""
    return {path: body for path, body in held.items() if PART_PREFIX not in path}


@pytest.mark.seldom(3)
@pytest.mark.parametrize("case", [name for name in COMMANDS if not name.startswith("start")])
def test_a_command_that_is_killed_leaves_old_or_new(
    case: str, ledger: Path, command: Program
) -> None:
    """At each call to the disk: the ledger is whole, and the same command then goes through."""
    before = contents(ledger)
    whole, _ = after(case, ledger, command)
    for number in share(range(1, 60), one_in=SHARE):
        ended = killed_at(case, ledger, number)
        now = contents(ledger)
        files = {path: body for path, body in without_parts(now).items() if body is not None}
        assert files in [
            {path: body for path, body in held.items() if body is not None}
            for held in (before, whole)
        ]
        if os.WIFEXITED(ended):
            assert os.WEXITSTATUS(ended) == 0
            assert now == whole
            break
        if files != {path: body for path, body in whole.items() if body is not None}:
            assert command("check", "--ledger", str(ledger)).code == 0
        shutil.rmtree(ledger)
        restore(ledger, before)
    else:
        raise AssertionError("it never ended by itself")


@pytest.mark.seldom(3)
@pytest.mark.parametrize("case", ["start", "start in an empty folder"])
def test_a_start_that_is_killed_can_be_run_again(case: str, ledger: Path, command: Program) -> None:
    """There is no ledger before its last file, and the second run makes the same one."""
    before = contents(ledger)
    whole, calls = after(case, ledger, command)
    shop = next(path for path in whole if path.endswith("/shop.yaml") and path not in before)
    for number in range(1, len(calls) + 1, 3):
        assert os.WIFSIGNALED(killed_at(case, ledger, number))
        if shop not in contents(ledger):
            assert command(*arguments(case, ledger)).code == 0
        assert without_parts(contents(ledger)) == whole
        shutil.rmtree(ledger)
        restore(ledger, before)


@pytest.mark.seldom(3)
def test_a_round_is_whole_whenever_its_writer_is_killed(ledger: Path) -> None:
    """Readings go in one by one; at a random moment of any of them the process is killed."""
    place, dice = ledger / ROUND, random.Random(20261128)
    code = (
        "import sys, itertools\n"
        "from blankbook.commands.main import run\n"
        "print('ready', file=sys.stderr, flush=True)\n"
        "for n in itertools.count(int(sys.argv[3])):\n"
        "    put = f'L-black-1.hem_width={20 + n % 4} {1 + n // 4 % 7}/8'\n"
        "    assert run(['enter', sys.argv[2], '--put', put, '--ledger', sys.argv[1]]) in (0, 1)\n"
    )
    for count in range(6):
        old, give_up = place.read_bytes(), time.monotonic() + 100
        with subprocess.Popen(
            [sys.executable, "-c", code, str(ledger), ROUND, str(count)],
            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        ) as writer:  # fmt: skip
            assert writer.stderr
            writer.stderr.readline()
            while not (wrote := place.read_bytes() != old) and time.monotonic() < give_up:
                time.sleep(0.001)
            time.sleep(dice.uniform(0.0, 0.1))
            writer.kill()
        lines = place.read_text(encoding="utf-8").splitlines()
        assert lines[:-1] == SMALL[:-1]
        assert lines[-1].startswith(SMALL[-1].removesuffix("}"))
        assert lines[-1].endswith("}")
        assert wrote
