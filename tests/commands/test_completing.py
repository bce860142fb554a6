"""A shell that asks how a line may go on gets names of the ledger, quickly, and never a word."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest


def offered(line: str, root: Path, *flags: str) -> tuple[list[str], str]:
    """Return what is offered at the end of a line, and what stands on standard error."""
    words = line.split(" ")
    environment = {
        **os.environ,
        "_BLANKBOOK_COMPLETE": "complete_bash",
        "COMP_WORDS": line,
        "COMP_CWORD": str(len(words) - 1),
    }
    done = subprocess.run(
        [sys.executable, *flags, "-m", "blankbook"],
        cwd=root,
        env=environment,
        capture_output=True,
        check=True,
        text=True,
    )
    return done.stdout.split(), done.stderr


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
    assert offered(line, demo_copy) == (names, "")


def test_without_a_ledger_nothing_is_offered_and_nothing_said(tmp_path: Path) -> None:
    """Somebody's prompt is no place for a message."""
    nothing: tuple[list[str], str] = ([], "")
    assert offered("blankbook plan hob", tmp_path) == nothing
    (tmp_path / "shop.yaml").write_text("}{")
    assert offered("blankbook plan hob", tmp_path) == nothing
    assert offered("blankbook plan a/b --around X", tmp_path) == nothing


def test_nothing_of_the_ledger_is_parsed_for_a_name(demo_copy: Path) -> None:
    """A shell waits for the answer at every key, so neither parser nor arrays are loaded."""
    names, said = offered("blankbook plan hob", demo_copy, "-X", "importtime")
    loaded = {name.partition(".")[0] for name in re.findall(r"\| +(\S+)$", said, re.MULTILINE)}

    assert names
    assert "typer" in loaded
    assert loaded & {"yaml", "ruamel", "jsonschema", "jsonschema_rs", "numpy", "scipy"} == set()
