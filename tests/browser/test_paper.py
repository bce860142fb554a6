"""What is printed to be written on, or to be handed over, is whole on A4 and on Letter."""

import html
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

SHEETS = ("sheets/tarn-thrush/h6.html", "sheets/hobnettle/q7.html")
CHARTS = ("sizes/standard-tee.html", "sizes/playground-tee.html")
WIDTHS = {"A4": 595, "Letter": 612}
"""Points: 210 mm and 8.5 in."""
MARGIN = 14 / 25.4 * 72


@pytest.fixture(scope="module")
def page(browser: Any) -> Iterator[Any]:
    """Return a page of a browser without a window."""
    opened = browser.new_page()
    yield opened
    opened.close()


def words_of(place: Path) -> list[tuple[int, float, str]]:
    """Return every word of a printed page: number of the page, right end in points, text."""
    reader = shutil.which("pdftotext")
    if not reader:
        pytest.skip("needs pdftotext: install poppler-utils")
    done = subprocess.run([reader, "-bbox", place, "-"], capture_output=True, check=True)
    found, number = [], 0
    for line in done.stdout.decode().splitlines():
        number += line.strip().startswith("<page ")
        if word := re.search(r'<word .*xMax="([0-9.]+)".*>(.*)</word>', line):
            found.append((number, float(word[1]), word[2]))
    return found


def room(paper: str) -> int:
    """Return the width between the margins, in CSS pixels."""
    return int((WIDTHS[paper] - 2 * MARGIN) / 72 * 96)


def needs(page: Any, paper: str) -> int:
    """Return the width that a page takes on paper; one that needs more is printed smaller."""
    page.emulate_media(media="print")
    page.set_viewport_size({"width": room(paper), "height": 1000})
    wide: int = page.evaluate("document.documentElement.scrollWidth")
    page.emulate_media(media="null")
    return wide


@pytest.mark.parametrize("paper", WIDTHS)
@pytest.mark.parametrize("path", SHEETS + CHARTS)
def test_nothing_is_cut_at_the_side(
    path: str, paper: str, site: Path, page: Any, tmp_path: Path
) -> None:
    """Every column ends inside the margin, and every word of every table is there."""
    page.goto((site / path).as_uri())
    page.evaluate("for (const i of document.images) i.loading = 'eager'")
    page.pdf(path=tmp_path / "page.pdf", format=paper)
    texts = page.evaluate("[...document.querySelectorAll('td, th')].map(c => c.textContent)")
    words = words_of(tmp_path / "page.pdf")
    printed = [text for _, _, text in words]

    assert needs(page, paper) <= room(paper)
    assert max(end for _, end, _ in words) <= WIDTHS[paper] - MARGIN + 1
    wanted = [word for text in texts for word in text.split()]
    assert [word for word in set(wanted) if printed.count(word) < wanted.count(word)] == []


@pytest.mark.parametrize("paper", WIDTHS)
@pytest.mark.parametrize("path", SHEETS)
def test_a_block_of_the_sheet_is_on_one_page(
    path: str, paper: str, site: Path, page: Any, tmp_path: Path
) -> None:
    """No size is begun on one page and ended on the next; the last column is as wide as others."""
    page.set_viewport_size({"width": 1280, "height": 800})
    page.goto((site / path).as_uri())
    page.pdf(path=tmp_path / "page.pdf", format=paper)
    words = words_of(tmp_path / "page.pdf")
    heads = [number for number, _, text in words if text == "Size"]
    ends = [number for number, _, text in words if text == "charted"]
    last_rows = [number for number, _, text in words if text == "washes,"]

    assert len(heads) == len(ends) == len(last_rows) == page.locator("table").count()
    assert heads == ends == last_rows


@pytest.mark.parametrize("paper", WIDTHS)
def test_five_sizes_take_two_sheets(paper: str, site: Path, page: Any, tmp_path: Path) -> None:
    """What is written once stands at the top once, and no third sheet holds a single size."""
    page.goto((site / SHEETS[0]).as_uri())
    page.pdf(path=tmp_path / "page.pdf", format=paper)
    words = words_of(tmp_path / "page.pdf")

    assert [number for number, _, text in words if text == "tape"] == [1]
    assert max(number for number, _, _ in words) == 2


HEADED = (
    "blanks/osierbank/o180/over-time.html",
    "guide.html",
    "sizes/standard-tee.html",
    "blanks/tarn-thrush/h6.html#everything",
)


@pytest.mark.parametrize("path", HEADED)
def test_nothing_that_leads_on_ends_a_page(
    path: str, site: Path, page: Any, tmp_path: Path
) -> None:
    """A heading, the words that follow it and the head of a table are never a page's last."""
    page.goto(f"{site.as_uri()}/{path}")
    page.evaluate("for (const i of document.images) i.loading = 'eager'")
    lead = page.evaluate(
        """[...document.querySelectorAll('h2, h3, h2 + p, h3 + p, thead tr')].map(
            place => [...place.querySelectorAll('th')].map(head => head.textContent).join(' ')
                || place.textContent)"""
    )
    page.pdf(path=tmp_path / "page.pdf", format="A4")
    pages: dict[int, list[str]] = {}
    for number, _, text in words_of(tmp_path / "page.pdf"):
        pages.setdefault(number, []).append(html.unescape(text))

    assert len(pages) > 1
    ends = [" ".join(words)[-400:] for words in list(pages.values())[:-1]]
    assert [line for line in lead for end in ends if end.endswith(" ".join(line.split()))] == []


def test_too_wide_a_sheet_would_be_seen(site: Path, page: Any) -> None:
    """The same look finds a page whose table runs off the paper."""
    page.goto((site / SHEETS[0]).as_uri())
    page.evaluate("document.querySelector('.sheet').style.width = '900px'")

    assert needs(page, "A4") > room("A4")


def test_every_sheet_of_the_catalogue_has_its_heads(
    page: Any, catalogue: str, tmp_path: Path
) -> None:
    """On paper a column is not to be scrolled back to: its words stand on each sheet with rows."""
    page.goto(catalogue)
    page.locator(".mark").last.wait_for(state="attached")
    page.pdf(path=tmp_path / "c.pdf", format="A4", prefer_css_page_size=True)
    words = words_of(tmp_path / "c.pdf")
    rows = {number for number, _, word in words if word == "g/m2" or "cotton" in word}
    heads = {number for number, _, word in words if word == "claimed"}
    assert len(rows) > 1
    assert rows <= heads
