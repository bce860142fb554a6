"""Every command that writes, killed at a random moment: the old ledger is left, or the new one."""

import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

from attack.ledgers import command
from attack.tally import Tally
from blankbook.text.writing.atomic_write import PART_PREFIX
from building import ROUND, site_files
from commands.test_disk_that_refuses import COMMANDS, CSV
from support import SMALL_LEDGER


def run_kills(each: int, seed: int, folder: Path) -> Tally:
    """Return what became of *each* command and of a build, killed so many times."""
    tally, dice = Tally(f"kills, seed {seed}"), random.Random(seed)
    for case in (*COMMANDS, "build"):
        whole = _seconds_of(_line(case, _ledger(folder / "ledger")))
        shutil.rmtree(folder / "ledger")
        for number in range(each):
            root = _ledger(folder / "ledger")
            line = _line(case, root)
            before = _contents(root)
            _killed(line, whole * dice.uniform(0.3, 1.1))
            now = _contents(root)
            tally.counts["killed"] += 1
            tally.counts["as it was"] += now == before
            if wrong := _wrong(case, root, before):
                tally.through.append(f"kill {number} of {case}, seed {seed}: {wrong}")
            shutil.rmtree(folder / "ledger")
    return tally.end()


def _ledger(root: Path) -> Path:
    for path, text in SMALL_LEDGER.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text)
    (root / "empty").mkdir()
    (root.parent / "old.csv").write_text(CSV)
    return root


def _line(case: str, root: Path) -> list[str]:
    if case == "build":
        return ["build", "--ledger", str(root)]
    line = [word.format(root=root, table=root.parent / "old.csv") for word in COMMANDS[case]]
    return line if line[0] == "start" else [*line, "--ledger", str(root)]


def _contents(root: Path) -> dict[str, bytes]:
    """Return the records of a ledger; what a killed command was writing to is none."""
    found = site_files(root)
    return {p: body for p, body in found.items() if PART_PREFIX not in p and ".blankbook/" not in p}


def _started(line: list[str]) -> "subprocess.Popen[bytes]":
    nothing = subprocess.DEVNULL
    return subprocess.Popen(
        [sys.executable, "-m", "blankbook", *line], stdout=nothing, stderr=nothing
    )


def _seconds_of(line: list[str]) -> float:
    """Return how long a command takes when nobody kills it, by the clock."""
    start = time.monotonic()
    _started(line).wait()
    return time.monotonic() - start


def _killed(line: list[str], after: float) -> None:
    child = _started(line)
    time.sleep(after)
    child.send_signal(signal.SIGKILL)
    child.wait()


def _wrong(case: str, root: Path, before: dict[str, bytes]) -> str:
    """Return what is not as it must be after a kill, or nothing."""
    if case != "build" and not case.startswith("start"):
        for path, body in before.items():
            place = root / path
            if not place.is_file():
                return f"{path} is gone"
            if path != ROUND and place.read_bytes() != body:
                return f"{path} was changed"
    if command("check", "--ledger", root).code != 0:
        return "the ledger has a fault"
    again = command(*_line(case, root)) if case == "build" else None
    if again and (again.code or list(root.glob("catalogue.*"))):
        return f"the next build ended with {again.code}"
    return ""
