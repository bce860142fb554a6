"""What many tests share: small ledgers, the demo shop's, and the program at both of its doors."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from shares import COLLECTED, NIGHT, is_left_for_the_night, is_night
from support import ROOT, SMALL_LEDGER, Ended, Files, LedgerMaker, Program

settings.register_profile("day", deadline=None, max_examples=40)
settings.register_profile("night", deadline=None, max_examples=400)


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the long tests be run whole."""
    parser.addoption("--night", action="store_true", help="run all of what is long, not a share")


def pytest_configure(config: pytest.Config) -> None:
    """Choose how much is run before the first test is collected."""
    if config.getoption("night"):
        os.environ[NIGHT] = "1"
    settings.load_profile("night" if is_night() else "day")
    # A shell ignores the interrupt for what it runs in the background, and children inherit it.
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(
    session: pytest.Session, config: pytest.Config, items: list[pytest.Item]
) -> None:
    """Leave by day what is for the night."""
    session.stash[COLLECTED] = frozenset(item.nodeid for item in items)
    if not is_night():
        left = [item for item in items if is_left_for_the_night(item)]
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if not is_left_for_the_night(item)]


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Let a worker that is done take over tests of another: those with a browser are the slowest.

    Handed out in equal numbers, they all fall to one worker, and the other waits.
    """
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log)


@pytest.fixture(scope="session", autouse=True)
def _own_state(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Give the tests a key of their own: they leave nothing in a developer's home."""
    os.environ["XDG_STATE_HOME"] = str(tmp_path_factory.mktemp("state"))


@pytest.fixture(scope="session")
def root() -> Path:
    """Return the project's folder."""
    return ROOT


@pytest.fixture(scope="session")
def demo_ledger() -> Path:
    """Return the demo shop's ledger; for reading only."""
    return ROOT / "ledger"


@pytest.fixture
def demo_copy(tmp_path: Path, demo_ledger: Path) -> Path:
    """Return a copy of the demo shop's ledger that a test may change."""
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    return Path(shutil.copytree(demo_ledger, tmp_path / "demo", ignore=leave))


@pytest.fixture
def ledger_factory(tmp_path: Path) -> LedgerMaker:
    """Return a maker of ledgers: ``ledger_factory({path: text or bytes}, base=True)``.

    With ``base`` it starts from `SMALL_LEDGER`; a path given as None is left out.
    """

    def make(files: Files | None = None, *, base: bool = True, name: str = "ledger") -> Path:
        folder = tmp_path / name
        folder.mkdir(parents=True, exist_ok=True)
        start: Files = SMALL_LEDGER if base else {}
        for path, content in {**start, **(files or {})}.items():
            if content is not None:
                place = folder / path
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(content if isinstance(content, bytes) else content.encode())
        return folder

    return make


@pytest.fixture(scope="session")
def small_ledger_files() -> Mapping[str, str]:
    """Return the files of the small ledger, for a test that changes one of them."""
    return dict(SMALL_LEDGER)


@pytest.fixture
def program(tmp_path: Path) -> Program:
    """Return the program in a process of its own: ``program("check", "--json", cwd=…, env=…)``.

    It sees an empty home and none of the caller's settings.
    """

    def start(
        *arguments: str | Path,
        cwd: Path | None = None,
        env: Mapping[str, str] | None = None,
        timeout: float = 120,
    ) -> Ended:
        home = tmp_path / "home"
        home.mkdir(exist_ok=True)
        done = subprocess.run(
            [sys.executable, "-m", "blankbook", *map(str, arguments)],
            cwd=cwd or tmp_path,
            env={
                "PATH": os.environ["PATH"],
                "HOME": str(home),
                "XDG_STATE_HOME": os.environ["XDG_STATE_HOME"],
                **(env or {}),
            },
            capture_output=True,
            timeout=timeout,
            check=False,
        )
        return Ended(done.returncode, done.stdout.decode(), done.stderr.decode())

    return start


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str]) -> Program:
    """Return the program in this process, which is fast: ``command("check", "--ledger", …)``."""

    def start(*arguments: str | Path) -> Ended:
        from blankbook.commands.main import run

        capsys.readouterr()
        code = run([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return Ended(code, said.out, said.err)

    return start


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return the path of a Chromium; a test that needs one is skipped where there is none."""
    named = os.environ.get("CHROMIUM", "")
    found = named or shutil.which("chromium") or shutil.which("chromium-browser")
    if not found:
        pytest.skip("needs Chromium: install it, or name it in CHROMIUM")
    return found
