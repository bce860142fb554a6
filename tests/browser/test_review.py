"""The review of a change as a page of its own, in a browser: each width and scheme, and paper."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from blankbook.commands.main import run
from browser import quality
from made_repositories import Repository
from support import ROOT

pytestmark = pytest.mark.browser
WIDTHS = (320, 360, 1280)
POLICY = "default-src 'none'; style-src 'unsafe-inline'"


@pytest.fixture(scope="module")
def page_of_review(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the page for a change of the demo shop's ledger that has something of everything."""
    folder = tmp_path_factory.mktemp("a review")
    leave = shutil.ignore_patterns("catalogue", ".blankbook")
    shutil.copytree(ROOT / "ledger", folder / "ledger", ignore=leave)
    made = Repository(folder / "ledger")
    made.commit()
    blanks = made.root / "blanks"
    for path, old, new in (
        ("dabchick/d50/style.yaml", "M: {half_chest: 20,", "M: {half_chest: 19,"),
        ("dabchick/d50/2026-08-24-reorder.yaml", "by: ", "note: <b>|@mo</b> &amp; ünï\nby: "),
        ("dabchick/d50/2025-09-15-reorder.yaml", "half_chest: 19 5/8,", "half_chest: 16 5/8,"),
    ):
        text = (blanks / path).read_text(encoding="utf-8")
        assert old in text
        (blanks / path).write_text(text.replace(old, new, 1), encoding="utf-8")
    (blanks / "dabchick/d42/style.yaml").write_text("style: [\n", encoding="utf-8")
    (made.root / "suppliers/wether-teasel.yaml").unlink()
    made.commit("x" * 300)
    place = folder / "review.html"
    place.write_text(_printed("changes", "HEAD~1", "HEAD", made.root), encoding="utf-8")
    return place


def _printed(command: str, old: str, new: str, root: Path) -> str:
    """Return what the command writes as a page."""
    import contextlib
    import io

    with contextlib.redirect_stdout(io.StringIO()) as out:
        assert run([command, old, new, "--format", "html", "--ledger", str(root)]) == 0
    return out.getvalue()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", WIDTHS)
def test_the_review_is_a_good_page(
    width: int, scheme: str, page_of_review: Path, browser: Any
) -> None:
    """No rule of axe is broken, nothing is wider than the window, and each focus is seen."""
    with quality.watched(browser, width, color_scheme=scheme) as watch:
        watch.page.goto(page_of_review.as_uri())
        assert quality.breaks_rules(watch.page) == []
        assert quality.scrolls_sideways(watch.page) == []
        assert quality.moves(watch.page) == []
        assert quality.hides_focus(watch.page) == []
        assert quality.weighs_too_much(watch) == []
        assert watch.asked == [page_of_review.as_uri()]
        assert watch.said == []


def test_the_review_needs_nothing_and_runs_nothing(page_of_review: Path, browser: Any) -> None:
    """One style sheet of its own, no script; what was typed is text."""
    with quality.watched(browser, 1280) as watch:
        watch.page.goto(page_of_review.as_uri())
        assert quality.acts_by_itself(watch.page) == ["inline style sheet"]
        assert watch.page.locator("meta[http-equiv]").get_attribute("content") == POLICY
        text = watch.page.locator("main").inner_text()
        assert "<b>|@mo</b> &amp; ünï" in text
        assert watch.page.locator("main b").count() == 0


def test_dark_is_dark_and_paper_is_white(page_of_review: Path, browser: Any) -> None:
    """Also where the one who prints has a dark screen."""
    ask = "getComputedStyle(document.body).backgroundColor"
    with quality.watched(browser, 1280, color_scheme="dark") as watch:
        watch.page.goto(page_of_review.as_uri())
        assert watch.page.evaluate(ask) == "rgb(24, 24, 24)"
        watch.page.emulate_media(media="print")
        assert watch.page.evaluate(ask) == "rgb(255, 255, 255)"
        assert quality.breaks_rules(watch.page) == []
        watch.page.set_viewport_size({"width": 680, "height": 900})
        cut = "[...document.querySelectorAll('.wide')].filter(e => e.scrollWidth > e.clientWidth)"
        assert watch.page.evaluate(f"{cut}.length") == 0
