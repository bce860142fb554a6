"""What git itself shows with the driver of the handbook: real git, whatever a file holds."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from blankbook.entry.new.new_shop import new_shop_files
from made_repositories import Repository
from support import ROOT, SMALL_LEDGER

STYLE = "blanks/tarn-thrush/h6/style.yaml"
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
PAGE = (ROOT / "site" / "handbook" / "changes.md").read_text(encoding="utf-8")
SHELL = re.findall(r"^git config (\S+) '(.+)'$", PAGE, re.MULTILINE)


class Shop:
    """A ledger in a repository, with a new shop's attributes and the handbook's one setting."""

    def __init__(self, folder: Path) -> None:
        self.made = Repository(folder / "shop")
        texts = new_shop_files("x", "in", "USD", "1")
        for path, text in {**SMALL_LEDGER, ".gitattributes": texts[".gitattributes"]}.items():
            self.made.write(path, text)
        self.made.commit("begins")
        ((self.key, self.driver),) = SHELL
        self.made.git("config", self.key, self.driver)
        self.bin = folder / "bin"
        self.bin.mkdir()
        place = self.bin / "blankbook"
        place.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m blankbook "$@"\n')
        place.chmod(0o755)
        self.path = f"{self.bin}:{os.environ['PATH']}"

    def git(self, *arguments: str, path: str = "") -> subprocess.CompletedProcess[bytes]:
        """Run git as a person does, with blankbook among the programs that are found."""
        return subprocess.run(
            ["git", "--no-pager", *arguments],
            cwd=self.made.root,
            env={"PATH": path or self.path, "HOME": str(self.made.root), "LC_ALL": "C.UTF-8"},
            capture_output=True,
            check=False,
        )

    def shown(self, *arguments: str) -> list[str]:
        """Return the lines that came or went, by what git shows; it must not fail."""
        ended = self.git(*arguments)
        assert (ended.returncode, ended.stderr) == (0, b"")
        lines = ended.stdout.decode().splitlines()
        return [line for line in lines if re.match(r"[-+](?![-+]{2} )", line)]


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Return such a shop."""
    return Shop(tmp_path)


MOVED = [
    "-pieces / M-black-1 / received / half_chest: 20 1/8 in (51.1175 cm)",
    "+pieces / M-black-1 / received / half_chest: 20 1/4 in (51.435 cm)",
]


@pytest.mark.seldom(2)
def test_diff_show_and_log_tell_facts(shop: Shop) -> None:
    """One reading that was put right is one fact, before it is staged, after, and in the past."""
    text = SMALL_LEDGER[ROUND]
    shop.made.write(ROUND, text.replace("20 1/8", "20.25"))
    assert shop.shown("diff") == MOVED
    shop.made.git("add", "--all")
    assert shop.shown("diff") == []
    assert shop.shown("diff", "--cached") == MOVED
    shop.made.commit("put right")
    assert shop.shown("show") == MOVED
    assert shop.shown("log", "-p", "-1") == MOVED
    assert len(shop.shown("log", "-p", "--", ROUND)) > 10


def test_another_spelling_is_no_difference(shop: Shop) -> None:
    """Another unit, a comment, another order: git shows nothing at all."""
    text = SMALL_LEDGER[ROUND].replace("20 1/8", "51.1175 cm")
    first, second = re.split(r"(?=  - piece: L)", text.partition("pieces:\n")[2])
    head = text.partition("pieces:\n")[0]
    shop.made.write(ROUND, f"# ours\n{head}pieces:\n{second}{first}")
    assert shop.shown("diff") == []
    assert shop.git("diff", "--no-textconv").stdout


def test_a_hundredth_of_a_millimetre_is_one(shop: Shop) -> None:
    """Inches are rounded for reading; what they stand for is told exactly."""
    for written in ("51.12 cm", "51.121 cm"):
        shop.made.write(ROUND, SMALL_LEDGER[ROUND].replace("20 1/8", written))
        assert shop.shown("diff")[1].endswith(f"20 1/8 in ({written})")


