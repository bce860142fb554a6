"""Publishing: the old site or the new one, whole, whatever goes wrong and whenever it does."""

import errno
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from blankbook.pages import publish as publishing
from blankbook.pages.build import BrokenSite, build_site
from blankbook.pages.links import broken_links
from blankbook.pages.publish import MARK, Busy, Refused, check_place, exchange, put_right
from support import LedgerMaker, Program

pytestmark = pytest.mark.fault
ROUND = "blanks/tarn-thrush/h6/2024-02-12-first.yaml"


def contents(site: Path) -> dict[str, bytes]:
    """Return every file of a site."""
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def built(ledger_factory: LedgerMaker) -> tuple[Path, dict[str, bytes]]:
    """Return a ledger with a site, changed since, and what its old site holds."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    old = contents(root / "catalogue")
    place = root / ROUND
    place.write_text(place.read_text().replace("20 1/8", "20 1/4"))
    return root, old


WRITES: dict[str, tuple[Any, str]] = {
    "write_bytes": (Path, "write_bytes"),
    "write_text": (Path, "write_text"),
    "mkdir": (Path, "mkdir"),
    "link": (os, "link"),
    "copy": (shutil, "copyfile"),
    "exchange": (publishing, "exchange"),
    "chmod": (Path, "chmod"),
}


@pytest.mark.parametrize("name", WRITES)
def test_a_full_disk_at_any_moment(
    name: str, built: tuple[Path, dict[str, bytes]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """At the n-th such call the disk is full, for every n until the build comes through.

    Each time the site is the old one, whole, or (where only the cache could not be written any
    more) the new one, whole, and nothing unfinished is left beside it.
    """
    root, old = built
    owner, function = WRITES[name]
    real = getattr(owner, function)
    fresh = contents_of_fresh(root)
    for fail_at in range(1, 200):
        calls = 0

        def failing(*arguments: Any, **named: Any) -> Any:
            nonlocal calls
            calls += 1
            if calls == fail_at:  # noqa: B023 - called within this turn
                raise OSError(errno.ENOSPC, "No space left on device")
            return real(*arguments, **named)

        with monkeypatch.context() as patch:
            patch.setattr(owner, function, failing)
            try:
                build_site(root, root / "catalogue", jobs=1)
            except OSError as error:
                if error.errno != errno.ENOSPC:
                    raise
        now = contents(root / "catalogue")
        assert now in (old, fresh)
        assert not list(root.glob("catalogue.*"))
        if calls < fail_at:
            assert fail_at > 1
            assert now == fresh
            return
    pytest.fail("the build never came through")


def contents_of_fresh(root: Path) -> dict[str, bytes]:
    """Return what a build from nothing would publish."""
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    copy = Path(shutil.copytree(root, root.parent / "copy", ignore=leave))
    build_site(copy, root.parent / "fresh")
    return contents(root.parent / "fresh")


KILLED = """
import os, signal, sys
from pathlib import Path
from blankbook.pages import {module} as module
real = module.{function}
def dying(*a, **k):
    if {before}:
        os.kill(os.getpid(), signal.SIGKILL)
    value = real(*a, **k)
    os.kill(os.getpid(), signal.SIGKILL)
