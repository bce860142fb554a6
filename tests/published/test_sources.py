"""The list of sources names tests that there are, and leaves none out."""

import ast
import re
from pathlib import Path

import pytest

HERE = Path(__file__).parent
ROWS = re.findall(
    r"^\| (.+) \| (.+) \| (\S+)::(\S+) \|$", (HERE / "sources.md").read_text(), re.MULTILINE
)


@pytest.mark.parametrize(("what", "source", "place", "name"), ROWS, ids=[row[0] for row in ROWS])
def test_a_test_that_is_named_exists(what: str, source: str, place: str, name: str) -> None:
    """Its module has a class or a function of that name."""
    tree = ast.parse((HERE / place).read_text(encoding="utf-8"))
    named = {node.name for node in tree.body if isinstance(node, ast.ClassDef | ast.FunctionDef)}
    assert name in named
    assert what
    assert source


def test_no_module_of_published_values_is_left_out() -> None:
    """A new table shows up in the list."""
    listed = {(HERE / place).resolve() for _, _, place, _ in ROWS}
    there = set(HERE.glob("*/test_*.py")) | {HERE.parent / "results" / "test_published_numbers.py"}
    assert there - listed == set()
