"""Every page names the commit that it was made from, and a new commit costs next to nothing."""

import re
import shutil
from collections.abc import Callable
from html import escape
from pathlib import Path

import pytest
from PIL import Image

from blankbook.build import page_foot, rebuild
from blankbook.build.build_site import build_site
from building import ROUND, edit_file, site_files
from made_repositories import Repository
from support import LedgerMaker

STYLE = f"{ROUND.rpartition('/')[0]}/style.yaml"
IGNORED = "catalogue/\n.blankbook/\n"


@pytest.fixture
def made(ledger_factory: LedgerMaker) -> Repository:
    """A small ledger that was committed once, on the second of January."""
    repository = Repository(ledger_factory())
    repository.write(".gitignore", IGNORED)
    repository.commit()
    return repository


def feet(root: Path) -> set[str]:
    """Build, and return what the pages say of their commit: one text, or they differ."""
    build_site(root, root / "catalogue")
    found = set()
    for place in (root / "catalogue").rglob("*.html"):
        said = re.findall("ledger of the shop(.*?)[.] Meas", place.read_text(encoding="utf-8"))
        assert len(said) == 1, place
        found.add(said[0])
    return found


def head(made: Repository) -> str:
    return made.git("rev-parse", "HEAD").strip()[:10]


def test_every_page_names_commit_and_day(made: Repository) -> None:
    """The one that is checked out, with the day it was committed."""
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02"}


def _edit(made: Repository) -> None:
    edit_file(made.root, ROUND, "20 1/8", "20 1/4")


def _stage(made: Repository) -> None:
    _edit(made)
    made.git("add", ".")


def _add(made: Repository) -> None:
    made.write("suppliers/marshwort.yaml", "supplier: marshwort\nname: Marshwort\n")


def _remove(made: Repository) -> None:
    (made.root / ROUND).unlink()


@pytest.mark.parametrize("change", [_edit, _stage, _add, _remove])
def test_what_is_not_committed_is_said_until_it_is(
    made: Repository, change: Callable[[Repository], None]
) -> None:
    """Edited, staged, added or removed; put back, or committed, it is said no more."""
    feet(made.root)
    change(made)
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02 with uncommitted changes"}
    made.git("stash", "push", "--quiet", "--include-untracked")
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02"}
    made.git("stash", "pop", "--quiet")
    made.commit()
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-03"}


def test_what_no_page_is_made_from_does_not_count(made: Repository) -> None:
    """Notes beside the records, and the site itself."""
    made.write("notes.txt", "to buy")
    made.write("blanks/tarn-thrush/h6/notes.txt", "to buy")
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02"}


def test_a_photo_that_is_not_as_it_was_committed_counts(made: Repository) -> None:
    """The site is made from it, too."""
    record, photo = made.root / ROUND, made.root / f"{ROUND.rpartition('/')[0]}/sleeve.png"
    record.write_text(record.read_text() + "photos: [{file: sleeve.png, shows: the sleeve}]\n")
    Image.new("RGB", (8, 8), "white").save(photo)
    made.commit()
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-03"}
    Image.new("RGB", (8, 8), "black").save(photo)
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-03 with uncommitted changes"}


def test_line_ends_of_a_checkout_are_no_change(made: Repository) -> None:
    """Where git writes files with other line ends than it keeps, they are as committed."""
    place = made.root / STYLE
    place.write_bytes(place.read_bytes().replace(b"\n", b"\r\n"))
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02"}


def test_nothing_is_said_without_a_commit(ledger_factory: LedgerMaker) -> None:
    """No repository, and one in which nothing was committed."""
    root = ledger_factory()
    assert feet(root) == {""}
    made = Repository(root)
    assert feet(root) == {""}
    made.write(".gitignore", IGNORED)
    made.commit()
    assert feet(root) == {f", commit {head(made)} of 2026-01-02"}
    shutil.rmtree(root / ".git")
    assert feet(root) == {""}


