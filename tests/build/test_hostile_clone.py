"""A ledger that was cloned from anywhere makes a build write nowhere else, and believe nothing."""

import json
import os
import shutil
from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from blankbook.build.trust import kept_files, machine_key
from blankbook.text.writing import held_folder
from building import PAGE, ROUND, edit_file, site_files
from made_repositories import Repository
from support import LedgerMaker, Program

THEIRS = b"ssh-ed25519 AAAA, the only copy\n"


@pytest.fixture(params=["from folders", "by names"])
def outside(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Path:
    """Return a folder outside of the ledger with a file of somebody's; both ways of opening."""
    if request.param == "by names":
        monkeypatch.setattr(held_folder, "_OPENS_FROM_FOLDERS", False)
    folder = tmp_path / "outside"
    folder.mkdir()
    (folder / "keys").write_bytes(THEIRS)
    return folder


LINKS = {
    ".blankbook/lock": "keys",
    ".blankbook": "",
    "catalogue": "",
    "public": "",
}


@pytest.mark.parametrize("dangling", [False, True])
@pytest.mark.parametrize("path", LINKS)
def test_a_link_that_came_with_a_clone_is_named_and_left_alone(
    path: str, dangling: bool, outside: Path, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Whatever it leads to, a file, a folder, or nothing yet: exit 3, and nothing is touched."""
    root = ledger_factory()
    link = root / path
    link.parent.mkdir(exist_ok=True)
    target = outside / "missing" if dangling else outside / LINKS[path]
    link.symlink_to(target)
    out = ("--out", root / "public/site") if path == "public" else ()
    ended = command("build", "--ledger", root, *out)

    assert ended.code == 3
    assert str(link) in ended.err
    assert "link" in ended.err
    assert link.readlink() == target
    assert site_files(outside) == {"keys": THEIRS}


@pytest.mark.parametrize("name", ["", "index.json", "blanks.json"])
def test_a_link_in_the_memory_is_named_and_left_alone(
    name: str, outside: Path, ledger_factory: LedgerMaker, command: Program
) -> None:
    """A site's folder, or a file in it, that leads elsewhere is not written through."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    (folder,) = (one for one in (root / ".blankbook").iterdir() if one.is_dir())
    place = folder / name if name else folder
    shutil.move(place, outside / "moved")
    place.symlink_to(outside / "moved")
    before = site_files(outside)
    edit_file(root, ROUND, "20 1/8", "20 1/4")
    for more in ((), ("--fresh",)):
        ended = command("build", "--ledger", root, *more)
        assert (ended.code, str(place) in ended.err) == (3, True)
    assert site_files(outside) == before


@pytest.mark.parametrize("kind", ["pipe", "second name", "folder"])
def test_a_lock_that_is_something_else_is_left_alone(
    kind: str, outside: Path, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Nothing waits for a pipe, and a file with a name elsewhere is not emptied."""
    root = ledger_factory()
    lock = root / ".blankbook/lock"
    lock.parent.mkdir()
    if kind == "pipe":
        os.mkfifo(lock)
    elif kind == "second name":
        os.link(outside / "keys", lock)
    else:
        lock.mkdir()
    ended = command("build", "--ledger", root)

    assert ended.code == 3
    assert str(lock) in ended.err
    assert (outside / "keys").read_bytes() == THEIRS


@pytest.mark.parametrize("folder", ["blanks/tarn-thrush", "blanks", "blanks/tarn-thrush/h9"])
def test_a_new_style_is_not_written_through_a_link(
    folder: str, outside: Path, ledger_factory: LedgerMaker, command: Program
) -> None:
    """Where a folder of the ledger leads elsewhere, or to another place of the ledger."""
    root = ledger_factory()
    place = root / folder
    if place.exists():
        shutil.move(place, outside / "moved")
        place.symlink_to(outside / "moved")
    else:
        place.symlink_to(root / "suppliers")
    before = site_files(root), site_files(outside)
    ended = command(
        *("add", "style", "tarn-thrush/h9", "--name", "H9 tee", "--sizes", "S,M"),
        *("--colours", "black", "--construction", "side_seamed", "--wearer", "adult"),
        *("--ledger", root),
    )

    assert ended.code == 3
    assert (site_files(root), site_files(outside)) == before


def test_a_new_ledger_is_not_begun_through_a_link(
    outside: Path, tmp_path: Path, command: Program
) -> None:
    """A `.git` that leads elsewhere gets no repository."""
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / ".git").symlink_to(outside)
    ended = command("start", shop, "--name", "Harebell Press", "--git")

    assert ended.code in {2, 3}
    assert site_files(outside) == {"keys": THEIRS}


# ---- what is kept between builds ---------------------------------------------------------------


def forged(root: Path) -> None:
    """Change a page of the site, and have the memory vouch for it, as far as one can without a key.

    Its own words are written as a build that had made this page would have written them.
    """
    import hashlib

    page = root / "catalogue" / PAGE
    old = page.read_bytes()
    page.write_bytes(old.replace(b"</main>", b"<p>FORGED</main>", 1))
    assert page.read_bytes() != old
    (place,) = root.glob(".blankbook/*/index.json")
    head, _, body = place.read_bytes().partition(b"\n")
    data = json.loads(body)
    from blankbook.build.file_stamps import file_stamp, hash_file

    data["outputs"][PAGE][:5] = [*(file_stamp(str(page)) or ()), hash_file(str(page))]
    new = json.dumps(data, separators=(",", ":")).encode()
    mark = hashlib.sha256(new).hexdigest().encode()
    place.write_bytes(head.rpartition(b" ")[0] + b" " + mark + b"\n" + new)


def test_a_forged_page_is_made_anew(ledger_factory: LedgerMaker, command: Program) -> None:
    """The memory that vouches for it was not kept by this machine, and that is said."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    forged(root)
    ended = command("build", "--ledger", root)

    assert ended.code == 0
    assert b"FORGED" not in (root / "catalogue" / PAGE).read_bytes()
    assert kept_files.CACHE_FOREIGN in ended.err
    again = command("build", "--ledger", root)
    assert (again.code, again.err) == (0, "")
    assert "(0 made anew)" in again.out


def test_what_another_machine_kept_is_not_used(
    ledger_factory: LedgerMaker, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Everything is made anew there, and kept for the next build."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    right = site_files(root / "catalogue")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "other machine"))
    first = build_site(root, root / "catalogue")
    second = build_site(root, root / "catalogue")

    assert (first.notes, first.rendered) == ((kept_files.CACHE_FOREIGN,), first.pages)
    assert (second.notes, second.rendered, second.drawn) == ((), 0, 0)
    assert site_files(root / "catalogue") == right


def test_what_git_tracks_is_not_used(ledger_factory: LedgerMaker) -> None:
    """Even where this machine has kept it: it may have been changed on the way."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    one = Repository(root)
    one.git("add", "-f", ".blankbook", "catalogue")
    one.commit("all of it")
    built = build_site(root, root / "catalogue")

    assert built.notes == (kept_files.CACHE_TRACKED,)
    assert built.rendered == built.pages


@pytest.mark.parametrize("home", ["missing", "a file", "locked"])
def test_a_home_that_cannot_be_written_to_costs_only_time(
    home: str, ledger_factory: LedgerMaker, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The site is made without a memory, and that is said."""
    root, place = ledger_factory(), tmp_path / "no home"
    monkeypatch.delenv("XDG_STATE_HOME", raising=False)
    monkeypatch.setenv("HOME", str(place))
    monkeypatch.setenv("MPLCONFIGDIR", str(tmp_path / "fonts"))  # it would make a home
    if home == "a file":
        place.write_text("")
    elif home == "locked":

        def refuse(*_: object, **_more: object) -> None:
            raise PermissionError(13, "Permission denied")

        place.mkdir()
        monkeypatch.setattr(machine_key, "held", refuse)
    built = [build_site(root, root / "catalogue") for _ in range(2)]

    assert [one.notes for one in built] == [(kept_files.CACHE_WITHOUT_KEY,)] * 2
    assert [one.rendered for one in built] == [one.pages for one in built]
    assert home == "missing" or not (place.is_dir() and list(place.rglob("key")))


def test_a_key_never_comes_from_the_ledger(
    ledger_factory: LedgerMaker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A home inside of the ledger is none."""
    root = ledger_factory()
    monkeypatch.setenv("XDG_STATE_HOME", str(root / "state"))
    assert machine_key.machine_key(root) == b""
    assert not (root / "state").exists()


@pytest.mark.parametrize("damage", ["empty", "open to others", "a link"])
def test_a_key_that_others_may_have_written_is_made_anew(
    damage: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only what its owner alone could write is believed."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    root = tmp_path / "ledger"
    first = machine_key.machine_key(root)
    assert len(first) == machine_key.KEY_BYTES
    assert machine_key.machine_key(root) == first
    place = tmp_path / "state/blankbook/key"
    if damage == "empty":
        place.write_bytes(b"")
    elif damage == "open to others":
        place.chmod(0o644)
    else:
        place.rename(tmp_path / "elsewhere")
        place.symlink_to(tmp_path / "elsewhere")
    second = machine_key.machine_key(root)

    assert len(second) == machine_key.KEY_BYTES
    assert second != first
    assert place.stat().st_mode & 0o777 == 0o600
