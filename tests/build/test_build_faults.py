"""The old site or the new one, whole, whatever goes wrong and whenever it does."""

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

from blankbook.build import publish as publishing
from blankbook.build.build_site import (
    CACHE_NOT_SAVED,
    BrokenSiteError,
    build_site,
)
from blankbook.build.publish import repair
from blankbook.build.trust.build_lock import BusyError, build_lock
from blankbook.build.trust.kept_files import CACHE_NOT_WRITABLE
from blankbook.build.trust.output_place import MARK
from building import ROUND, build_without_cache, edit_file, site_files
from disk_calls import act_at_call, before_each_write
from support import LedgerMaker, Program

pytestmark = pytest.mark.fault
Sites = tuple[Path, dict[str, bytes], dict[str, bytes]]


@pytest.fixture
def built(ledger_factory: LedgerMaker, tmp_path: Path) -> Sites:
    """Return a ledger changed since its site was built, with the old site and the next one."""
    root = ledger_factory()
    build_site(root, root / "catalogue")
    old = site_files(root / "catalogue")
    edit_file(root, ROUND, "20 1/8", "20 1/4")
    return root, old, build_without_cache(root, tmp_path / "next")


def full_disk() -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def interrupt() -> None:
    raise KeyboardInterrupt


def die() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def in_a_child(root: Path, hook: Callable[[str], None]) -> int:
    """Build in a process of its own with *hook* set; return how it ended."""
    if not hasattr(os, "fork"):
        pytest.skip("only Unix forks")
    child = os.fork()
    if child == 0:
        code = 3
        try:
            with before_each_write(hook):
                build_site(root, root / "catalogue", jobs=1)
            code = 0
        finally:
            os._exit(code)
    return os.waitpid(child, 0)[1]


ENDINGS: dict[Callable[[], None], set[int]] = {
    full_disk: {0, 3 << 8},
    interrupt: {3 << 8},
    die: {signal.SIGKILL},
}
"""How the process may end; where only the cache could not be written, a build is a success."""


@pytest.mark.parametrize("most", [500, 2_000, 5_000])
def test_disk_that_fills_within_a_file(most: int, built: Sites) -> None:
    """No file may grow past *most* bytes: writing stops in the middle of one."""
    root, old, _ = built
    resource = pytest.importorskip("resource", reason="only Unix has it")

    def limit(_call: str) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    ended = in_a_child(root, limit)

    assert ended == 3 << 8
    assert site_files(root / "catalogue") == old
    assert not list(root.glob("catalogue.*"))


def test_disk_without_room_for_the_cache(built: Sites, monkeypatch: pytest.MonkeyPatch) -> None:
    """The site is there; what could not be noted down is said, and costs the next build time."""
    root, _, new = built

    def act(call: str) -> None:
        if ".json." in call and call.endswith(".part"):
            full_disk()

    with before_each_write(act):
        first = build_site(root, root / "catalogue", jobs=1)

    assert first.notes == (CACHE_NOT_SAVED,)
    assert site_files(root / "catalogue") == new
    second = build_site(root, root / "catalogue", jobs=1)
    assert (second.notes, site_files(root / "catalogue")) == ((), new)


# ---- the exchange ------------------------------------------------------------------------------


@pytest.fixture
def no_exchange(monkeypatch: pytest.MonkeyPatch) -> None:
    """Take away the system call that exchanges two folders, as elsewhere than on Linux."""
    monkeypatch.setattr(publishing, "exchange_folders", lambda _one, _other: False)


@pytest.mark.parametrize("act", ENDINGS, ids=lambda act: act.__name__)
@pytest.mark.usefixtures("no_exchange")
def test_fault_at_either_rename(act: Callable[[], None], built: Sites, tmp_path: Path) -> None:
    """Without the exchange there are two renames; between them there is no site.

    A fault puts the old site back at once, a kill leaves that to the next build.
    """
    root, old, new = built
    gone = 0
    for number in (1, 2):
        copy = Path(shutil.copytree(root, tmp_path / f"copy-{number}"))
        left = act_at_call(number, act)

        def hook(call: str, left: Callable[[str], None] = left) -> None:
            if call.startswith("os.rename") and "catalogue" in call and "charts" not in call:
                left(call)

        assert in_a_child(copy, hook) == (signal.SIGKILL if act is die else 3 << 8)
        gone += not (copy / "catalogue").exists()
        repair(copy / "catalogue")
        assert site_files(copy / "catalogue") == old
        build_site(copy, copy / "catalogue", jobs=1)
        assert site_files(copy / "catalogue") == new
        assert not list(copy.glob("catalogue.*"))
    assert gone == (act is die)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the exchange is Linux's")
def test_exchange_swaps_two_folders(tmp_path: Path) -> None:
    """Each gets the other's name, in one step."""
    first, second = tmp_path / "first", tmp_path / "second"
    for folder in (first, second):
        folder.mkdir()
        (folder / "name").write_text(folder.name)

    assert publishing.exchange_folders(first, second)
    assert (first / "name").read_text() == "second"


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the exchange is Linux's")
def test_a_reader_finds_a_site_at_every_moment(built: Sites) -> None:
    """Somebody who looks all the time never sees that there is none, or half of one."""
    root, old, new = built
    pages = {site["index.html"] for site in (old, new)}
    child = os.fork()
    if child == 0:
        try:
            for _ in range(3):
                build_site(root, root / "catalogue", jobs=1, fresh=True)
        finally:
            os._exit(0)
    looked = 0
    while os.waitpid(child, os.WNOHANG) == (0, 0):
        assert (root / "catalogue/index.html").read_bytes() in pages
        looked += 1
    assert looked > 100


