"""A shell that asks how a line may go on gets names of the ledger, quickly, and never a word."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest


def offered(line: str, root: Path) -> tuple[list[str], float]:
    """Return what is offered at the end of a line, and how long the answer took."""
    words = line.split(" ")
    environment = {
        **os.environ,
        "_BLANKBOOK_COMPLETE": "complete_bash",
        "COMP_WORDS": line,
        "COMP_CWORD": str(len(words) - 1),
    }
    before = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "blankbook"],
        cwd=root,
        env=environment,
        capture_output=True,
        check=True,
        text=True,
    )
    assert done.stderr == ""
    return done.stdout.split(), time.perf_counter() - before


CASES = [
    ("blankbook plan hobnettle/q", ["hobnettle/q5", "hobnettle/q7"]),
    ("blankbook enter hobnettle/k", ["hobnettle/k3"]),
    ("blankbook vet dabchick/d6", ["dabchick/d62"]),
    ("blankbook plan hobnettle/q7 --around X", ["XL"]),
    ("blankbook plan hobnettle/q7 --sizes M,X", ["M,XL"]),
    ("blankbook plan hobnettle/q7 --colours bl", ["black"]),
    ("blankbook enter hobnettle/q7 --points half", ["half_chest"]),
    ("blankbook enter hobnettle/q7 --points half_chest,bo", ["half_chest,body_length"]),
    ("blankbook pl", ["plan"]),
]


@pytest.mark.parametrize(("line", "names"), CASES)
def test_names_of_the_ledger_are_offered(demo_copy: Path, line: str, names: list[str]) -> None:
    """Blanks, and the sizes and colours of the blank that was named; points of measure."""
    found, _ = offered(line, demo_copy)
    assert found == names


def test_without_a_ledger_nothing_is_offered_and_nothing_said(tmp_path: Path) -> None:
    """Somebody's prompt is no place for a message."""
    assert offered("blankbook plan hob", tmp_path)[0] == []
    (tmp_path / "shop.yaml").write_text("}{")
    assert offered("blankbook plan hob", tmp_path)[0] == []
    assert offered("blankbook plan a/b --around X", tmp_path)[0] == []


def test_the_answer_comes_at_once(demo_copy: Path) -> None:
    """Nothing of the ledger is parsed: well below the time of a command (measured: 0.15 s)."""
    took = sorted(offered("blankbook plan hob", demo_copy)[1] for _ in range(3))
    assert took[0] < 1.0
