"""How long a command takes, by the clock and on the processors."""

import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parent
IDLE_BELOW = 0.3
"""Runnable processes per core, above which a figure is that of a busy machine."""


@dataclass(frozen=True, slots=True)
class TimeTaken:
    """Seconds of one run."""

    wall: float
    cpu: float
    """Of the command and of every child it waited for."""

    def plus(self, other: "TimeTaken") -> "TimeTaken":
        """Return what both take, one after the other."""
        return TimeTaken(self.wall + other.wall, self.cpu + other.cpu)


@dataclass(frozen=True, slots=True)
class Command:
    """What is run, and how."""

    arguments: tuple[str, ...]
    env: Mapping[str, str] | None = None
    one_core: bool = False
    """On one core alone, so that it starts no second process."""
    ends_with: tuple[int, ...] = (0,)
    """Exit codes with which it has done its work."""
    before: Callable[[], None] | None = None
    """Done before each run, and not counted."""


def python(*arguments: str | Path) -> tuple[str, ...]:
    """Return a command line for this very Python."""
    return (sys.executable, *map(str, arguments))


def script(name: str, *arguments: str | Path) -> tuple[str, ...]:
    """Return a command line for a script of this folder."""
    return python(HERE / name, *arguments)


def run_once(command: Command) -> TimeTaken:
    """Run a command to its end.

    Raises: SystemExit with what it said, where it failed: a command that fails is soon done.
    """
    if command.before:
        command.before()
    env = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", **(command.env or {})}
    start = time.perf_counter()
    with _on_one_core() if command.one_core else nullcontext():
        child = subprocess.Popen(
            command.arguments, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
    assert child.stderr
    said = child.stderr.read()
    _, status, used = os.wait4(child.pid, 0)
    wall = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    child.stderr.close()
    if child.returncode not in command.ends_with:
        raise SystemExit(f"{' '.join(command.arguments)} failed:\n{said.decode()}")
    return TimeTaken(wall, used.ru_utime + used.ru_stime)


def self_timed(command: Command) -> TimeTaken:
    """Run a script that times a part of itself, and return what it says of that part."""
    ended = subprocess.run(command.arguments, stdout=subprocess.PIPE, check=True)
    return TimeTaken(**json.loads(ended.stdout))


@contextmanager
def _on_one_core() -> Iterator[None]:
    """Let a child that starts here see one core only, which it keeps."""
    if not hasattr(os, "sched_setaffinity"):
        raise SystemExit("this system cannot keep a process on one core")
    cores = os.sched_getaffinity(0)
    os.sched_setaffinity(0, {min(cores)})
    try:
        yield
    finally:
        os.sched_setaffinity(0, cores)


def side_by_side(commands: Mapping[str, Command], repeats: int) -> dict[str, TimeTaken]:
    """Return the median of some runs of each, taken in turn, so that all see the same noise."""
    taken: dict[str, list[TimeTaken]] = {name: [] for name in commands}
    for _ in range(repeats):
        for name, command in commands.items():
            taken[name].append(run_once(command))
    return {name: _median(runs) for name, runs in taken.items()}


def _median(runs: Sequence[TimeTaken]) -> TimeTaken:
    return TimeTaken(
        statistics.median(run.wall for run in runs), statistics.median(run.cpu for run in runs)
    )


def load_per_core() -> float:
    """Return the load of the last minute per core: about what others want of each."""
    return os.getloadavg()[0] / (os.cpu_count() or 1)
