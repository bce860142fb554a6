"""How fast blankbook is, as ratios to what else runs on this machine on this day.

    python tests/bench/run.py [--quick] [--only WORD] [--write FILE]

Ratios, not seconds: another machine has other seconds. The references are frozen scripts beside
this file. Run it on a machine that does nothing else; the table says how busy it was. It is no part
of the tests. It ends with 1 where a gate is missed, except with --quick, whose ledgers are far too
small for the gates to mean anything: it only shows that the benchmark runs.
"""

import argparse
import json
import os
import platform
import shutil
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from importlib.metadata import version
from pathlib import Path
from typing import Any

from history_ledger import write_history
from ledgers import edit_reading, latest_rounds, write_ledger
from table import HEAD, Row, Target, line
from timing import (
    IDLE_BELOW,
    Command,
    TimeTaken,
    load_per_core,
    python,
    run_once,
    script,
    self_timed,
    side_by_side,
)

ROOT = Path(__file__).resolve().parents[2]
NO_COMPILED = "raise ImportError('hidden by the benchmark')\n"
LIBRARIES = ("typer", "jsonschema", "matplotlib", "mkdocs", "numpy", "scipy", "pyyaml")


class Bench:
    """The measurements, with what they share."""

    def __init__(self, place: Path, quick: bool) -> None:
        self.place, self.quick = place, quick
        self.repeats = 3 if quick else 7
        self.many = 12 if quick else 500
        self.few = 6 if quick else 100
        self.rounds = 40 if quick else 10_000
        self._seen: dict[str, TimeTaken] = {}

    def ledger(self, blanks: int, rounds: int | None = None) -> Path:
        """Return a ledger of that size, written once."""
        root = self.place / f"ledger-{blanks}-{rounds or 'some'}"
        if not root.exists():
            write_ledger(root, blanks, rounds=rounds)
        return root

    def known(self, name: str, command: Command) -> TimeTaken:
        """Return how long something takes; it is run once, however often it is asked for."""
        if name not in self._seen:
            self._seen[name] = run_once(command)
        return self._seen[name]

    def naive(self, blanks: int) -> TimeTaken:
        """Return how long the naive builder takes."""
        root, out = self.ledger(blanks), self.place / f"naive-{blanks}"
        command = Command(script("naive.py", root, out), before=lambda: _remove(out))
        taken = self.known(f"naive {blanks}", command)
        _remove(out)
        return taken

    def build(self, blanks: int, *, one_core: bool = False) -> TimeTaken:
        """Return how long we take from nothing."""
        root = self.ledger(blanks)

        command = Command(_ours("build", root), one_core=one_core, before=lambda: _forget(root))
        return self.known(f"build {blanks} {one_core}", command)

    def full_builds(self) -> Iterator[Row]:
        """Yield the full build held to the naive one, to one process, and to half as many."""
        many, few = self.many, self.few
        target = Target(f"full build, {few} blanks / naive", 0.10, 0.15)
        yield Row(target, self.build(few), self.naive(few))
        target = Target(f"full build, {many} blanks / naive", 0.08, 0.12)
        yield Row(target, self.build(many), self.naive(many))
        target = Target("full build, two processes / one", 0.60, 0.70)
        yield Row(target, self.build(many), self.build(many, one_core=True))
        target = Target(f"full build, {2 * many} blanks / {many}", 2.1, 2.3)
        yield Row(target, self.build(2 * many), self.build(many))

    def small_builds(self) -> Iterator[Row]:
        """Yield builds after little or nothing has changed, beside a start of typer alone."""
        root, many = self.ledger(self.many), self.many
        run_once(Command(_ours("build", root)))
        rounds = iter(latest_rounds(root) * 9)
        taken = side_by_side(
            {
                "hello": Command(script("hello.py", "greet")),
                "help": Command(_ours("--help")),
                "same": Command(_ours("build", root)),
                "edited": Command(_ours("build", root), before=lambda: edit_reading(next(rounds))),
                "again": Command(_ours("build", root)),
            },
            self.repeats,
        )
        yield Row(Target("--help / typer hello", 1.1, 1.3), taken["help"], taken["hello"])
        target = Target(f"nothing changed, {many} blanks / typer hello", 1.3, 1.6)
        yield Row(target, taken["same"], taken["hello"])
        target = Target("latest round edited / typer hello", 6, 8)
        yield Row(target, taken["edited"], taken["hello"])
        target = Target("latest round edited / naive", 0.005, 0.008)
        yield Row(target, taken["edited"], self.naive(many))

    def checks(self) -> Iterator[Row]:
        """Yield the check of a large ledger held to parsing its files in C, on one core."""
        root = self.ledger(self.rounds // 20, 20)
        hidden = self.place / "hidden"
        hidden.mkdir(exist_ok=True)
        (hidden / "jsonschema_rs.py").write_text(NO_COMPILED, encoding="utf-8")
        path = [str(hidden), *filter(None, [os.environ.get("PYTHONPATH")])]
        check = Command(_ours("check", root), ends_with=(0, 1))  # an odd reading may be found
        taken = side_by_side(
            {
                "parse": Command(script("bare_parse.py", root)),
                "two": check,
                "one": replace(check, one_core=True),
                "plain": replace(check, env={"PYTHONPATH": os.pathsep.join(path)}),
            },
            1 if self.quick else 3,
        )
        of = f"check {self.rounds} rounds"
        for name, target in {
            "two": Target(f"{of}, two processes / bare parse", 0.8, 1.2),
            "one": Target(f"{of}, one process / bare parse", 1.4, 1.8),
            "plain": Target(f"{of}, jsonschema alone / bare parse", 3.5, 4),
        }.items():
            yield Row(target, taken[name], taken["parse"])

    def changes(self) -> Iterator[Row]:
        """Yield the review between two tags held to what git alone takes for them."""
        root = self.place / "history"
        blanks, commits, last = (6, 40, 10) if self.quick else (350, 5000, 50)
        write_history(root, blanks, commits, last)
        ours = python("-m", "blankbook", "changes", "old", "new", "--ledger", root)
        taken = side_by_side(
            {
                "git": Command(script("bare_history.py", root)),
                "parse": Command(script("bare_parse.py", root)),
                "ours": Command(ours),
            },
            self.repeats,
        )
        least = taken["git"].plus(taken["parse"])
        yield Row(
            Target(f"changes, {commits} commits / git and bare parse", 3, 3.5), taken["ours"], least
        )

    def history_in_builds(self) -> Iterator[Row]:
        """Yield what the history of a whole site adds to a full build.

        That is all that git knows of it, the pages over time, and what the last commits changed.
        """
        blanks, commits = (6, 40) if self.quick else (self.many, 5000)
        root = self.place / "with-history"
        write_history(root, blanks, commits, commits // 100)
        without = self.place / "without-history"
        shutil.copytree(root, without, ignore=shutil.ignore_patterns(".git"))
        taken = side_by_side(
            {
                "with": Command(_ours("build", root), before=lambda: _forget(root)),
                "without": Command(
                    script("without_history.py", without), before=lambda: _forget(without)
                ),
            },
            1 if self.quick else 5,
        )
        target = Target(f"full build, {blanks} blanks, with its history / without", 1.05, 1.10)
        yield Row(target, taken["with"], taken["without"])

    def judging(self) -> Iterator[Row]:
        """Yield what is promised of judging, in seconds: the reference is the promise itself."""
        blanks, rounds = (6, 18) if self.quick else (60, 3000)
        each_round = self_timed(Command(script("only_judge.py", self.ledger(blanks, 1), "each")))
        yield Row(
            Target("one round judged, once loaded / 10 ms", 1, 1.3),
            each_round,
            TimeTaken(0.01, 0.01),
        )
        many = Command(script("only_judge.py", self.ledger(rounds // 3, 3), "all"))
        name = f"{rounds // 3} styles of three rounds judged / 15 s"
        yield Row(Target(name, 1, 1.3), self_timed(many), TimeTaken(15.0, 30.0))
        ordering = self_timed(Command(script("only_order.py", ROOT / "ledger")))
        target = Target("the longest of the demo's orders, once loaded / 1 s", 0.5, 1)
        yield Row(target, ordering, TimeTaken(1.0, 1.0))
        vet = Command(_ours("vet", self.ledger(1, 1)))
        taken = side_by_side(
            {"libraries": Command(script("libraries.py")), "vet": vet}, self.repeats
        )
        yield Row(
            Target("vet of a ledger of one blank / its libraries", 1.8, 2.2),
            taken["vet"],
            taken["libraries"],
        )


def _ours(*arguments: str | Path) -> tuple[str, ...]:
    command, *ledger = arguments
    return python(
        "-m",
        "blankbook",
        command,
        *(part for argument in ledger for part in ("--ledger", argument)),
    )


def _forget(root: Path) -> None:
    """Take away what a build left in a ledger."""
    _remove(root / "catalogue")
    _remove(root / ".blankbook")


def _remove(folder: Path) -> None:
    shutil.rmtree(folder, ignore_errors=True)


def main() -> int:
    """Measure, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=_FORM)
    parser.add_argument(
        "--quick", action="store_true", help="small ledgers; the gates do not count"
    )
    parser.add_argument(
        "--only",
        default="",
        metavar="WORD",
        help="full, small, checks, changes, history, judging",
    )
    parser.add_argument("--write", type=Path, metavar="FILE", help="write everything as JSON, too")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="blankbook-bench-") as folder:
        bench = Bench(Path(folder), asked.quick)
        parts = (
            *(bench.full_builds, bench.small_builds, bench.checks, bench.changes),
            *(bench.history_in_builds, bench.judging),
        )
        before = load_per_core()
        _say(HEAD)
        rows = []
        for part in parts:
            for row in part() if asked.only in part.__name__ else ():
                _say(line(row, judged=not asked.quick))
                rows.append(row)
    loads = [before, load_per_core()]
    if max(loads) > IDLE_BELOW:
        _say(f"the machine was busy (load per core {before:.1f}, at the end {loads[1]:.1f})")
    if asked.write:
        asked.write.write_text(json.dumps(_report(rows, loads, asked.quick), indent=2) + "\n")
    return int(not asked.quick and any(row.outcome == "missed" for row in rows))


_FORM = argparse.RawDescriptionHelpFormatter


def _say(text: str) -> None:
    print(text, flush=True)  # noqa: T201 - a script


def _report(rows: list[Row], loads: list[float], quick: bool) -> dict[str, Any]:
    return {
        "python": platform.python_version(),
        "machine": platform.platform(),
        "libraries": {name: version(name) for name in LIBRARIES},
        "load_per_core": loads,
        "quick": quick,
        "rows": [row.as_data() for row in rows],
    }


if __name__ == "__main__":
    sys.exit(main())
