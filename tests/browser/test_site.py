"""The finished site as a person meets it: in a browser, from a plain folder, and on paper."""

import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from browser.quality import load_all

pytestmark = pytest.mark.browser

PAGES = (
    "index.html",
    "blanks/copperbeck/c66.html",
    "blanks/hobnettle/q7.html",
    "blanks/dabchick/d50.html",
    "blanks/dabchick/d42.html",
    "blanks/dabchick/d50/over-time.html",
    "suppliers/dabchick.html",
    "method.html",
    "clients.html",
    "sizes/standard-tee.html",
    "sheets/hobnettle/q7.html",
)


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("page_path", PAGES)
def test_page_fits_its_window(page_path: str, width: int, site: Path, browser: Any) -> None:
    """On a phone and on a desk, nothing makes the whole page scroll sideways."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto((site / page_path).as_uri())

    wide = page.evaluate("document.documentElement.scrollWidth")
    page.close()

    assert wide <= width


@pytest.mark.parametrize("page_path", PAGES)
def test_page_is_whole_by_itself(page_path: str, site: Path, browser: Any) -> None:
    """No request leaves the folder, nothing fails to load, and every picture is drawn."""
    page = browser.new_page()
    asked: list[str] = []
    faults: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("requestfailed", lambda request: faults.append(request.url))
    page.on("console", lambda message: faults.append(message.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto((site / page_path).as_uri())
    load_all(page)

    empty = page.evaluate("[...document.images].filter(i => !i.naturalWidth).map(i => i.src)")
    page.close()

    assert [url for url in asked if not url.startswith(site.as_uri())] == []
    assert faults == []
    assert empty == []


@pytest.mark.parametrize("page_path", PAGES)
def test_page_has_what_a_reader_without_eyes_needs(
    page_path: str, site: Path, browser: Any
) -> None:
    """A language, a title, one main heading, a main part, and words for every picture."""
    page = browser.new_page()
    page.goto((site / page_path).as_uri())

    found = page.evaluate(
        """() => ({
            lang: document.documentElement.lang,
            title: document.title !== "",
            h1: document.querySelectorAll("h1").length,
            main: document.querySelectorAll("main").length,
            silent: [...document.images].filter(i => !i.hasAttribute("alt")).length,
            headless: [...document.querySelectorAll("table")]
                .filter(t => !t.querySelector("th")).length,
        })"""
    )
    page.close()

    assert found == {"lang": "en", "title": True, "h1": 1, "main": 1, "silent": 0, "headless": 0}


def test_reading_needs_no_scripts(site: Path, browser: Any) -> None:
    """With scripts switched off a blank's page says the same."""
    texts = []
    for scripts in (True, False):
        context = browser.new_context(java_script_enabled=scripts)
        page = context.new_page()
        page.goto((site / "blanks/copperbeck/c66.html").as_uri())
        texts.append(page.locator("main").inner_text())
        context.close()

    assert "do not order" in texts[0]
    assert texts[0] == texts[1]


def test_printed_page_says_what_the_screen_says(site: Path, browser: Any, tmp_path: Path) -> None:
    """On paper a blank's page keeps its standing and the sentence that matters."""
    reader = shutil.which("pdftotext")
    if not reader:
        pytest.skip("needs pdftotext: install poppler-utils")
    page = browser.new_page()
    page.goto((site / "blanks/copperbeck/c66.html").as_uri())
    page.pdf(path=tmp_path / "page.pdf", format="Letter")
    heading = page.locator("h1").inner_text()
    page.close()

    done = subprocess.run([reader, tmp_path / "page.pdf", "-"], capture_output=True, check=True)
    text = " ".join(done.stdout.decode().split())

    assert " ".join(heading.split()) in text
    assert "do not order" in text
    assert "XL is no wider than L" in text