ODD: dict[str, tuple[bytes, str]] = {
    "a merge": (b"style: x\n<<<<<<< mine\na: 1\n=======\na: 2\n>>>>>>> theirs\n", "+<<<<<<< mine"),
    "no YAML": (b"pieces: [\n", "+pieces: ["),
    "no record": (b"key: value\n", "+key: value"),
    "another encoding": ("note: dépôt\n".encode("latin-1"), "+note: d"),
    "UTF-16": ("style: x\n".encode("utf-16"), "+not a text: 20 bytes, SHA-256 "),
    "binary": (bytes(range(256)) * 40, "+not a text: 10240 bytes, SHA-256 "),
    "deep": (b"a: [" * 50_000, "+a: [a: ["),
    "large": (b"key: value\n" * 200_000, "+key: value"),
    "aliases": (b"a: &a [1]\nb: [*a, *a]\n", "+a: &a [1]"),
    "control": (b'note: "\\e[2J"\n', '+note: "\\e[2J"'),
    "empty": (b"", "-lot: TT-2401-A"),
}


@pytest.mark.seldom(4)
@pytest.mark.parametrize("odd", ODD)
def test_git_never_fails_whatever_a_file_holds(shop: Shop, odd: str) -> None:
    """It is shown as it is, or told apart where it is no text; before and after it is committed."""
    body, says = ODD[odd]
    (shop.made.root / ROUND).write_bytes(body)
    told = [shop.git("diff")]
    shop.made.commit("odd")
    told.append(shop.git("show"))
    for ended in told:
        assert ended.returncode == 0, ended.stderr
        shown = ended.stdout.decode("utf-8", "replace")
        assert says in shown
        assert "\x1b" not in shown
        assert "\0" not in shown


def test_a_file_that_went_or_came_is_shown(shop: Shop) -> None:
    """One side of it is nothing."""
    (shop.made.root / ROUND).unlink()
    assert "-lot: TT-2401-A" in shop.shown("diff")
    shop.made.commit("gone")
    assert "+lot: TT-2401-A" in shop.shown("diff", "HEAD", "HEAD~1", "--", ROUND)


def test_what_nobody_can_see_is_written_out(shop: Shop) -> None:
    """A line end in a note stays inside its line."""
    shop.made.write(ROUND, SMALL_LEDGER[ROUND] + 'note: "one\\ntwo"\n')
    assert shop.shown("diff") == ["+note: one\\u000atwo"]


@pytest.mark.parametrize("setting", ["none", "without the program"])
def test_without_the_program_git_shows_lines(shop: Shop, setting: str) -> None:
    """The attribute alone changes nothing; the setting falls back on the file itself."""
    if setting == "none":
        shop.made.git("config", "--unset", shop.key)
    else:
        (shop.bin / "blankbook").unlink()
    shop.made.write(ROUND, SMALL_LEDGER[ROUND].replace("20 1/8", "20 1/4"))
    bare = f"{shop.bin}:/usr/bin:/bin"
    ended = shop.git("diff", path=bare)
    assert ended.returncode == 0
    assert b"+    received: {half_chest: 20 1/4, body_length: 28 7/8}" in ended.stdout
    assert (b"blankbook: not found" in ended.stderr) is (setting == "without the program")


def test_a_program_that_fails_is_no_loss(shop: Shop) -> None:
    """A broken installation ends in some code: the file is shown all the same."""
    (shop.bin / "blankbook").write_text("#!/bin/sh\nexit 70\n")
    shop.made.write(ROUND, SMALL_LEDGER[ROUND].replace("20 1/8", "20 1/4"))
    ended = shop.git("diff")
    assert ended.returncode == 0
    assert b"+    received: {half_chest: 20 1/4" in ended.stdout


def test_a_name_is_no_part_of_a_command(shop: Shop) -> None:
    """Spaces, quotes and what a shell would run, in the name of a file."""
    name = "blanks/tarn-thrush/h6/$(touch ran) '`touch ran`\" a.yaml"
    shop.made.write(name, SMALL_LEDGER[ROUND])
    shop.made.git("add", "--all", "--intent-to-add")
    assert "+lot: TT-2401-A" in shop.shown("diff")
    assert not list(shop.made.root.rglob("ran"))


def test_a_file_that_cannot_be_read_is_told(shop: Shop) -> None:
    """By hand, it says why on the error stream and ends well, as git needs it."""
    for place in ("nowhere.yaml", "blanks"):
        ended = subprocess.run(
            [shop.bin / "blankbook", "changes", "--textconv", shop.made.root / place],
            capture_output=True,
            check=False,
        )
        assert (ended.returncode, ended.stdout) == (0, b"")
        assert ended.stderr.startswith(b"cannot read ")
