"""The demo shop's site, built once for every worker, and a browser to look at it with."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from blankbook.commands.main import run
from browser.thumb import on_phone
from support import ROOT

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo shop's site, built into a folder with a space in its name."""
    folder = tmp_path_factory.mktemp("our shop")
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    shutil.copytree(ROOT / "ledger", folder / "ledger", ignore=leave)
    assert run(["build", "--ledger", str(folder / "ledger"), "--out", str(folder / "site")]) == 0
    return folder / "site"


@pytest.fixture(scope="module")
def browser(chromium: str) -> Iterator[Any]:
    """Return a browser without a window; it ends with its module, for others start their own."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        opened = player.chromium.launch(executable_path=chromium, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def catalogue(site: Path) -> str:
    """Return the address of the front page."""
    return (site / "index.html").as_uri()


@pytest.fixture
def phone(site: Path, browser: Any) -> Iterator[Any]:
    """Return the page on a phone, opened from disk and without a network."""
    with on_phone(site, browser) as page:
        yield page
