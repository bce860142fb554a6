"""The page that readings are typed into, as a thumb meets it on a phone."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from blankbook.records.load_ledger import load_ledger
from support import ROOT

PAGE = "table/hobnettle/q5/2026-11-16-winter.html"
ROUND = "blanks/hobnettle/q5/2026-11-16-winter.yaml"


@contextmanager
def on_phone(
    site: Path, browser: Any, *, wide: int = 360, high: int = 640, first: str = ""
) -> Iterator[Any]:
    """Open the page on a touch screen; *first* is a script that makes the browser another one."""
    context = browser.new_context(
        viewport={"width": wide, "height": high},
        offline=True,
        accept_downloads=True,
        has_touch=True,
        is_mobile=True,
    )
    if first:
        context.add_init_script(first)
    page = opened(context, site)
    yield page
    assert page.said == []
    context.close()


def opened(context: Any, site: Path) -> Any:
    """Return one more window of the page, which notes what goes wrong in it."""
    page = context.new_page()
    page.said = []
    page.on("console", lambda message: page.said.append(message.text))
    page.on("pageerror", lambda error: page.said.append(str(error)))
    page.goto((site / PAGE).as_uri())
    return page


def tap(page: Any, *keys: str) -> None:
    """Tap keys by what stands on them."""
    for key in keys:
        page.locator(".keys").get_by_role("button", name=key, exact=True).tap()


def reading(page: Any, digits: str, mark: str = "take") -> None:
    """Type a reading: a mark of the tape takes it, and without one the key that says so."""
    tap(page, *digits, mark)


def echo(page: Any) -> str:
    """Return what was said last; a number is held together by spaces that do not break."""
    return str(page.locator(".echo").inner_text()).replace("\xa0", " ")


def cell(page: Any) -> str:
    """Return which cell is asked for."""
    return str(page.locator(".cell").inner_text()).replace("\xa0", " ")


def file_of(page: Any) -> str:
    """Return what the file holds by now."""
    return str(page.locator("#text").input_value())


def again(page: Any) -> None:
    """Ask for one more reading."""
    page.locator(".keys").get_by_role("button", name="one more reading").tap()


def keep(page: Any) -> None:
    """Keep what was asked about, as late as a person who has read the question."""
    page.wait_for_timeout(450)
    tap(page, "keep")


def finished(page: Any, tmp_path: Path) -> Any:
    """Return the round of a ledger in which the downloaded file has replaced the planned one."""
    place = tmp_path / "ledger"
    shutil.copytree(ROOT / "ledger", place, ignore=shutil.ignore_patterns("catalogue"))
    with page.expect_download() as got:
        page.get_by_role("link", name="download").tap()
    got.value.save_as(place / ROUND)
    loaded = load_ledger(place)
    assert [
        finding for finding in loaded.findings if finding.path == ROUND and finding.level == "error"
    ] == []
    assert loaded.ledger
    return loaded.ledger.blanks["hobnettle/q5"].rounds[-1]
