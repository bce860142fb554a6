"""A new shop's ledger: whole at once, and nothing of anybody's is touched."""

import json
import subprocess
from pathlib import Path

import pytest

from blankbook.commands.start import change_folder
from blankbook.entry.new.new_shop import new_shop_files
from support import Program

NAMES = ("Harebell Press", "it's: a #name", '"quoted"', "yes", "é à côté", "- dash", "{braces}")


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize("name", NAMES)
def test_a_new_ledger_is_whole(tmp_path: Path, command: Program, name: str, units: str) -> None:
    """It passes its check and its site is built, whatever the shop is called."""
    root = tmp_path / "shop"
    ended = command("start", str(root), f"--name={name}", "--units", units)
    assert ended.code == 0, ended.err
    checked = command("check", "--ledger", str(root))
    assert (checked.code, checked.out) == (0, "")
    built = command("build", "--ledger", str(root))
    assert built.code == 0, built.err
    assert "blankbook add supplier" in (root / "catalogue/index.html").read_text(encoding="utf-8")
    assert command("vet", "--ledger", str(root)).code == 0


def test_a_public_site_of_a_new_ledger_is_built_too(tmp_path: Path, command: Program) -> None:
    """There is nothing to show yet, and nothing breaks."""
    command("start", str(tmp_path / "shop"), "--name", "Harebell Press")
    assert (
        command(
            "build", "--public", "--out", str(tmp_path / "web"), "--ledger", str(tmp_path / "shop")
        ).code
        == 0
    )


def test_the_comments_explain_and_the_schemas_lie_beside(tmp_path: Path, command: Program) -> None:
    """An editor completes without a network: every schema that a file names is there."""
    root = tmp_path / "shop"
    command("start", str(root), "--name", "Harebell Press")
    text = (root / "shop.yaml").read_text(encoding="utf-8")
    assert text.splitlines()[0].endswith("$schema=schemas/shop.schema.json")
    assert text.count("\n# ") > 5
    settings = json.loads((root / ".vscode/settings.json").read_text(encoding="utf-8"))
    for schema in settings["yaml.schemas"]:
        assert json.loads((root / schema).read_text(encoding="utf-8"))["title"]


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path, command: Program) -> None:
    """Whatever it is; an empty repository is as good as an empty folder."""
    (tmp_path / "mine.txt").write_text("mine")
    ended = command("start", str(tmp_path), "--name", "X")
    assert ended.code == 2
    assert "is not empty" in ended.err
    assert [one.name for one in tmp_path.iterdir()] == ["mine.txt"]
    (tmp_path / "file").write_text("mine")
    assert command("start", str(tmp_path / "file"), "--name", "X").code == 2
    (tmp_path / "new/.git").mkdir(parents=True)
    assert command("start", str(tmp_path / "new"), "--name", "X").code == 0
    assert command("start", str(tmp_path / "new"), "--name", "X").code == 2


def test_a_dry_run_writes_nothing(tmp_path: Path, command: Program) -> None:
    """It shows each text as it would be."""
    ended = command("start", str(tmp_path / "shop"), "--name", "Harebell Press", "--dry-run")
    assert ended.code == 0
    assert "+shop: Harebell Press" in ended.out
    assert not (tmp_path / "shop").exists()


def test_what_was_done_is_told_as_data(tmp_path: Path, command: Program) -> None:
    """With a repository where one is asked for, and nothing committed in it."""
    ended = command("start", str(tmp_path / "shop"), "--name", "Harebell Press", "--git", "--json")
    told = json.loads(ended.out)
    assert told["schema"] == "blankbook/start/1"
    assert told["git"] is True
    assert sorted(told["written"]) == sorted(new_shop_files("x", "in", "USD", "1"))
    status = subprocess.run(
        ["git", "-C", str(tmp_path / "shop"), "status", "--porcelain"],
        capture_output=True,
        check=True,
    )
    assert b"shop.yaml" in status.stdout


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        (["--units", "ft"], "--units must be in or cm"),
        (["--currency", "dollars"], "--currency must be three capital letters"),
        (["--name", "  "], "--name must be"),
    ],
)
def test_wrong_use_is_told(tmp_path: Path, command: Program, flags: list[str], words: str) -> None:
    """Before anything is written."""
    ended = command("start", str(tmp_path / "shop"), *flags)
    assert ended.code == 2
    assert words in ended.err
    assert not (tmp_path / "shop").exists()


def test_without_git_the_ledger_is_there_all_the_same(
    tmp_path: Path, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """That there is no repository is said."""
    monkeypatch.setenv("PATH", str(tmp_path / "nothing"))
    ended = command("start", tmp_path / "shop", "--name", "Harebell Press", "--git")
    assert ended.code == 0
    assert "no repository was made: git is not installed" in ended.out
    assert (tmp_path / "shop/shop.yaml").is_file()


def test_what_git_is_told_to_run_does_not_run(
    tmp_path: Path, command: Program, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Hooks and templates of somebody's settings stay out of a new repository."""
    hooks = tmp_path / "template/hooks"
    hooks.mkdir(parents=True)
    (hooks / "post-checkout").write_text("#!/bin/sh\ntouch ran\n")
    home = tmp_path / "home"
    home.mkdir()
    (home / ".gitconfig").write_text(f"[init]\n\ttemplateDir = {tmp_path}/template\n")
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("GIT_TEMPLATE_DIR", str(tmp_path / "template"))
    root = tmp_path / "shop"
    assert command("start", root, "--name", "Harebell Press", "--git").code == 0
    assert (root / ".git").is_dir()
    assert not (root / ".git/hooks/post-checkout").exists()


@pytest.mark.parametrize("name", ["Inky Fox", "it's", "-dash", "plain", "a$b"])
def test_the_next_line_works_in_a_shell(tmp_path: Path, command: Program, name: str) -> None:
    """Pasted, it goes to the folder, whatever that is called."""
    ended = command("start", str(tmp_path / name), "--name", "Harebell Press")
    (line,) = [one for one in ended.out.splitlines() if one.startswith("next: ")]
    told = line.removeprefix("next: ").replace("blankbook add supplier NAME", "pwd")
    shell = subprocess.run(["sh", "-c", told], capture_output=True, text=True, check=True)
    assert shell.stdout.strip() == str(tmp_path / name)
    assert change_folder("-x", windows=False) == "cd -- -x && "
    assert change_folder("it's", windows=True) == "cd 'it''s'; "


def test_a_ledger_is_in_git_unless_told_not_to_be(tmp_path: Path, command: Program) -> None:
    """Version control is the point; without it, `changes` says what to do."""
    assert "a git repository" in command("start", tmp_path / "one", "--name", "X").out
    assert (tmp_path / "one/.git").is_dir()
    command("start", tmp_path / "two", "--name", "X", "--no-git")
    assert not (tmp_path / "two/.git").exists()
    ended = command("changes", "--ledger", tmp_path / "two")
    assert ended.code == 3
    assert "the ledger is not in git" in ended.err
    assert "git init, git add . and git commit" in ended.err


def test_line_ends_and_pictures_are_told_to_git() -> None:
    """A record has the same bytes on every system, and a photo is never changed."""
    lines = new_shop_files("x", "in", "USD", "1")[".gitattributes"].splitlines()
    assert {"*.yaml text eol=lf diff=blankbook", "*.jpg binary"} <= set(lines)
