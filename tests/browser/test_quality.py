"""Every page of the demo shop's site, looked at by machine: each check, on each page.

The pages are shared out over parts, so that workers can share the looking.
"""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from browser import quality
from shares import is_night, share

pytestmark = pytest.mark.browser
PARTS = 6 if is_night() else 2
KINDS = (
    "index.html",
    "blanks/copperbeck/c66.html",
    "suppliers/dabchick.html",
    "suppliers.html",
    "method.html",
    "guide.html",
    "measuring.html",
    "glossary.html",
    "handbook/answers.html",
    "handbook/index.html",
    "compare.html",
    "clients.html",
    "blanks/tarn-thrush/h6/earlier.html",
    "blanks/dabchick/d50/over-time.html",
    "sheets/tarn-thrush/h6.html",
    "orders.html",
    "orders/wether-teasel/w200/2026-11-24-winter-market-order.html",
)
"""A page of every kind but one."""
TABLE = "table/hobnettle/q5/2026-11-16-winter.html"
"""The other kind: it acts by scripts, and its tests are its own."""
ACTING = {"index.html", "compare.html"}
"""The pages that bring scripts, besides the tables for readings."""


def pages_of(site: Path, part: int) -> list[Path]:
    """Return every so-manieth page, so that the parts together are what is looked at.

    By day that is every other kind and a few of the other pages, at night the whole site.
    """
    kinds = [site / path for path in (*KINDS, TABLE)]
    others = sorted(set(site.rglob("*.html")) - set(kinds))
    return [*share(kinds, one_in=2), *share(others, one_in=40)][part::PARTS]


@pytest.fixture(scope="session")
def looks() -> dict[int, set[str]]:
    """Return what each width has looked at already, for the rules of colour."""
    return {360: set(), 1280: set()}


@pytest.mark.parametrize("part", range(PARTS))
def test_page_is_good(part: int, site: Path, browser: Any, looks: dict[int, set[str]]) -> None:
    """Each page of the site, from disk, on a phone, at a desk and without scripts.

    No message, no other host, at most 100 kB at first, words in drawings readable; nothing leaves
    its place at 320 pixels, at twice the size, spaced, or in forced colours; reading needs no
    script, and without them no control is left that does nothing: few pages bring any at all. And
    WCAG 2.2 A and AA and best practice, by axe-core. A scheme exchanges colours and nothing
    else, so only the rules of colour are asked in both. What shows the same in a wide window is
    asked there only what sizes and places decide.
    """
    wrong = {}
    with (
        quality.watched(browser, 360, with_axe=True) as phone,
        quality.watched(browser, 1280) as desk,
        quality.watched(browser, 1280, java_script_enabled=False) as bare,
    ):
        for place in pages_of(site, part):
            found = []
            acts = quality.has_scripts(place)
            in_site = place.relative_to(site).as_posix()
            assert acts == (in_site in ACTING or place.parent.parent.parent.name == "table")
            watches = (phone, desk, bare) if acts else (phone, desk)
            for watch in watches:
                watch.forget()
                watch.page.emulate_media(color_scheme="light")
                watch.page.goto(place.as_uri())
                assert any(url.endswith("/site.css") for url in watch.asked)
            for watch in (phone, desk):  # a browser without scripts asks for all pictures at once
                found += quality.weighs_too_much(watch)
            found += quality.has_small_words(phone.page)
            found += quality.has_controls(bare.page if acts else phone.page)
            wide = quality.shows(desk.page)
            same = quality.shows(phone.page) == wide
            whole = place.relative_to(site).as_posix() in KINDS
            found += quality.breaks_other_rules(phone.page)
            found += _pale(phone.page, looks[360], ("light", "dark"), whole=whole)
            found += quality.loses_its_shape(phone.page)
            phone.page.set_viewport_size(desk.page.viewport_size)
            widened = phone.page if quality.shows(phone.page) == wide else desk.page
            found += quality.breaks_other_rules(widened, placed_only=same)
            found += _pale(widened, looks[1280], ("dark", "light"), whole=whole)
            phone.page.set_viewport_size({**phone.page.viewport_size, "width": 360})
            for watch in watches:
                found += quality.speaks(watch, site.as_uri())
            if found:
                wrong[place.relative_to(site).as_posix()] = found
    assert wrong == {}
    assert all(len(known) > 40 for known in looks.values()), "light and dark of twenty at the least"


def _pale(page: Any, known: set[str], schemes: tuple[str, str], *, whole: bool) -> list[str]:
    """Return what colours break in both schemes; of a *whole* page every element in the first."""
    found = []
    for place, scheme in enumerate(schemes):
        page.emulate_media(color_scheme=scheme)
        every = whole and place == 0
        found += quality.breaks_a_colour(page) if every else quality.breaks_colours(page, known)
    page.emulate_media(color_scheme="light")
    return found


@pytest.mark.seldom(4)
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
def test_no_rule_is_broken_after_the_controls_were_used(
    scheme: str, width: int, catalogue: str, browser: Any
) -> None:
    """Filtered, searched, sorted, with rows chosen, with nothing found, and all shown again."""
    with quality.watched(browser, width, color_scheme=scheme) as watch:
        page = watch.page
        known = set[str]()
        page.goto(catalogue)
        for use in USES:
            use(page)
            assert quality.breaks_other_rules(page) == [], use.__doc__
            assert quality.breaks_colours(page, known) == [], use.__doc__
            assert quality.scrolls_sideways(page) == []
        page.goto(catalogue.replace("index.html", COMPARED))
        page.wait_for_selector("#numbers")
        assert quality.breaks_rules(page) == []
        assert quality.scrolls_sideways(page) == []
    assert watch.said == []