def test_leftovers_of_others_stay(built: Sites) -> None:
    """Only folders with our mark, or with nothing in them, are swept."""
    root, _, _ = built
    names = ("new-abc", "new-mine", "old-abc", "new-empty")
    ours, theirs, older, empty = (root / f"catalogue.{name}" for name in names)
    for folder in (ours, theirs, older):
        folder.mkdir()
        (folder / "x").write_text("x")
    empty.mkdir()
    (ours / MARK).write_text("")
    (older / MARK).write_text("")
    (root / "catalogue.new-link").symlink_to(theirs)
    build_site(root, root / "catalogue")

    left = sorted(path.name for path in root.glob("catalogue.*"))
    assert left == ["catalogue.new-link", "catalogue.new-mine"]
    assert (theirs / "x").exists()


# ---- signals and locks -------------------------------------------------------------------------


def started(root: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """Start a build in a process of its own, and return once it holds the lock."""
    command = [sys.executable, "-m", "blankbook", "build", "--ledger", str(root), *arguments]
    child = subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.PIPE)
    deadline = time.monotonic() + 30
    lock = root / ".blankbook/lock"
    while lock.read_text().strip() != str(child.pid):
        assert child.poll() is None
        assert time.monotonic() < deadline
        time.sleep(0.02)
    return child


@pytest.mark.seldom(3)
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.parametrize("after", [0.0, pytest.param(0.8, marks=pytest.mark.night)])
def test_interrupt_ends_soon_and_leaves_the_site(
    number: signal.Signals, after: float, demo_copy: Path
) -> None:
    """Ctrl-C ends a build that has children of its own, which end with it."""
    build_site(demo_copy, demo_copy / "catalogue")
    old = site_files(demo_copy / "catalogue")
    child = started(demo_copy, "--fresh", "--jobs", "2")
    time.sleep(after)
    child.send_signal(number)
    _, said = child.communicate(timeout=30)  # waits for every process that holds the streams

    assert (child.returncode, said) == (130, b"interrupted\n")
    assert site_files(demo_copy / "catalogue") == old
    assert not list(demo_copy.glob("catalogue.*"))


@pytest.mark.seldom(4)
def test_killed_build_frees_the_lock_at_once(demo_copy: Path) -> None:
    """A child that outlives its killed parent does not keep the next build waiting."""
    build_site(demo_copy, demo_copy / "catalogue")
    old = site_files(demo_copy / "catalogue")
    child = started(demo_copy, "--fresh", "--jobs", "2")
    while not list(demo_copy.glob("catalogue.new-*/charts")):  # the children are at work
        assert child.poll() is None
        time.sleep(0.01)
    child.kill()
    child.wait()

    with build_lock(demo_copy / ".blankbook") as writable:
        assert writable
    child.communicate()
    build_site(demo_copy, demo_copy / "catalogue")
    assert site_files(demo_copy / "catalogue") == old
    assert not list(demo_copy.glob("catalogue.*"))


PARENT = """
import time
from blankbook.records.processes import Child
child = Child(lambda: time.sleep(120))
print(child._number, flush=True)
time.sleep(120)
"""


def is_alive(process: Path) -> bool:
    """Say whether a process is there and not ended."""
    try:
        return "(zombie)" not in (process / "status").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return False


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux ends them")
def test_no_child_outlives_its_killed_parent() -> None:
    """One that went on would write into a folder that the next build sweeps."""
    with subprocess.Popen([sys.executable, "-c", PARENT], stdout=subprocess.PIPE) as parent:
        assert parent.stdout
        child = Path("/proc", parent.stdout.readline().decode().strip())
        assert child.exists()
        parent.kill()
    deadline = time.monotonic() + 30
    while is_alive(child):
        assert time.monotonic() < deadline
        time.sleep(0.02)


def test_two_builds_at_once(built: Sites, program: Program) -> None:
    """The second one says who holds the ledger, and touches nothing."""
    root, old, _ = built
    with build_lock(root / ".blankbook"):
        with pytest.raises(BusyError):
            build_site(root, root / "catalogue")
        ended = program("build", "--ledger", root)

    assert ended.code == 3
    assert str(os.getpid()) in ended.err
    assert site_files(root / "catalogue") == old


@pytest.mark.parametrize("number", [errno.EROFS, errno.EACCES])
def test_ledger_that_cannot_be_written_to(number: int, built: Sites, tmp_path: Path) -> None:
    """Without a cache and a lock a site elsewhere can still be built."""
    root, _, new = built

    def act(call: str) -> None:
        if str(root) in call:
            raise OSError(number, os.strerror(number))

    with before_each_write(act):
        first = build_site(root, tmp_path / "elsewhere", jobs=1)
        second = build_site(root, tmp_path / "elsewhere", jobs=1)

    assert first.notes == second.notes == (CACHE_NOT_WRITABLE,)
    assert second.rendered == second.pages
    assert site_files(tmp_path / "elsewhere") == new


def test_broken_site_is_not_published(built: Sites, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page with a link that leads nowhere is our fault, and stays out of sight."""
    from blankbook.build import make_files

    root, old, _ = built
    real = make_files.make_body

    def breaking(page: Any, commits: Any) -> make_files.PageBody:
        body = real(page, commits)
        return make_files.PageBody(body.path, body.title, body.html + '<a href="no.html">x</a>')

    monkeypatch.setattr(make_files, "make_body", breaking)
    with pytest.raises(BrokenSiteError):
        build_site(root, root / "catalogue", jobs=1)
    assert site_files(root / "catalogue") == old
    assert not list(root.glob("catalogue.*"))
