"""A blank's page answers first, folds the rest, and fits: on a phone, in any window, on paper."""

import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from browser import quality

pytestmark = pytest.mark.browser
SCREEN = {"width": 360, "height": 640}
FAILING, MEETING = "blanks/copperbeck/c66.html", "blanks/tarn-thrush/h6.html"
OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"
SCROLLING = """() => [...document.querySelectorAll('table')].map(table => {
    const around = table.closest('.scroll') || table.parentElement;
    return [table.querySelector('caption').textContent.slice(0, 60),
        around.scrollWidth > around.clientWidth + 1, table.matches('.sheet, .kept'),
        getComputedStyle(around).backgroundImage !== 'none'];
}).filter(found => found[1])"""
"""The tables that scroll sideways: which, whether they are wide by nature, and whether it shows."""


def blank_pages(site: Path) -> list[Path]:
    """Return the page of every blank."""
    return sorted(site.glob("blanks/*/*.html"))


def test_a_blank_answers_on_the_first_screen_and_takes_six(site: Path, browser: Any) -> None:
    """What holds, the sentence, the sizes and what is next are seen at once; all of it in six."""
    page = browser.new_page(viewport=SCREEN)
    long = {}
    for place in blank_pages(site):
        page.goto(place.as_uri())
        ends = page.evaluate(
            """() => [document.documentElement.scrollHeight,
                document.querySelector('.headline').getBoundingClientRect().bottom,
                ...[...document.querySelectorAll('.verdict dt')].filter(head =>
                    ['Today', 'In the sizes', 'Next'].includes(head.textContent))
                    .map(head => head.parentElement.getBoundingClientRect().bottom)]"""
        )
        assert len(ends) == 5, place
        if ends[0] > 6 * SCREEN["height"] or max(ends[1:]) > SCREEN["height"]:
            long[place.stem] = ends
    page.close()
    assert long == {}


def test_folds_open_without_scripts(site: Path, browser: Any) -> None:
    """One by one by their line, or all at once by a link, and folded again by another."""
    context = browser.new_context(java_script_enabled=False, viewport=SCREEN)
    page = context.new_page()
    page.goto((site / MEETING).as_uri())
    table = page.locator("#size_against_chart-caption")
    rounds = page.locator("#rounds ~ *, .round").first
    assert not table.is_visible()
    page.locator("summary", has_text="Sizes").first.click()
    assert table.is_visible()
    assert not rounds.is_visible()
    page.get_by_role("link", name="Open all of it").click()
    assert rounds.is_visible()
    page.get_by_role("link", name="Fold it again").click()
    assert not rounds.is_visible()
    context.close()


@pytest.mark.seldom(4)
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("path", [FAILING, MEETING])
def test_what_is_folded_keeps_the_rules(path: str, width: int, site: Path, browser: Any) -> None:
    """With every fold open no rule of accessibility is broken, and nothing runs off the side."""
    with quality.watched(browser, width) as watch:
        watch.page.goto((site / path).as_uri())
        watch.page.evaluate(OPEN_ALL)
        assert quality.breaks_rules(watch.page) == []
        assert quality.scrolls_sideways(watch.page) == []


@pytest.mark.seldom(4)
@pytest.mark.parametrize("width", [360, 1280])
def test_no_table_scrolls_but_one_that_is_wide_by_nature(
    width: int, site: Path, browser: Any
) -> None:
    """On a phone only sheets to write on and blanks beside each other do, and they show it."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    wrong = {}
    for place in sorted(site.rglob("*.html")):
        page.goto(place.as_uri())
        page.evaluate(OPEN_ALL)
        found = [each for each in page.evaluate(SCROLLING) if width > 640 or not all(each[2:])]
        if found:
            wrong[place.relative_to(site).as_posix()] = found
    page.close()
    assert wrong == {}


@pytest.mark.parametrize("width", [641, 768, 900, 1024, 1150])
def test_the_catalogue_never_scrolls_sideways(width: int, catalogue: str, browser: Any) -> None:
    """Between a phone and a desk its rows become cards."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(catalogue)
    found = page.evaluate(SCROLLING)
    page.close()
    assert found == []


@pytest.mark.seldom(3)
def test_a_blank_is_printed_on_one_sheet(site: Path, browser: Any, tmp_path: Path) -> None:
    """What nobody opened stays off the paper; all of it is printed where all was opened."""
    reader = shutil.which("pdfinfo")
    if not reader:
        pytest.skip("needs pdfinfo: install poppler-utils")
    page = browser.new_page()

    def sheets(address: str) -> int:
        page.goto(address)
        page.evaluate("for (const i of document.images) i.loading = 'eager'")
        page.pdf(path=tmp_path / "page.pdf", format="A4")
        command = [reader, str(tmp_path / "page.pdf")]
        done = subprocess.run(command, capture_output=True, check=True)
        count = re.search(rb"Pages:\s+(\d+)", done.stdout)
        assert count
        return int(count[1])

    assert {p.stem: n for p in blank_pages(site) if (n := sheets(p.as_uri())) > 1} == {}
    assert sheets(f"{(site / MEETING).as_uri()}#everything") > 3
    page.close()
