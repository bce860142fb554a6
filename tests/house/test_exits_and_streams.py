"""How the program ends: each way has its exit code, its stream and one plain line."""

import errno
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from blankbook.commands import main as door
from blankbook.commands.shared.errors import EXIT_CODES, BlankbookError, EnvironmentFault, WrongUse
from support import LedgerMaker, Program

COMMANDS = ("check", "vet", "build")


def raising(error: BaseException) -> Callable[[list[str]], int]:
    """Return something to run in a command's place that fails with *error*."""

    def invoke(_arguments: list[str]) -> int:
        raise error

    return invoke


def test_no_arguments_show_help_as_wrong_use(program: Program) -> None:
    """Data goes to standard output only, so the help that nobody asked for does not."""
    ended = program()

    assert (ended.code, ended.out) == (2, "")
    assert ended.err.startswith("Usage: blankbook")


@pytest.mark.parametrize("flag", ["-h", "--help"])
def test_help_names_commands_and_exit_codes(flag: str, program: Program) -> None:
    """The first page a person sees says what there is, with examples before the options."""
    ended = program(flag)

    assert (ended.code, ended.err) == (0, "")
    assert [name for name in COMMANDS if f"\n  {name} " not in ended.out] == []
    assert [code for code in EXIT_CODES if f" {code}  " not in ended.out] == []
    assert ended.out.index("\n  blankbook check  ") < ended.out.index("Options:")
    assert "\\b" not in ended.out


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_takes_both_help_flags(name: str, program: Program) -> None:
    """-h and --help print the same page."""
    short, long = program(name, "-h"), program(name, "--help")

    assert (short.code, short.out) == (0, long.out)
    assert "--ledger" in short.out


def test_version_names_program_and_python(program: Program) -> None:
    """What a report of a fault needs first."""
    ended = program("--version")

    assert ended.code == 0
    assert ended.out.startswith("blankbook ")
    assert f"python {sys.version_info.major}.{sys.version_info.minor}." in ended.out


@pytest.mark.parametrize(
    ("arguments", "said", "meant"),
    [
        (["chekc"], "no such command 'chekc'", "did you mean 'check'?"),
        (["biuld"], "no such command 'biuld'", "did you mean 'build'?"),
        (["--versoin"], "no such option: --versoin", "did you mean --version?"),
        (["check", "--jsno"], "no such option: --jsno", "did you mean --json?"),
        (["nothing-like-it"], "no such command 'nothing-like-it'", "see blankbook --help"),
        (["check", "--ledger"], "option '--ledger' requires an argument", "see blankbook --help"),
        (["check", "--format", "xml"], "'--format': 'xml' is not one of 'text', ", "see blankbook"),
        (["build", "--jobs", "0"], "'--jobs': it should be greater than or", "see blankbook build"),
        (["check", "[/x] [22 1/2]"], "[/x] [22 1/2]", "see blankbook check --help"),
    ],
)
def test_wrong_use_says_what_was_meant(
    arguments: list[str], said: str, meant: str, program: Program
) -> None:
    """Wrong use is 2, with a suggestion that is never run by itself."""
    ended = program(*arguments)

    assert (ended.code, ended.out) == (2, "")
    assert ended.err.startswith("error: ")
    assert said in ended.err
    assert f"\n    help: {meant}" in ended.err


def test_control_characters_are_shown_not_obeyed(program: Program) -> None:
    """An escape sequence in an argument does not reach the terminal."""
    ended = program("\x1b[2Jcheck")

    assert ended.code == 2
    assert "\x1b" not in ended.err


