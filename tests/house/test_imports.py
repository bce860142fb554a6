"""What a command loads: help and version load the command line library and nothing else."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = (
    "yaml ruamel jsonschema jsonschema_rs numpy scipy matplotlib mkdocs jinja2 PIL rich markdown"
    " openpyxl"
)


def loaded_by(*arguments: str, whole: bool = False) -> set[str]:
    """Return the top-level modules that are loaded when the program has run *arguments*.

    With *whole*, every module by its full name.
    """
    name = "name" if whole else "name.partition('.')[0]"
    code = (
        "import io, json, sys\n"
        "from blankbook.commands.main import run\n"
        "real, sys.stdout = sys.stdout, io.StringIO()\n"
        f"run({list(arguments)!r})\n"
        f"print(json.dumps(sorted({{{name} for name in sys.modules}})), file=real)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    return set(json.loads(done.stdout))


@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["--version"],
        ["check", "--help"],
        ["vet", "--help"],
        ["build", "--help"],
        ["add", "style", "--help"],
    ],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    """A person who asks for help waits for none of the libraries that the work needs."""
    loaded = loaded_by(*arguments)

    assert "typer" in loaded
    assert loaded & set(HEAVY.split()) == set()


UNUSED = (
    "matplotlib mkdocs jinja2 markdown PIL ruamel jsonschema rich openpyxl "
    "multiprocessing scipy.stats scipy.optimize scipy.integrate scipy.linalg "
    "blankbook.pages blankbook.build"
)


@pytest.mark.parametrize("asked", [(), ("--json",), ("tarn-thrush/h6",)], ids=" ".join)
def test_vet_loads_only_what_it_uses(asked: tuple[str, ...], demo_ledger: Path) -> None:
    """Readings are judged with arrays and special functions; nothing is drawn, written or fitted.

    A ledger without a fault needs no words for one, so the library that finds them stays away.
    """
    pytest.importorskip("jsonschema_rs")
    loaded = loaded_by("vet", *asked, "--ledger", str(demo_ledger), whole=True)

    assert {"numpy", "scipy.special", "yaml"} <= loaded
    assert loaded & set(UNUSED.split()) == set()


def test_order_loads_only_what_it_uses(demo_ledger: Path) -> None:
    """Beyond what vet loads: the modules of ordering, and nothing that draws, writes or fits."""
    pytest.importorskip("jsonschema_rs")
    key, ledger = "wether-teasel/w200", ("--ledger", str(demo_ledger))
    vet, order = (
        loaded_by(*asked, *ledger, whole=True)
        for asked in (("vet", key), ("order", key, "--day", "2026-11-24"))
    )

    assert order & set(UNUSED.split()) == set()
    assert {name.rpartition(".")[0] for name in order - vet} <= {
        "blankbook.results",
        "blankbook.results.ordering",
        "blankbook.results.over_lots",
    }


def test_whole_scipy_stats_is_never_loaded() -> None:
    """Judging needs special functions only; the statistics module costs most of a second."""
    code = "import sys, pkgutil, blankbook.results as r\n" + (
        "for m in pkgutil.iter_modules(r.__path__, 'blankbook.results.'): __import__(m.name)\n"
        "print('scipy' in sys.modules, 'scipy.stats' in sys.modules, 'yaml' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    assert done.stdout.split() == ["False", "False", "False"]