COMPARED = "compare.html#lay=tarn-thrush/h6,osierbank/o180,copperbeck/c66"


def _filter(page: Any) -> None:
    """Filter by standing; on a phone the filters are opened first."""
    opens = page.get_by_role("button", name="narrow it down")
    if opens.is_visible():
        opens.click()
    page.get_by_label("today", exact=True).select_option("wait")


def _sort(page: Any) -> None:
    """Sort by a column, where heads are shown."""
    if page.viewport_size["width"] > 640:
        page.locator("#catalogue thead").get_by_role("button", name="last measured").click()


def _choose(page: Any) -> None:
    """Choose a row to compare."""
    page.get_by_role("checkbox").first.check()


def _search(page: Any) -> None:
    """Search for what is nowhere."""
    page.get_by_role("searchbox").fill("nothing-like-it")


def _clear(page: Any) -> None:
    """Show all again."""
    page.get_by_role("button", name="show all").click()


USES: tuple[Callable[[Any], None], ...] = (_filter, _sort, _choose, _search, _clear)


@pytest.mark.parametrize("path", KINDS)
def test_focus_is_always_seen(path: str, site: Path, browser: Any) -> None:
    """Whoever goes by keyboard sees where they are."""
    with quality.watched(browser, 1280, reduced_motion="reduce") as watch:
        watch.page.goto((site / path).as_uri())
        assert quality.hides_focus(watch.page) == []


@pytest.mark.parametrize("path", KINDS)
def test_paper_has_every_row(path: str, site: Path, browser: Any, tmp_path: Path) -> None:
    """Printed with all of it open, each row of each table is there, and no control is."""
    reader = shutil.which("pdftotext")
    if not reader:
        pytest.skip("needs pdftotext: install poppler-utils")
    with quality.watched(browser, 1280) as watch:
        watch.page.goto(f"{(site / path).as_uri()}#everything")
        heads = watch.page.evaluate(
            "[...document.querySelectorAll('tbody th')].map(head => head.textContent)"
        )
        watch.page.pdf(path=tmp_path / "page.pdf", format="A4")
    command = [reader, "-raw", str(tmp_path / "page.pdf"), "-"]
    done = subprocess.run(command, capture_output=True, check=True)
    printed = "".join(done.stdout.decode().split())
    words = ("".join(head.replace("compare", "").split()) for head in heads)
    missing = [word for word in words if word not in printed]
    assert missing == []
    assert "showall" not in printed


BROKEN = """<html><head><title></title></head><body style="width:3000px" onload="console.log('x')">
<h4>Head</h4><p style="color:#aaa;background:#fff">pale words</p><img src="bad.svg" width="120">
<script>document.querySelector("h4").animate([{opacity: 0}, {opacity: 1}], {duration: 1e6})</script>
<a href="#x" style="outline:none">focus</a><img src="http://example.invalid/a.png" alt="">
<button>b</button><pre>%s</pre></body></html>"""


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """Return a page in which everything is wrong."""
    words = '<text style="font: 11px x">a</text>'
    frame = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 100">'
    (tmp_path / "bad.svg").write_text(f"{frame}{words}</svg>")
    (tmp_path / "bad.html").write_text(BROKEN % ("x " * 60_000))
    return tmp_path / "bad.html"


def test_every_check_can_fail(broken: Path, browser: Any) -> None:
    """Each of the checks above finds what is wrong with a page made to fail it."""
    with quality.watched(browser, 360) as watch:
        page = watch.page
        page.goto(broken.as_uri())
        rules = " ".join(quality.breaks_rules(page))
        assert any("pale words" in finding for finding in quality.breaks_colours(page, set()))
        assert any("pale words" in finding for finding in quality.breaks_a_colour(page))
        assert quality.has_controls(page)
        for rule in ("document-title", "html-has-lang", "image-alt", "color-contrast", "landmark"):
            assert rule in rules
        assert quality.scrolls_sideways(page)
        assert quality.moves(page)
        shape = quality.loses_its_shape(page)
        for way in ("at 320", "at 320, spaced", "at 640", "at 640, spaced"):
            assert any(finding.startswith(f"{way}: ") for finding in shape)
        assert quality.has_small_words(page)
        assert {"inline script", "no policy", "BODY style", "BODY onload"} <= set(
            quality.acts_by_itself(page)
        )
        assert any("no outline" in finding for finding in quality.hides_focus(page))
        spoken = quality.speaks(watch, broken.parent.as_uri())
        assert any("example.invalid" in line for line in spoken)
        assert "x" in spoken
        assert quality.weighs_too_much(watch)


@pytest.mark.parametrize(("inside", "acts"), [
    ("<p>script</p>", False), ('<script src="a.js"></script>', True),
    ("<noscript>x</noscript>", True), ("<SCRIPT>1</SCRIPT>", True),
])  # fmt: skip
def test_a_page_with_scripts_is_known(inside: str, acts: bool, tmp_path: Path) -> None:
    """Also what is shown where there are none."""
    place = tmp_path / "page.html"
    place.write_text(f"<html><body>{inside}</body></html>")
    assert quality.has_scripts(place) == acts
