"""Finding in the catalogue, from a plain folder: filters, search, sorting, and a view handed on."""

from collections.abc import Iterator
from typing import Any

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture
def page(browser: Any, catalogue: str) -> Iterator[Any]:
    """Return the catalogue, opened; no message may come up in the console."""
    opened = browser.new_page(viewport={"width": 1280, "height": 900})
    said: list[str] = []
    opened.on("console", lambda message: said.append(message.text))
    opened.on("pageerror", lambda error: said.append(str(error)))
    opened.goto(catalogue)
    yield opened
    opened.close()
    assert said == []


def shown(page: Any) -> list[str]:
    """Return the keys of the rows that are shown, in order."""
    found: list[str] = page.evaluate(
        "[...document.querySelectorAll('#catalogue tbody tr')]"
        ".filter(row => !row.hidden && row.checkVisibility()).map(row => row.id)"
    )
    return found


def test_standing_narrows_and_is_counted(page: Any) -> None:
    every = shown(page)
    page.get_by_label("today", exact=True).select_option("do not order")
    narrowed = shown(page)
    assert 0 < len(narrowed) < len(every)
    assert page.get_by_role("status").inner_text() == f"{len(narrowed)} of {len(every)} shown"
    page.get_by_role("button", name="show all").click()
    assert shown(page) == every


def test_standing_sorts_by_its_rank_and_not_by_its_word(page: Any) -> None:
    """May be ordered, on conditions, wait, do not order: no alphabet has that order."""
    page.locator("#catalogue thead").get_by_role("button", name="today").click()
    ranks = page.evaluate(
        "[...document.querySelectorAll('#catalogue tbody td.advice')].map(c => +c.dataset.order)"
    )
    assert len(set(ranks)) == 4
    assert ranks == sorted(ranks)


def test_size_that_may_be_ordered_and_decision_narrow(page: Any) -> None:
    """Neither a size that is only made nor another decision slips through."""
    page.get_by_label("may be ordered in").select_option("2XL")
    narrowed = shown(page)
    assert "tarn-thrush/h6" in narrowed
    assert "copperbeck/c66" not in narrowed
    page.get_by_role("button", name="show all").click()
    page.get_by_label("decision", exact=True).select_option("rejected")
    assert "osierbank/o240" in shown(page)
    assert "osierbank/o180" not in shown(page)


def test_fields_narrow_together(page: Any) -> None:
    """Each further field asks more; a size is one of several that a row has."""
    page.get_by_label("made in", exact=True).select_option("2XL")
    wide = set(shown(page))
    page.get_by_label("colour", exact=True).select_option("black")
    assert set(shown(page)) < wide
    assert "tarn-thrush/h6" in shown(page)


def test_mass_takes_both_ends(page: Any) -> None:
    page.get_by_label("g/m2 from").fill("200")
    page.get_by_label("g/m2 to").fill("220")
    masses = page.evaluate(
        "[...document.querySelectorAll('#catalogue tbody tr')]"
        ".filter(row => !row.hidden).map(row => Number(row.dataset.mass))"
    )
    assert masses
    assert all(200 <= mass <= 220 for mass in masses)


def test_search_knows_every_note(page: Any) -> None:
    """A word of one piece's note, which the catalogue does not show, finds its blank alone."""
    assert "towels" not in page.locator("#catalogue").inner_text()
    page.get_by_role("searchbox").fill("towels moss")
    page.wait_for_selector("tr[id='tarn-thrush/h6']:not([hidden])")
    assert "tarn-thrush/h6" in shown(page)
    page.get_by_role("searchbox").fill("towels nothinglikeit")
    assert shown(page) == []
    assert page.locator("#nothing").is_visible()


@pytest.mark.parametrize("head", ["along, %", "each, USD", "last measured", "blank"])
def test_every_column_sorts_both_ways(page: Any, head: str) -> None:
    """A head sorts upwards, then downwards; what was not measured stays last; the head says so."""
    heads = page.locator("#catalogue thead th")
    place = heads.all_inner_texts().index(head)
    reading = (
        "place => [...document.querySelectorAll('#catalogue tbody tr')]"
        ".map(row => row.cells[place].textContent.trim())"
    )
    button = heads.nth(place).get_by_role("button")
    button.click()
    assert heads.nth(place).get_attribute("aria-sort") == "ascending"
    up = page.evaluate(reading, place)
    button.click()
    assert heads.nth(place).get_attribute("aria-sort") == "descending"
    down = page.evaluate(reading, place)
    if head in {"along, %", "each, USD"}:
        known = [float(text) for text in up if text != "–"]
        assert known == sorted(known)
        assert [float(text) for text in down if text != "–"] == known[::-1]
        empty = sum(text == "–" for text in up)
        assert all(text == "–" for text in [*up[len(up) - empty :], *down[len(up) - empty :]])
    else:
        assert up != down


def test_view_can_be_handed_on(page: Any, browser: Any, catalogue: str) -> None:
    """The address of a narrowed, sorted view opens the same view in another window."""
    page.get_by_label("today", exact=True).select_option("wait")
    page.locator("#catalogue thead").get_by_role("button", name="last measured").click()
    other = browser.new_page()
    other.goto(page.url)
    assert page.url.startswith(f"{catalogue}#")
    assert shown(other) == shown(page)
    assert other.get_by_label("today", exact=True).input_value() == "wait"
    other.goto(f"{catalogue}#today=nonsense")
    assert len(shown(other)) > len(shown(page))
    other.close()


def test_on_a_phone_the_rows_come_first(browser: Any, catalogue: str) -> None:
    """Filters wait behind one button, which says whether they are open; an address opens them."""
    page = browser.new_page(viewport={"width": 360, "height": 800})
    page.goto(catalogue)
    today = page.get_by_label("today", exact=True)
    opens = page.get_by_role("button", name="narrow it down")
    assert not today.is_visible()
    assert page.locator("#catalogue tbody tr").first.bounding_box()["y"] < 800
    opens.click()
    assert today.is_visible()
    assert opens.get_attribute("aria-expanded") == "true"
    page.goto(f"{catalogue}#today=wait")
    page.reload()
    assert today.is_visible()
    page.close()


def test_without_scripts_no_dead_control_is_left(browser: Any, catalogue: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(catalogue)
    assert page.locator("input, select, button").count() == 0
    assert page.locator("#catalogue tbody tr").count() > 10
    context.close()


@pytest.mark.parametrize("path", ["suppliers/tarn-thrush.html", "suppliers.html", "clients.html"])
def test_no_row_of_a_list_fills_a_phone(page: Any, catalogue: str, path: str) -> None:
    """A column out of sight does not make its row tall: none takes a fifth of a screen."""
    page.set_viewport_size({"width": 360, "height": 800})
    page.goto(catalogue.replace("index.html", path))
    heights = page.evaluate(
        "[...document.querySelectorAll('tbody tr')].map(row => row.getBoundingClientRect().height)"
    )
    assert heights
    assert max(heights) <= 160
