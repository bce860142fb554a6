"""Change each constant and comparison of ``results`` one at a time: which do no tests notice?

``python tests/bench/mutants.py [--sample N] [--seed N] [--within TEXT] [--tests PATH ...]``

A copy of what git tracks is changed in a temporary folder, and the tests of the results run there
until the first that fails. Numbers grow by a quarter or by one; a border changes sides, and equal
becomes unequal. Without a sample every place is tried, which takes days; a sample is drawn by seed.
"""

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RESULTS = "tool/blankbook/results"
TESTS = ("tests/results", "tests/published", "tests/trials")
LONGEST = 1800
"""Seconds; a change that makes the tests hang is noticed."""
OTHER_SIDE: dict[type[ast.cmpop], tuple[str, str]] = {
    ast.Lt: ("<", "<="),
    ast.LtE: ("<=", "<"),
    ast.Gt: (">", ">="),
    ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
}


@dataclass(frozen=True)
class Mutant:
    """One change of one line."""

    path: str
    line: int
    start: int
    end: int
    """Bytes of the line."""
    old: str
    new: str

    @property
    def says(self) -> str:
        """Where it is, and what it does."""
        return f"{self.path}:{self.line}:{self.start + 1}: {self.old} -> {self.new}"

    def changed(self, text: bytes) -> bytes:
        """Return the file's bytes with the change."""
        lines = text.splitlines(keepends=True)
        line = lines[self.line - 1]
        lines[self.line - 1] = line[: self.start] + self.new.encode() + line[self.end :]
        return b"".join(lines)


def mutants_of(path: str, text: bytes) -> Iterator[Mutant]:
    """Yield every change of a module; texts that document it are no code."""
    lines = text.splitlines()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Constant) and type(node.value) in {int, float}:
            yield _larger(path, lines, node)
        elif isinstance(node, ast.Compare):
            yield from _other_sides(path, lines, node)


def _larger(path: str, lines: list[bytes], node: ast.Constant) -> Mutant:
    """Return a number by a quarter larger, or by one."""
    value = node.value
    assert isinstance(value, int | float)
    assert node.end_col_offset is not None
    old = lines[node.lineno - 1][node.col_offset : node.end_col_offset].decode()
    new = value * 1.25 if isinstance(value, float) and value else value + 1
    return Mutant(path, node.lineno, node.col_offset, node.end_col_offset, old, repr(new))


def _other_sides(path: str, lines: list[bytes], node: ast.Compare) -> Iterator[Mutant]:
    """Yield a change for each operator of a comparison that stands on one line."""
    for before, operator, after in zip(
        [node.left, *node.comparators], node.ops, node.comparators, strict=False
    ):
        if type(operator) not in OTHER_SIDE or before.end_lineno != after.lineno:
            continue
        old, new = OTHER_SIDE[type(operator)]
        assert before.end_col_offset is not None
        place = lines[after.lineno - 1].find(old.encode(), before.end_col_offset, after.col_offset)
        if place >= 0:
            yield Mutant(path, after.lineno, place, place + len(old), old, new)


def every_mutant(within: str) -> list[Mutant]:
    """Return all changes of the modules whose path holds *within*."""
    paths = sorted((ROOT / RESULTS).rglob("*.py"))
    names = [str(path.relative_to(ROOT)) for path in paths]
    return [
        mutant for name in names if within in name
        for mutant in mutants_of(name, (ROOT / name).read_bytes())
    ]  # fmt: skip


def is_noticed(mutant: Mutant, copy: Path, tests: list[str]) -> bool:
    """Say whether a test fails, or nothing ends, with the change."""
    place = copy / mutant.path
    text = place.read_bytes()
    place.write_bytes(mutant.changed(text))
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
    found = os.pathsep.join([str(copy / "tool"), str(copy / "tests")])
    try:
        ended = subprocess.run(
            command, cwd=copy, env={**os.environ, "PYTHONPATH": found}, capture_output=True,
            timeout=LONGEST, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return True
    finally:
        place.write_bytes(text)
    if ended.returncode not in {0, 1, 2}:
        raise RuntimeError(ended.stdout.decode()[-2000:] + ended.stderr.decode()[-2000:])
    return ended.returncode != 0


def main(arguments: list[str]) -> int:
    """Try the changes, and list those that survive; 1 if more than a tenth do."""
    parser = argparse.ArgumentParser(prog="mutants.py", description=__doc__)
    parser.add_argument("--sample", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--within", default="")
    parser.add_argument("--tests", nargs="+", default=list(TESTS))
    given = parser.parse_args(arguments)
    mutants = every_mutant(given.within)
    if given.sample:
        mutants = random.Random(given.seed).sample(mutants, min(given.sample, len(mutants)))
    tracked = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
    ).stdout.decode()
    survivors = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in filter(None, tracked.split("\0")):
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, copy / name)
        for mutant in mutants:
            noticed = is_noticed(mutant, copy, given.tests)
            survivors += not noticed
            sys.stdout.write(f"{'noticed ' if noticed else 'SURVIVES'} {mutant.says}\n")
            sys.stdout.flush()
    sys.stdout.write(f"{len(mutants) - survivors} of {len(mutants)} noticed\n")
    return int(survivors > len(mutants) / 10)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