@pytest.mark.parametrize(
    "env",
    [
        {"GITHUB_ACTIONS": "true"},
        {"FORCE_COLOR": "1"},
        {"GITHUB_ACTIONS": "true", "NO_COLOR": "1"},
        {"FORCE_COLOR": "1", "TERM": "xterm-256color", "COLUMNS": "40"},
    ],
    ids=str,
)
@pytest.mark.parametrize(
    "arguments", [["--help"], ["check", "--help"], ["chekc"], ["vet"]], ids=str
)
def test_pipe_gets_no_escape_codes(
    arguments: list[str], env: dict[str, str], program: Program, ledger_factory: LedgerMaker
) -> None:
    """Whatever the environment asks for, what is piped is plain text."""
    ended = program(*arguments, env=env, cwd=ledger_factory())

    assert "\x1b" not in ended.out + ended.err


def test_plain_locale_loses_no_text(program: Program, demo_ledger: Path) -> None:
    """In a C locale the program ends alike and says the same, with no traceback."""
    plain = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    usual = program("vet", "--ledger", demo_ledger, env={"LC_ALL": "C.UTF-8"})
    ended = program("vet", "--ledger", demo_ledger, env=plain)

    assert (ended.code, ended.out, ended.err) == (usual.code, usual.out, usual.err)
    assert usual.code == 0


@pytest.mark.parametrize(
    ("error", "code", "said"),
    [
        (KeyboardInterrupt(), 130, "interrupted\n"),
        (BrokenPipeError(), 0, ""),
        (BlankbookError("two files say so", "remove one"), 1, "    help: remove one\n"),
        (WrongUse("no such size"), 2, "error: no such size\n"),
        (EnvironmentFault("the ledger is locked"), 3, "error: the ledger is locked\n"),
        (PermissionError(errno.EACCES, "Permission denied", "a/b.yaml"), 3, "a/b.yaml: permission"),
        (OSError(errno.ENOSPC, "No space left on device"), 3, "no space left on device"),
        (OSError(), 3, "the system refused"),
    ],
)
def test_error_ends_with_its_code(
    error: BaseException, code: int, said: str, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each kind of ending has a code of its own, and no traceback."""
    monkeypatch.setattr(door, "_invoke", raising(error))

    ended = command("check")

    assert (ended.code, ended.out) == (code, "")
    assert said in ended.err
    assert "Traceback" not in ended.err


def test_fault_of_ours_leaves_a_log(
    command: Program, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A bug is 70: a person gets one line and a file to send, the file holds the traceback."""
    monkeypatch.setattr(door, "_invoke", raising(ZeroDivisionError("a secret 12")))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))

    ended = command("vet", "a/b")

    (log,) = tmp_path.glob("blankbook-*.log")
    text = log.read_text(encoding="utf-8")
    assert (ended.code, ended.out) == (70, "")
    assert str(log) in ended.err
    assert "Traceback" not in ended.err
    assert "ZeroDivisionError: a secret 12" in text
    assert "command: ['vet', 'a/b']" in text
    assert f"python {sys.version_info.major}." in text


