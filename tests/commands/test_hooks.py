"""The hooks that run before a commit: their definition, and what they do in real repositories."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from made_repositories import Repository
from support import ROOT, SMALL_LEDGER

HOOKS: list[dict[str, Any]] = yaml.safe_load(
    (ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
)
KNOWN: dict[str, type] = {
    "id": str,
    "name": str,
    "entry": str,
    "language": str,
    "description": str,
    "files": str,
    "exclude": str,
    "args": list,
    "types": list,
    "always_run": bool,
    "pass_filenames": bool,
    "require_serial": bool,
    "verbose": bool,
    "stages": list,
    "minimum_pre_commit_version": str,
}
"""Keys of a hook's definition with their types: pre-commit's documentation, from memory."""
NEEDED = {"id", "name", "entry", "language"}
SUPPLIER = "suppliers/tarn-thrush.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


@pytest.mark.parametrize("hook", HOOKS, ids=lambda one: str(one["id"]))
def test_a_hook_is_defined_as_pre_commit_wants_it(hook: dict[str, Any]) -> None:
    """Known keys with values of their types, and a command that this project installs."""
    assert set(hook) >= NEEDED
    assert {key: type(value) for key, value in hook.items()} == {key: KNOWN[key] for key in hook}
    assert re.fullmatch(r"[a-z][a-z-]*", hook["id"])
    assert hook["entry"].split()[0] == "blankbook"
    assert hook["language"] == "python"


@pytest.mark.parametrize("hook", HOOKS, ids=lambda one: str(one["id"]))
def test_a_hook_looks_at_the_whole_ledger_at_every_commit(hook: dict[str, Any]) -> None:
    """A removed file is in no list of files, and a rule may be broken far from what changed."""
    assert hook["always_run"] is True
    assert hook["pass_filenames"] is False
    assert hook["require_serial"] is True


class Shop:
    """A repository whose hooks are those above, run by pre-commit from what is installed here."""

    def __init__(self, root: Path, folder: str, runner: str) -> None:
        self.made = Repository(root)
        self.folder = folder
        self.runner = runner
        for path, text in SMALL_LEDGER.items():
            self.made.write(folder + path, text)
        more = {"args": ["--ledger", folder]} if folder else {}
        hooks = [hook | {"language": "system"} | more for hook in HOOKS]
        config = {"repos": [{"repo": "local", "hooks": hooks}]}
        self.made.write(".pre-commit-config.yaml", yaml.safe_dump(config))
        bin_ = root.parent / "bin"
        bin_.mkdir()
        (bin_ / "blankbook").write_text(f'#!/bin/sh\nexec "{sys.executable}" -m blankbook "$@"\n')
        (bin_ / "blankbook").chmod(0o755)
        self.path = f"{bin_}:{os.environ['PATH']}"
        self.made.commit("begins")

    def run(self) -> subprocess.CompletedProcess[str]:
        """Run what a commit would run."""
        home = self.made.root.parent / "home"
        home.mkdir(exist_ok=True)
        return subprocess.run(
            [*self.runner.split("\0"), "run", "--color=never"],
            cwd=self.made.root,
            env={"PATH": self.path, "HOME": str(home), "PRE_COMMIT_HOME": str(home / "kept")},
            capture_output=True,
            text=True,
            check=False,
        )


@pytest.fixture
def runner() -> str:
    """Return how pre-commit is started; without it a test is skipped."""
    found = shutil.which("pre-commit")
    if found:
        return found
    pytest.importorskip("pre_commit", reason="needs pre-commit")
    return f"{sys.executable}\0-m\0pre_commit"


@pytest.mark.seldom(3)
@pytest.mark.parametrize("folder", ["", "ledger/"])
def test_what_a_commit_is_told(tmp_path: Path, runner: str, folder: str) -> None:
    """A sound change passes with its meaning; a removed supplier stops; unstaged work is kept."""
    shop = Shop(tmp_path / "shop", folder, runner)
    right = SMALL_LEDGER[ROUND]
    shop.made.write(folder + ROUND, right.replace("20 1/8", "20 1/4"))
    shop.made.git("add", "--all")
    shop.made.write(folder + ROUND, right.replace("20 1/8", "broken"))
    ended = shop.run()
    assert ended.returncode == 0, ended.stdout
    assert "20 1/8 in → 20 1/4 in" in " ".join(ended.stdout.split())
    assert "broken" in (shop.made.root / folder / ROUND).read_text(encoding="utf-8")

    shop.made.git("reset", "--quiet", "--hard")
    shop.made.git("rm", "--quiet", folder + SUPPLIER)
    ended = shop.run()
    assert ended.returncode == 1
    assert "unknown supplier tarn-thrush" in ended.stdout
    assert f"{SUPPLIER}: removed" in ended.stdout


def test_a_commit_of_something_else_is_not_stopped(tmp_path: Path, runner: str) -> None:
    """Where the ledger is sound; it is told that nothing of it differs."""
    shop = Shop(tmp_path / "shop", "", runner)
    shop.made.write("notes.txt", "of no record\n")
    shop.made.git("add", "--all")
    ended = shop.run()
    assert ended.returncode == 0, ended.stdout
    assert "nothing differs in meaning" in ended.stdout
