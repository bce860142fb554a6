"""Every test on disk is run: whatever the runner leaves out by its defaults shows up here."""

import ast
import doctest
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from shares import COLLECTED, is_of_everything
from support import ROOT


def modules(*folders: str) -> list[Path]:
    """Return the modules of folders; the benchmark is no part of the tests."""
    found = [path for folder in folders for path in (ROOT / folder).rglob("*.py")]
    return [path for path in found if "bench" not in path.relative_to(ROOT).parts]


def named_in(path: Path) -> Iterator[str]:
    """Yield ``file::name`` of each test in a module, as its text has it, whatever it is called."""
    place = path.relative_to(ROOT).as_posix()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        inside = node.body if isinstance(node, ast.ClassDef) else [node]
        within = f"{node.name}::" if isinstance(node, ast.ClassDef) else ""
        for member in inside:
            if isinstance(member, ast.FunctionDef) and member.name.startswith("test"):
                yield f"{place}::{within}{member.name}"


def modules_with_examples() -> set[str]:
    """Return the modules in which a docstring has an example, so that it can be run."""
    parser = doctest.DocTestParser()
    return {
        path.relative_to(ROOT).as_posix()
        for path in modules("tests", "tool/blankbook")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef)
        and parser.get_examples(ast.get_docstring(node) or "")
    }


def collected_by(session: pytest.Session) -> set[str]:
    """Return what a run of everything collects: this one, or else another that does only that."""
    if is_of_everything(session.config):
        names = session.stash[COLLECTED]
    else:
        options = ["--night", "--collect-only", "-q", "-p", "no:cacheprovider"]
        command = [sys.executable, "-m", "pytest", *options]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True)
        names = frozenset(line for line in done.stdout.splitlines() if "::" in line)
    return {name.partition("[")[0] for name in names}


def test_every_test_on_disk_is_collected(request: pytest.FixtureRequest) -> None:
    """A folder, a class or a file whose name the runner passes over would not be missed else."""
    collected = collected_by(request.session)
    files = {name.partition("::")[0] for name in collected}

    assert {name for path in modules("tests") for name in named_in(path)} - collected == set()
    assert modules_with_examples() - files == set()


def test_each_is_run_by_day_or_at_night() -> None:
    """Two marks alone keep a test from the day's run, and the night's takes all."""
    assert " --night\n" in (ROOT / ".ci" / "nightly").read_text()
    asked = [str(ROOT / ".ci" / "readme-command"), "2"]
    second = subprocess.run(asked, capture_output=True, check=True, text=True).stdout
    _, _, options = second.rpartition("/pytest")
    assert options
    assert not {"-m", "-k", "--deselect", "--ignore"} & set(options.split())
