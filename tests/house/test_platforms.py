"""No other system is needed: what only Unix has is guarded, and each step works without it."""

import ast
import importlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from support import Program

ROOT = Path(__file__).parents[2]
TOOL = ROOT / "tool/blankbook"
ONLY_UNIX = {
    "os": {
        "chown", "fchmod", "fchown", "fork", "forkpty", "getegid", "geteuid", "getgid", "getuid",
        "killpg", "lchown", "mkfifo", "nice", "openpty", "pread", "pwrite", "register_at_fork",
        "sched_getaffinity", "setsid", "uname", "O_DIRECTORY", "O_NOFOLLOW", "O_CLOEXEC",
    },
    "signal": {"SIGHUP", "SIGKILL", "SIGPIPE", "SIGUSR1", "alarm", "setitimer"},
}  # fmt: skip
"""By module: names that Python has on no Windows (its library reference, "Availability: Unix")."""
UNIX_MODULES = {"fcntl", "grp", "pty", "pwd", "resource", "termios", "tty"}
GUARDED = {
    ("records/processes.py", "fork"): "can_fork",
    ("records/processes.py", "SIGKILL"): "can_fork",
    ("build/trust/build_lock.py", "pwrite"): "fcntl",
}
"""By file and name: what is asked before, where that is in another function."""


def _uses() -> Iterator[tuple[str, str, str]]:
    """Yield file, name and the text of the nearest function around, of each use."""
    for place in sorted(TOOL.rglob("*.py")):
        text = place.read_text(encoding="utf-8")
        tree = ast.parse(text)
        functions = [n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef)]
        for node in ast.walk(tree):
            name, line = "", getattr(node, "lineno", 0)
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                name = node.attr if node.attr in ONLY_UNIX.get(node.value.id, ()) else ""
            elif isinstance(node, ast.Import | ast.ImportFrom):
                names = [alias.name for alias in node.names] + [getattr(node, "module", "") or ""]
                name = next((one for one in names if one in UNIX_MODULES), "")
            if name:
                around = [f for f in functions if f.lineno <= line <= (f.end_lineno or 0)]
                inner = max(around, key=lambda f: f.lineno, default=tree)
                body = ast.get_source_segment(text, inner) if around else text
                yield place.relative_to(TOOL).as_posix(), name, body or ""


def test_what_only_unix_has_is_asked_for_first() -> None:
    """By hasattr, by getattr with something else, or by an import that may fail."""
    found = list(_uses())
    assert {name for _, name, _ in found} >= {"fchmod", "fcntl", "fork"}
    for file, name, body in found:
        asked = any(f'{ask}(os, "{name}"' in body for ask in ("hasattr", "getattr"))
        asked = asked or (name in UNIX_MODULES and "except ImportError" in body)
        guard = GUARDED.get((file, name))
        assert asked or (guard and guard in (TOOL / file).read_text(encoding="utf-8")), (file, name)


def test_every_module_of_tests_is_collected_anywhere() -> None:
    """What only Unix has is imported where it is used: a test is skipped then, and not a module."""
    found = [
        place.relative_to(ROOT).as_posix()
        for place in sorted((ROOT / "tests").rglob("*.py"))
        for node in ast.parse(place.read_text(encoding="utf-8")).body
        if isinstance(node, ast.Import | ast.ImportFrom)
        and UNIX_MODULES & {getattr(node, "module", ""), *(one.name for one in node.names)}
    ]
    assert found == []


@pytest.fixture
def no_unix(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take away what Windows has not; libraries take what they need of this system before."""
    for library in ("numpy", "scipy.special", "matplotlib.figure", "PIL.Image", "mkdocs.config"):
        importlib.import_module(library)
    for module, names in (("os", ONLY_UNIX["os"]), ("signal", ONLY_UNIX["signal"])):
        for name in names:
            monkeypatch.delattr(sys.modules[module], name, raising=False)
    for module in ("fcntl", "pwd", "grp", "resource"):
        monkeypatch.setitem(sys.modules, module, None)
    assert not hasattr(os, "fchmod")


@pytest.mark.usefixtures("no_unix")
def test_a_first_round_needs_nothing_of_unix(tmp_path: Path, command: Program) -> None:
    """From an empty folder to the site, with what only Unix has taken away."""
    root = tmp_path / "shop"
    chart = tmp_path / "chart.csv"
    chart.write_text("inches,S,M,L\nChest,18,20,22\nLength,28,29,30\n", encoding="utf-8")
    here = ("--ledger", str(root))
    style = ("reed-rush/t3", "--name", "T3", "--colours", "black", "--since", "2026-01-05")
    who = ("--by", "rv", "--lot", "7", "--date", "2026-01-20")
    steps: list[tuple[str, ...]] = [
        ("start", str(root), "--name", "Harebell Press", "--no-git"),
        ("add", "supplier", "Reed & Rush", *here),
        ("add", "style", *style, "--chart", str(chart), *here),
        ("plan", "reed-rush/t3", "--around", "M", "--day", "2026-01-12", *here),
        ("enter", "reed-rush/t3", "--put", "M-black-1.half_chest=20", *who, *here),
        ("receive", "reed-rush/t3", "--came", "M=9", *who, *here),
        ("check", *here),
        ("vet", "reed-rush/t3", *here),
        ("build", "--jobs", "1", *here),
    ]
    for step in steps:
        ended = command(*step)
        assert ended.code == 0, (step, ended.err)
    assert (root / "catalogue/index.html").is_file()