def test_nothing_is_said_without_git(
    made: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a machine that does not have it."""
    (tmp_path / "none").mkdir()
    monkeypatch.setenv("PATH", str(tmp_path / "none"))
    assert feet(made.root) == {""}


def test_wherever_the_ledger_stands(made: Repository, tmp_path: Path) -> None:
    """A shallow clone, a branch that nobody is on, a submodule, a folder of a larger repository."""
    edit_file(made.root, ROUND, "20 1/8", "20 1/4")
    made.commit()
    said = {f", commit {head(made)} of 2026-01-03"}
    url = f"file://{made.root}"
    made.git("clone", "--quiet", "--depth=1", url, str(tmp_path / "shallow"))
    assert feet(tmp_path / "shallow") == said
    made.git("checkout", "--quiet", "HEAD~")
    assert feet(made.root) == {f", commit {head(made)} of 2026-01-02"}
    made.git("checkout", "--quiet", "main")

    outer = Repository(tmp_path / "outer")
    allowed = ("-c", "protocol.file.allow=always")
    outer.git(*allowed, "submodule", "--quiet", "add", str(made.root), "inside")
    outer.commit()
    assert feet(outer.root / "inside") == said

    shutil.copytree(made.root, outer.root / "beside", ignore=shutil.ignore_patterns(".git"))
    outer.day = 9
    outer.commit()
    assert feet(outer.root / "beside") == {f", commit {head(outer)} of 2026-01-10"}
    outer.write("elsewhere.txt", "not of the ledger")
    assert feet(outer.root / "beside") == {f", commit {head(outer)} of 2026-01-10"}


def test_a_commit_alone_makes_nothing_anew(
    made: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No record is read, no page rendered, no chart drawn: the feet are exchanged, and no more."""
    out = made.root / "catalogue"
    build_site(made.root, out)
    drawings = {path: path.stat().st_ino for path in out.rglob("*.svg")}
    made.commit("nothing of the ledger")
    monkeypatch.setattr(rebuild, "rebuild", None)
    built = build_site(made.root, out)
    assert (built.rendered, built.drawn) == (0, 0)
    assert {path: path.stat().st_ino for path in out.rglob("*.svg")} == drawings
    kept = site_files(out)
    assert head(made).encode() in kept["index.html"]

    monkeypatch.undo()
    build_site(made.root, tmp_path / "fresh", fresh=True)
    assert site_files(tmp_path / "fresh") == kept
    before = {path: path.stat().st_ino for path in out.rglob("*")}
    build_site(made.root, out)
    assert {path: path.stat().st_ino for path in out.rglob("*")} == before


def test_what_has_been_compared_is_not_read_again(
    made: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only a file that has changed is held against its commit."""
    feet(made.root)
    compared: list[str] = []

    def reading(place: Path) -> bytes:
        compared.append(place.name)
        return place.read_bytes()

    edit_file(made.root, ROUND, "20 1/8", "20 1/4")
    monkeypatch.setattr(page_foot, "_bytes", reading)
    feet(made.root)
    assert compared == [ROUND.rpartition("/")[2]]


def test_a_page_for_clients_names_no_commit(made: Repository) -> None:
    """A public site says when it was measured, and nothing of how the shop keeps its books."""
    out = made.root / "catalogue"
    build_site(made.root, out, public=True)
    everything = b"".join(site_files(out).values())
    assert head(made).encode() not in everything
    assert b"commit" not in everything


def test_words_of_a_foot_on_a_page_are_left_alone(made: Repository) -> None:
    """A note that repeats the foot stays as it was typed; the foot is the last of a page."""
    said = page_foot.foot_text(head(made), "2026-01-02", differs=False)
    place = made.root / STYLE
    place.write_text(place.read_text() + f'note: "{said}"\n')
    build_site(made.root, made.root / "catalogue")
    made.commit()
    build_site(made.root, made.root / "catalogue")
    made.commit()
    build_site(made.root, made.root / "catalogue")
    page = (made.root / "catalogue/blanks/tarn-thrush/h6.html").read_text()
    first, last = head(made), page[-200:]
    assert first in last
    assert page.count("2026-01-02. Measurements") == 1


def test_a_foot_has_nothing_to_be_escaped() -> None:
    """It is looked for in finished pages as it was said."""
    said = page_foot.foot_text("0123456789", "2026-01-02", differs=True)
    assert escape(said) == said