module.{function} = dying
from blankbook.pages import build
build.{function} = dying if hasattr(build, {function!r}) else getattr(build, {function!r}, None)
build.build_site(Path({root!r}), Path({root!r}) / "catalogue", jobs=1)
"""
STAGES = [
    ("publish", "publish", True),
    ("publish", "publish", False),
    ("publish", "exchange", True),
    ("publish", "exchange", False),
    ("mkdocs_adapter", "render_site", True),
    ("mkdocs_adapter", "render_site", False),
    ("links", "broken_links", True),
    ("cache", "save", True),
    ("cache", "_write", False),
]


@pytest.mark.parametrize(("module", "function", "before"), STAGES)
def test_killed_before_or_after_a_step(
    module: str, function: str, before: bool, built: tuple[Path, dict[str, bytes]]
) -> None:
    """The site is the old or the new one, whole; the next build is right and tidies up."""
    root, old = built
    fresh = contents_of_fresh(root)
    script = KILLED.format(module=module, function=function, before=before, root=str(root))
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, check=False)
    assert done.returncode == -signal.SIGKILL, done.stderr.decode()
    assert contents(root / "catalogue") in (old, fresh)
    build_site(root, root / "catalogue")
    assert contents(root / "catalogue") == fresh
    assert not list(root.glob("catalogue.*"))


def test_without_an_exchange_a_kill_between_the_renames_is_put_right(
    built: tuple[Path, dict[str, bytes]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Elsewhere than on Linux two renames are needed; between them there is no site."""
    root, old = built
    real = Path.rename

    def dying(place: Path, target: Any) -> Path:
        if Path(target) == root / "catalogue":
            raise KeyboardInterrupt
        return real(place, target)

    def never(_one: Path, _other: Path) -> bool:
        return False

    monkeypatch.setattr(publishing, "exchange", never)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", dying)
        with pytest.raises(KeyboardInterrupt):
            build_site(root, root / "catalogue", jobs=1)
    assert not (root / "catalogue").exists()
    put_right(root / "catalogue")
    assert contents(root / "catalogue") == old
    build_site(root, root / "catalogue", jobs=1)
    assert contents(root / "catalogue") == contents_of_fresh(root)


def test_an_interrupt_ends_soon_and_leaves_the_site(demo_copy: Path) -> None:
    build_site(demo_copy, demo_copy / "catalogue", jobs=1)
    old = contents(demo_copy / "catalogue")
    command = [sys.executable, "-m", "blankbook", "build", "--ledger", str(demo_copy), "--fresh"]
    child = subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.PIPE)
    deadline = time.monotonic() + 20
    lock = demo_copy / ".blankbook/lock"
    while time.monotonic() < deadline and lock.read_text().strip() != str(child.pid):
        time.sleep(0.02)
    time.sleep(0.3)
    child.send_signal(signal.SIGINT)
    start = time.monotonic()
    child.communicate(timeout=20)
    assert child.returncode == 130
    assert time.monotonic() - start < 5
    assert contents(demo_copy / "catalogue") == old
    assert not list(demo_copy.glob("catalogue.*"))


def test_two_builds_at_once(built: tuple[Path, dict[str, bytes]], program: Program) -> None:
    root, old = built
    with publishing.locked(root / ".blankbook"):
        with pytest.raises(Busy):
            build_site(root, root / "catalogue")
        ended = program("build", "--ledger", root)
    assert ended.code == 3
    assert str(os.getpid()) in ended.err
    assert contents(root / "catalogue") == old