def test_fault_without_room_for_a_log_is_still_told(
    command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The log is a help, not a condition."""
    monkeypatch.setattr(door, "_invoke", raising(ZeroDivisionError()))
    full = raising(OSError(errno.ENOSPC, "No space left on device"))
    monkeypatch.setattr(tempfile, "mkstemp", lambda **_: full([]))

    ended = command("check")

    assert ended.code == 70
    assert "no log could be written: No space left on device" in ended.err


def start(arguments: list[str], stdout: int) -> subprocess.Popen[bytes]:
    """Start the program with its output somewhere unusual."""
    return subprocess.Popen(
        [sys.executable, "-m", "blankbook", *arguments], stdout=stdout, stderr=subprocess.PIPE
    )


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["check", "--help"]], ids=str)
def test_reader_that_left_is_no_error(arguments: list[str]) -> None:
    """``blankbook … | head`` ends quietly."""
    reading, writing = os.pipe()
    os.close(reading)
    process = start(arguments, writing)
    os.close(writing)
    _, said = process.communicate(timeout=60)

    assert (process.returncode, said) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full, which Linux has")
@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["vet", "--help"]], ids=str)
def test_full_disk_is_told_plainly(arguments: list[str]) -> None:
    """Output that does not fit is the machine's fault, said in words."""
    with Path("/dev/full").open("wb") as full:
        process = start(arguments, full.fileno())
        _, said = process.communicate(timeout=60)

    assert process.returncode == 3
    assert b"no space left on device" in said
    assert b"Traceback" not in said


@pytest.mark.parametrize("words", ["--help", "help table"])
def test_closed_streams_do_no_harm(words: str) -> None:
    """A caller that closed both streams still gets the exit code."""
    code = f"exec {sys.executable} -m blankbook {words} >&- 2>&-"

    assert subprocess.run(["sh", "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_signal_ends_at_once(number: signal.Signals, tmp_path: Path) -> None:
    """Ctrl-C and a request to stop take the same way out, long before the work is done."""
    ready = tmp_path / "ready"
    code = (
        "import pathlib, sys, time\n"
        "from blankbook.commands import main as door\n"
        f"def work(_):\n    pathlib.Path({str(ready)!r}).touch()\n    time.sleep(60)\n"
        "door._invoke = work\n"
        "sys.exit(door.main(['build']))\n"
    )
    process = subprocess.Popen([sys.executable, "-c", code], stderr=subprocess.PIPE)
    while not ready.exists():
        time.sleep(0.02)
    process.send_signal(number)
    _, said = process.communicate(timeout=30)

    assert (process.returncode, said) == (130, b"interrupted\n")


def test_an_interrupt_inside_an_executed_text_ends_with_its_code(tmp_path: Path) -> None:
    """Python would end by a signal of its own there, as it does where nobody catches the first.

    It does so at the end of a module that was started by its name.
    """
    code = (
        "import sys\n"
        "from blankbook.commands import main as door\n"
        "def work(_):\n"
        "    exec('import os, signal; os.kill(os.getpid(), signal.SIGTERM); x = 1')\n"
        "door._invoke = work\n"
        "sys.exit(door.main(['build']))\n"
    )
    (tmp_path / "stopped.py").write_text(code)
    command = [sys.executable, "-m", "stopped"]
    done = subprocess.run(command, capture_output=True, check=False, cwd=tmp_path)

    assert (done.returncode, done.stderr) == (130, b"interrupted\n")


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="needs /proc, which Linux has")
@pytest.mark.parametrize(("setting", "alone"), [(None, True), ("2", False)])
def test_no_idle_threads_are_started(setting: str | None, alone: bool) -> None:
    """Nothing that is judged is large enough for numpy's threads; who wants them still gets them.

    On a machine with one core there are none either way.
    """
    code = (
        "import os, sys\n"
        "from blankbook.commands import main as door\n"
        "def work(_):\n"
        "    import numpy\n"
        "    print(len(os.listdir('/proc/self/task')))\n    return 0\n"
        "door._invoke = work\n"
        "sys.exit(door.main(['build']))\n"
    )
    env = {name: it for name, it in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}
    env |= {"OPENBLAS_NUM_THREADS": setting} if setting else {}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, env=env)

    assert (int(done.stdout) == 1) == (alone or os.cpu_count() == 1)


def test_foreign_warning_settings_do_not_stop_the_work(program: Program, demo_ledger: Path) -> None:
    """PYTHONWARNINGS is somebody else's setting; a library's warning is not the shop's fault."""
    ended = program("vet", "--ledger", demo_ledger, env={"PYTHONWARNINGS": "error"})

    assert ended.code == 0


def test_interrupt_that_compiled_code_swallowed_is_still_one(
    command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An interrupt inside a library may come out as another error; it is no fault of ours."""

    def swallowing(_arguments: list[str]) -> int:
        try:
            door._interrupt(signal.SIGINT, None)
        except KeyboardInterrupt:
            raise ValueError("invalid matrix") from None

    monkeypatch.setattr(door, "_interrupts", [])
    monkeypatch.setattr(door, "_invoke", swallowing)
    ended = command("build")

    assert (ended.code, ended.err) == (130, "interrupted\n")
