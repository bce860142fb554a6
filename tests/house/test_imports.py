"""What a command loads: help and version load the command line library and nothing else."""

import json
import subprocess
import sys

import pytest

HEAVY = (
    "yaml ruamel jsonschema jsonschema_rs numpy scipy matplotlib mkdocs jinja2 PIL rich markdown"
)


def loaded_by(*arguments: str) -> set[str]:
    """Return the top-level modules that are loaded when the program has run *arguments*."""
    code = (
        "import io, json, sys\n"
        "from blankbook.commands.main import run\n"
        "real, sys.stdout = sys.stdout, io.StringIO()\n"
        f"run({list(arguments)!r})\n"
        "print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})), file=real)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)
    return set(json.loads(done.stdout))


@pytest.mark.parametrize(
    "arguments",
    [["--help"], ["--version"], ["check", "--help"], ["vet", "--help"], ["build", "--help"]],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    """A person who asks for help waits for none of the libraries that the work needs."""
    loaded = loaded_by(*arguments)

    assert "typer" in loaded
    assert loaded & set(HEAVY.split()) == set()


def test_whole_scipy_stats_is_never_loaded() -> None:
    """Judging needs special functions only; the statistics module costs most of a second."""
    code = "import sys, pkgutil, blankbook.results as r\n" + (
        "for m in pkgutil.iter_modules(r.__path__, 'blankbook.results.'): __import__(m.name)\n"
        "print('scipy' in sys.modules, 'scipy.stats' in sys.modules, 'yaml' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    assert done.stdout.split() == ["False", "False", "False"]
