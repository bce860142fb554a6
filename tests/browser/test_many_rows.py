"""A catalogue of a thousand blanks opens and answers like one of seventeen."""

import re
import shutil
import statistics
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

ROWS = 1000
MOST = 100
"""Milliseconds, as long as a person takes an answer to be at once (common practice, no source)."""
PAINTED = "performance.getEntriesByName('first-contentful-paint')[0].startTime"
SET = """([field, value]) => {
  const control = document.getElementById(`ask-${field}`);
  control.value = value;
  control.dispatchEvent(new Event('input'));
  document.body.offsetHeight;
}"""
SORT = """name => {
  [...document.querySelectorAll('.sorts')].find(one => one.textContent === name).click();
  document.body.offsetHeight;
}"""
COUNTED = {"ScriptDuration", "LayoutDuration", "RecalcStyleDuration"}


@pytest.fixture(scope="module")
def crowded(site: Path) -> str:
    """Return the address of the demo shop's catalogue with its rows again and again."""
    html = (site / "index.html").read_text(encoding="utf-8")
    start, end = html.index("<tr role=row id="), html.index("</table>")
    rows = re.split(r"(?=<tr role=row id=)", html[start:end])[1:]
    many = [rows[n % len(rows)].replace(' id="', f' id="n{n}-', 1) for n in range(ROWS)]
    place = shutil.copytree(site, site.parent / "crowded") / "index.html"
    place.write_text(html[:start] + "".join(many) + html[end:], encoding="utf-8")
    return place.as_uri()


def middle(measure: Callable[[], float], times: int = 5) -> float:
    """Return the middle one of several measurements."""
    return statistics.median(measure() for _ in range(times))


class Clock:
    """The processor's time that a page uses, in milliseconds: other tests do not count."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.session = page.context.new_cdp_session(page)
        self.session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def now(self) -> float:
        """Return what was used for scripts, styles and layout until now."""
        found = self.session.send("Performance.getMetrics")["metrics"]
        used: float = sum(1000 * metric["value"] for metric in found if metric["name"] in COUNTED)
        return used

    def of(self, script: str, given: Any) -> float:
        """Return what a script uses, with all that has to be laid out again."""
        before = self.now()
        self.page.evaluate(script, given)
        return self.now() - before


def until(page: Any, holds: str) -> None:
    """Wait for what a page must come to; its own policy lets no other way of waiting in."""
    for _ in range(100):
        if page.evaluate(holds):
            return
        page.wait_for_timeout(50)
    raise AssertionError(holds)


def painted(browser: Any, address: str, width: int) -> float:
    """Return when the first words of a page were painted, in milliseconds."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(address)
    until(page, "performance.getEntriesByName('first-contentful-paint').length")
    when: float = page.evaluate(PAINTED)
    page.close()
    return when


@pytest.mark.night
@pytest.mark.parametrize("width", [360, 1280])
def test_many_rows_are_seen_as_soon_as_few(
    browser: Any, catalogue: str, crowded: str, width: int
) -> None:
    """What a browser needs to start is not ours; what a thousand rows add to it is."""
    few = middle(lambda: painted(browser, catalogue, width))
    many = middle(lambda: painted(browser, crowded, width))
    assert many - few < MOST, (few, many)


def there_and_back(clock: Clock, field: str, value: str) -> float:
    """Return what it takes to ask for less, and for all again."""
    return clock.of(SET, [field, value]) + clock.of(SET, [field, ""])


@pytest.mark.night
@pytest.mark.parametrize("width", [360, 1280])
def test_many_rows_are_found_and_sorted_at_once(browser: Any, crowded: str, width: int) -> None:
    """A filter, a search and a sort each take effect, laid out again, before anybody waits."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(crowded)
    until(page, f"document.querySelectorAll('.mark').length === {ROWS}")
    clock = Clock(page)
    for field, value in (("today", "wait"), ("supplier", "Dabchick Jersey"), ("find", "tee")):
        page.evaluate(SET, [field, value])  # the first search reads every row once
        assert 0 < page.locator("#catalogue tbody tr:not([hidden])").count() < ROWS, field
        assert middle(partial(there_and_back, clock, field, value)) < 2 * MOST, field
    for name in ("blank", "along, %", "last measured"):
        assert middle(partial(clock.of, SORT, name)) < MOST, name
    page.close()


@pytest.mark.parametrize("down", [False, True])
def test_many_rows_all_come_into_order(browser: Any, crowded: str, down: bool) -> None:
    """The first screens are right at once, and the rows behind them soon; also on a second thought.

    Expected: the order that the browser's own collation gives the names, by a sort of the test's.
    """
    page = browser.new_page(viewport={"width": 1280, "height": 800})
    page.goto(crowded)
    for name in ("last measured", "blank", *(["blank"] if down else [])):
        page.evaluate(SORT, name)
    names = """[...document.querySelectorAll('#catalogue tbody th')].map(
        th => th.querySelector('a').textContent)"""
    ordered = f"""(() => {{
      const names = {names}, by = new Intl.Collator().compare, turn = {-1 if down else 1};
      return names.every((name, at) => !at || turn * by(names[at - 1], name) <= 0);
    }})()"""
    first = page.evaluate(f"{names}.slice(0, 50)")
    assert len(set(first)) == 1, "fifty-nine rows of each of seventeen names"
    until(page, ordered)
    assert page.evaluate(f"{names}.length") == ROWS
    assert page.evaluate(f"{names}.slice(0, 50)") == first
    page.close()


def test_rows_out_of_sight_are_not_laid_out(browser: Any, crowded: str) -> None:
    """That is why: the last row is there to be found, and costs nothing until it is near."""
    page = browser.new_page(viewport={"width": 1280, "height": 800})
    page.goto(crowded)
    skipped = "e => !e.querySelector('a').checkVisibility({contentVisibilityAuto: true})"
    last = page.locator("#catalogue tbody tr").last
    assert last.evaluate(skipped)
    last.scroll_into_view_if_needed()
    until(
        page,
        "document.querySelector('#catalogue tbody tr:last-child a')"
        ".checkVisibility({contentVisibilityAuto: true})",
    )
    page.close()