def test_a_ledger_that_cannot_be_written_to(
    built: tuple[Path, dict[str, bytes]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a cache and a lock a site elsewhere can still be built."""
    root, _ = built
    real = os.open

    def refusing(path: Any, *arguments: Any, **named: Any) -> int:
        if str(path).endswith(".blankbook/lock"):
            raise OSError(errno.EROFS, "Read-only file system")
        return real(path, *arguments, **named)

    monkeypatch.setattr(os, "open", refusing)
    build_site(root, tmp_path / "elsewhere")
    assert (tmp_path / "elsewhere/index.html").is_file()


def _link(root: Path) -> Path:
    (root / "link").symlink_to(root / "suppliers")
    return root / "link"


def _file(root: Path) -> Path:
    (root / "file").write_text("mine")
    return root / "file"


def _foreign(root: Path) -> Path:
    (root / "foreign").mkdir()
    (root / "foreign/mine.txt").write_text("mine")
    return root / "foreign"


def _checkout(root: Path) -> Path:
    (root / "checkout/.git").mkdir(parents=True)
    return root / "checkout"


BAD_PLACES: dict[str, Callable[[Path], Path]] = {
    "the ledger": lambda root: root,
    "above the ledger": lambda root: root.parent,
    "among the records": lambda root: root / "blanks/site",
    "the cache": lambda root: root / ".blankbook",
    "the top": lambda _: Path("/"),
    "home": lambda _: Path.home(),
    "a link": _link,
    "a file": _file,
    "a foreign folder": _foreign,
    "a checkout": _checkout,
}


@pytest.mark.parametrize("place", BAD_PLACES)
def test_a_place_that_must_not_be_buried(
    place: str, ledger_factory: LedgerMaker, command: Program
) -> None:
    root = ledger_factory()
    out = BAD_PLACES[place](root)
    before = contents(root)
    with pytest.raises(Refused):
        check_place(out, root)
    ended = command("build", "--ledger", root, "--out", out)
    assert ended.code == 2
    assert "--out" in ended.err
    assert contents(root) == before


def test_leftovers_of_others_stay(built: tuple[Path, dict[str, bytes]]) -> None:
    """Only folders with our mark are swept."""
    root, _ = built
    ours, theirs = root / "catalogue.new-abc", root / "catalogue.new-mine"
    for folder in (ours, theirs):
        folder.mkdir()
        (folder / "x").write_text("x")
    (ours / MARK).write_text("")
    build_site(root, root / "catalogue")
    assert (ours.exists(), theirs.exists()) == (False, True)


def test_the_new_site_shares_no_file_that_could_be_changed_behind_it(
    built: tuple[Path, dict[str, bytes]],
) -> None:
    """Kept files are linked from a site that is gone afterwards: each has one name."""
    root, _ = built
    build_site(root, root / "catalogue")
    assert {path.stat().st_nlink for path in (root / "catalogue").rglob("*.svg")} == {1}


def test_the_umask_is_heeded(ledger_factory: LedgerMaker, tmp_path: Path) -> None:
    root = ledger_factory()
    old = os.umask(0o022)
    try:
        build_site(root, tmp_path / "site")
    finally:
        os.umask(old)
    assert (tmp_path / "site").stat().st_mode & 0o777 == 0o755


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the exchange is Linux's")
def test_exchange_swaps_two_folders(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    for folder in (one, other):
        folder.mkdir()
        (folder / "name").write_text(folder.name)
    assert exchange(one, other)
    assert (one / "name").read_text() == "other"


class TestLinks:
    """The check of the finished pages can fail."""

    @pytest.mark.parametrize(
        ("html", "wrong"),
        [
            ('<a href="no.html">x</a>', "leads nowhere"),
            ('<img src="no.png" alt="">', "leads nowhere"),
            ('<a href="#no">x</a>', "names no place"),
            ('<a href="b.html#no">x</a>', "names no place"),
            ('<a href="../up.html">x</a>', "leaves the site"),
            ('<a href="/b.html">x</a>', "leaves the site"),
            ('<img src="https://example.invalid/x.png" alt="">', "leaves the site"),
            ('<a href="javascript:x">x</a>', "leaves the site"),
            ('<a href="//example.invalid/">x</a>', "leaves the site"),
            ('<p id="a"></p><p id="a"></p>', "twice"),
        ],
    )
    def test_what_is_broken_is_found(self, html: str, wrong: str, tmp_path: Path) -> None:
        (tmp_path / "a.html").write_text(f"<html> {html}")
        (tmp_path / "b.html").write_text('<html> <p id="here">')
        found = broken_links(tmp_path, ["a.html"])
        assert len(found) == 1
        assert wrong in found[0]

    def test_what_is_sound_is_left_alone(self, tmp_path: Path) -> None:
        (tmp_path / "a.html").write_text(
            '<a href="b.html#here">x</a> <a href="https://example.invalid/">y</a>'
        )
        (tmp_path / "b.html").write_text('<p id="here">')
        assert broken_links(tmp_path, ["a.html"]) == []

    def test_a_broken_site_is_not_published(
        self, built: tuple[Path, dict[str, bytes]], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from blankbook.pages import build

        root, old = built
        real = build.make_new

        def breaking(*arguments: Any) -> Any:
            bodies, charts = real(*arguments)
            return {path: body + '<a href="no.html">x</a>' for path, body in bodies.items()}, charts

        monkeypatch.setattr(build, "make_new", breaking)
        with pytest.raises(BrokenSite):
            build_site(root, root / "catalogue", jobs=1)
        assert contents(root / "catalogue") == old
