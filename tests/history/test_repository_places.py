"""The review where a ledger may stand: in a submodule, under another name, in part of a history."""

import os
from pathlib import Path

import pytest

from made_repositories import Repository
from support import SMALL_LEDGER, Program

ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"
CHANGED = "20 1/8 in → 20 1/4 in"


def ledger_at(root: Path, folder: str = "") -> Repository:
    """Return a repository with the small ledger in it, committed once."""
    made = Repository(root)
    for path, text in SMALL_LEDGER.items():
        made.write(folder + path, text)
    made.commit("begins")
    return made


def edited(root: Path) -> None:
    """Put a reading right."""
    place = root / ROUND
    text = place.read_text(encoding="utf-8")
    place.write_text(text.replace("20 1/8", "20 1/4"), encoding="utf-8")


def review_text(program: Program, *arguments: str | Path, cwd: Path | None = None) -> str:
    """Return what the command says, without its line breaks."""
    ended = program("changes", *arguments, cwd=cwd)
    assert (ended.code, ended.err) == (0, "")
    return " ".join(ended.out.split())


@pytest.fixture
def outer(tmp_path: Path) -> Repository:
    """Return a repository that has a ledger as its submodule, in ``stock/ledger``."""
    ledger_at(tmp_path / "own")
    made = Repository(tmp_path / "outer")
    made.write("notes.txt", "the shop's other things\n")
    allowed = ("-c", "protocol.file.allow=always")
    own = str(tmp_path / "own")
    made.git(*allowed, "submodule", "--quiet", "add", own, "stock/ledger")
    made.commit("with its ledger")
    return made


@pytest.mark.night
def test_a_submodule_is_reviewed_by_its_own_history(outer: Repository, program: Program) -> None:
    """From inside it, from a folder in it, and from outside; the outer history is not asked."""
    inside = outer.root / "stock/ledger"
    edited(inside)
    for cwd, flags in (
        (inside, ()),
        (inside / "blanks/tarn-thrush", ()),
        (outer.root, ("--ledger", "stock/ledger")),
        (outer.root.parent, ("--ledger", inside)),
    ):
        assert CHANGED in review_text(program, *flags, cwd=cwd)
    sub = Repository(inside)
    sub.commit("put right")
    assert CHANGED in review_text(program, "HEAD~1", "HEAD", cwd=inside)
    assert "nothing differs" in review_text(program, cwd=inside)
    outer.commit("moved on")
    ended = program("changes", "HEAD~2", "HEAD", cwd=inside)
    assert ended.code == 2


@pytest.mark.seldom(3)
def test_a_ledger_that_holds_no_submodule_is_untouched_by_one_beside_it(
    outer: Repository, program: Program
) -> None:
    """The outer repository may have a ledger of its own, with another one as a submodule."""
    for path, text in SMALL_LEDGER.items():
        outer.write(f"mine/{path}", text)
    outer.commit("two ledgers")
    edited(outer.root / "stock/ledger")
    assert "nothing differs" in review_text(program, "--ledger", outer.root / "mine")
    edited(outer.root / "mine")
    assert CHANGED in review_text(program, "--ledger", outer.root / "mine")


@pytest.mark.seldom(3)
def test_a_detached_head_is_a_version_like_any_other(tmp_path: Path, program: Program) -> None:
    """Between commits, and against the folder."""
    made = ledger_at(tmp_path / "own")
    edited(made.root)
    made.commit("put right")
    made.git("checkout", "--quiet", "--detach", "HEAD~1")
    assert "nothing differs" in review_text(program, cwd=made.root)
    assert CHANGED in review_text(program, "HEAD", "main", cwd=made.root)
    edited(made.root)
    assert CHANGED in review_text(program, cwd=made.root)


@pytest.mark.seldom(3)
def test_a_shallow_clone_reviews_what_it_has(tmp_path: Path, program: Program) -> None:
    """The newest commit against the folder; an older one is said not to be there."""
    made = ledger_at(tmp_path / "own", "ledger/")
    edited(made.root / "ledger")
    made.commit("put right")
    shallow = tmp_path / "shallow"
    made.git("clone", "--quiet", "--depth=1", f"file://{made.root}", str(shallow))
    root = shallow / "ledger"
    assert "nothing differs" in review_text(program, cwd=root)
    text = (root / ROUND).read_text(encoding="utf-8")
    (root / ROUND).write_text(text.replace("20 1/4", "20 3/8"), encoding="utf-8")
    assert "20 1/4 in → 20 3/8 in" in review_text(program, cwd=root)
    ended = program("changes", "HEAD~1", cwd=root)
    assert (ended.code, ended.out) == (2, "")
    assert "only a part of the history was fetched" in ended.err


@pytest.mark.seldom(3)
def test_a_file_under_another_name_is_the_same_file(tmp_path: Path, program: Program) -> None:
    """A round that is called otherwise rewrites nothing, staged or not."""
    made = ledger_at(tmp_path / "own")
    new = ROUND.replace("first", "spring")
    (made.root / ROUND).rename(made.root / new)
    for _ in range(2):
        text = review_text(program, cwd=made.root)
        assert f"renamed, before {ROUND}" in text
        assert "rewritten" not in text
        made.git("add", "--all")


@pytest.mark.seldom(3)
def test_a_file_under_another_name_that_says_something_else_is_no_rename(
    tmp_path: Path, program: Program
) -> None:
    """The old evidence is gone: that is told, and what came is told."""
    made = ledger_at(tmp_path / "own")
    edited(made.root)
    (made.root / ROUND).rename(made.root / ROUND.replace("first", "spring"))
    text = review_text(program, cwd=made.root)
    assert "the past is rewritten in 1 file, 1 without a reason" in text
    assert f"{ROUND.replace('first', 'spring')} - added" in text


@pytest.mark.seldom(3)
def test_a_supplier_under_another_name_takes_its_blanks_along(
    tmp_path: Path, program: Program
) -> None:
    """Its file, its folder, and its key in every file: all of it is renamed, nothing rewritten."""
    made = ledger_at(tmp_path / "own")
    (made.root / "suppliers/tarn-thrush.yaml").rename(made.root / "suppliers/tarn.yaml")
    (made.root / "blanks/tarn-thrush").rename(made.root / "blanks/tarn")
    for folder, _, names in os.walk(made.root):
        for name in names:
            place = Path(folder) / name
            if place.suffix == ".yaml":
                text = place.read_text(encoding="utf-8")
                place.write_text(text.replace("tarn-thrush", "tarn"), encoding="utf-8")
    text = review_text(program, cwd=made.root)
    assert text.count("renamed, before ") == 3
    assert "rewritten" not in text


@pytest.mark.seldom(3)
def test_the_whole_ledger_in_another_folder_is_told(tmp_path: Path, program: Program) -> None:
    """Its place in the repository is part of a version: before, nothing was there."""
    made = ledger_at(tmp_path / "own", "ledger/")
    (made.root / "ledger").rename(made.root / "records")
    made.commit("moved")
    text = review_text(program, "HEAD~1", "HEAD", "--ledger", made.root / "records")
    assert "1 blank touched" in text
    assert "rewritten" not in text
