"""Readings typed by thumb: few taps, what was read in sight, and what is odd asked about."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from browser import quality
from browser.thumb import PAGE, again, cell, echo, file_of, finished, keep, on_phone, reading, tap

pytestmark = pytest.mark.browser


def test_an_odd_reading_is_asked_about(phone: Any) -> None:
    """It is taken when it is taken once more, and not before."""
    reading(phone, "22", "5/8")
    said = echo(phone)
    assert "it measures as L: look at the label" in said
    assert said.endswith("Keep it?")
    assert cell(phone).startswith("M-black-1, half chest")
    tap(phone, "keep")
    assert cell(phone).startswith("M-black-1, half chest"), "a second tap was too quick to be meant"
    tap(phone, "5/8")
    assert cell(phone).startswith("M-black-1, half chest"), "a mark never keeps what is odd"
    keep(phone)
    assert cell(phone).startswith("M-black-1, body length")


def test_what_is_given_once_folds_away(site: Path, browser: Any) -> None:
    """After it, the first screen is the piece, the point, the keys and the sizes beside."""
    with on_phone(site, browser) as page:
        assert page.get_by_label("by", exact=True).is_visible()
        assert "Smooth it, do not pull it." in echo(page)
        page.get_by_label("by", exact=True).fill("jt")
        page.get_by_label("lot", exact=True).fill("7")
        page.reload()
        assert not page.get_by_label("by", exact=True).is_visible()
        assert "jt, 7; read to 1/8 in" in page.locator(".top summary").inner_text()
        for part in (".cell", ".near", ".typed", ".keys"):
            box = page.locator(part).bounding_box()
            assert box["y"] >= 0, part
            assert box["y"] + box["height"] <= 640, part


def test_text_twice_as_large_overflows_nothing(phone: Any) -> None:
    """WCAG 2.2, 1.4.4: keys hold their words, and what was typed stays in sight."""
    phone.evaluate("document.documentElement.style.fontSize = '200%'")
    phone.locator(".work").evaluate("one => one.scrollIntoView()")
    reading(phone, "22", "5/8")
    cut = phone.locator(".keys button").evaluate_all(
        "all => all.filter(one => one.scrollWidth > one.clientWidth).map(one => one.textContent)"
    )
    assert cut == []
    assert quality.scrolls_sideways(phone) == []
    typed, keys = (phone.locator(part).bounding_box() for part in (".typed", ".keys"))
    assert 0 <= typed["y"] <= keys["y"] - typed["height"]


def test_all_read_is_said_and_leads_to_the_file(phone: Any) -> None:
    """Where the last reading was taken, and not only further down."""
    count = phone.locator("#cells tbody button").count()
    for left in range(count, 0, -1):
        assert phone.get_by_role("link", name="All read").count() == 0, left
        phone.locator(".keys").get_by_role("button", name="not measured").tap()
    phone.get_by_role("link", name="All read: hand it over").tap()
    assert phone.url.endswith("#hand")


def test_no_and_enter_keep_nothing_that_is_odd(phone: Any) -> None:
    """No drops the reading in question and not the one before; Enter asks again; y is a yes."""
    reading(phone, "20", "5/8")
    reading(phone, "22", "5/8")
    assert echo(phone).endswith("Keep it?")
    tap(phone, "no")
    assert "not taken" in echo(phone)
    assert cell(phone).startswith("M-black-1, body length")
    assert "half_chest: 20 5/8" in file_of(phone)
    phone.locator("h1").click()
    phone.keyboard.type("22+5")
    for _ in range(3):
        phone.keyboard.press("Enter")
        assert echo(phone).endswith("Keep it?")
    phone.keyboard.press("n")
    assert "body_length" not in file_of(phone)
    phone.keyboard.type("22+5")
    phone.keyboard.press("Enter")
    phone.keyboard.press("y")
    assert "body_length: 22 5/8" in file_of(phone)


def test_what_no_garment_or_tape_can_be_is_refused(phone: Any) -> None:
    """In the same words as at the terminal."""
    reading(phone, "99")
    assert "99: centimetres for inches? 99 cm is 39 in" in echo(phone)
    reading(phone, "9")
    assert "half chest must be between" in echo(phone)
    tap(phone, "delete", "delete", "delete", "take")
    assert "type a reading first" in echo(phone)


def test_a_keyboard_does_the_same(phone: Any) -> None:
    """Digits, a plus before the marks, Enter; the arrow goes back."""
    phone.locator("h1").click()
    phone.keyboard.type("20+5")
    phone.keyboard.press("Enter")
    assert "20 5/8 in" in echo(phone)
    phone.keyboard.press("ArrowUp")
    assert cell(phone).startswith("M-black-1, half chest")


def test_point_by_point_goes_down_the_pieces(phone: Any) -> None:
    """The person keeps the tape at one place."""
    phone.get_by_role("button", name="point by point").click()
    reading(phone, "20", "5/8")
    assert cell(phone).startswith("M-cream-2, half chest")


def test_a_repeat_stands_beside_the_first(phone: Any) -> None:
    """Once more is what was read just now, and the two are a list in the file."""
    reading(phone, "20", "5/8")
    again(phone)
    assert cell(phone).startswith("M-black-1, half chest")
    reading(phone, "20", "1/2")
    assert "half_chest: [20 5/8, 20 1/2]" in file_of(phone)
    assert cell(phone).startswith("M-black-1, body length")
    phone.locator("#cells tbody button").first.tap()
    again(phone)
    reading(phone, "20", "3/4")
    assert "half_chest: [20 5/8, 20 1/2, 20 3/4]" in file_of(phone)


def test_a_repeat_is_held_against_the_first(phone: Any) -> None:
    """More than three marks apart is asked about, in the terminal's words."""
    reading(phone, "20", "5/8")
    again(phone)
    reading(phone, "20", "1/8")
    assert "more than 3 marks from 20 5/8 in, read before" in echo(phone)


TAPES = ["1/8 in", "1/16 in", "1/4 in", "1/32 in", "0.1 cm", "0.5 cm", "1 mm"]


@pytest.mark.parametrize(("wide", "high"), [(360, 640), (640, 360)])
def test_keys_are_large_enough_for_a_thumb_and_all_in_sight(
    site: Path, browser: Any, wide: int, high: int
) -> None:
    """At least 44 by 44 CSS pixels (WCAG 2.2, 2.5.5) and 48 high, with what was read in sight.

    With every tape, upright and on its side; and no warning moves a key from under the thumb.
    """
    with on_phone(site, browser, wide=wide, high=high) as page:
        for tape in TAPES:
            page.get_by_label("tape read to").select_option(tape)
            page.locator(".work").evaluate("one => one.scrollIntoView()")
            before = [key.bounding_box() for key in page.locator(".keys button").all()]
            tap(page, "9", "9", "take")
            boxes = [key.bounding_box() for key in page.locator(".keys button").all()]
            assert boxes == before, tape
            assert min(box["width"] for box in boxes) >= 44, tape
            assert min(box["height"] for box in boxes) >= 48, tape
            told = (".cell", ".near", ".typed", ".echo")
            boxes += [page.locator(selector).bounding_box() for selector in told]
            assert min(box["y"] for box in boxes) >= 0, tape
            assert max(box["y"] + box["height"] for box in boxes) <= high, tape
            cut = page.locator(".keys button").evaluate_all(
                "all => all.filter(one => one.scrollWidth > one.clientWidth).length"
            )
            assert cut == 0, tape
            assert quality.scrolls_sideways(page) == []
            tap(page, "delete", "delete")


def test_nothing_on_the_page_is_enlarged_by_accident(phone: Any) -> None:
    """What can be typed into has 16 pixels or more, below which phones zoom; no double tap does."""
    sizes = phone.locator("#desk :is(input, select, textarea)").evaluate_all(
        "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))"
    )
    assert len(sizes) >= 5
    assert min(sizes) >= 16
    touched = phone.locator("#desk, #desk button").evaluate_all(
        "all => [...new Set(all.map(one => getComputedStyle(one).touchAction))]"
    )
    assert touched == ["manipulation"]


def test_a_reading_takes_three_taps_and_in_centimetres_four(phone: Any) -> None:
    """Two digits and a mark; three digits and the key that takes them."""
    counting = "self.taps = 0; addEventListener('pointerdown', () => { self.taps += 1; }, true)"
    phone.evaluate(counting)
    reading(phone, "20", "5/8")
    assert phone.evaluate("self.taps") == 3
    tap(phone, "undo")
    phone.get_by_label("tape read to").select_option("0.1 cm")
    phone.evaluate("self.taps = 0")
    reading(phone, "523")
    assert "M-black-1 half chest: 52.3 cm" in echo(phone)
    assert phone.evaluate("self.taps") == 4


def test_the_sizes_beside_are_in_sight_in_few_words(phone: Any) -> None:
    """What was read of the size below, of the same and of the size above; else the chart."""
    beside = phone.locator(".near")
    words = beside.inner_text().replace("\xa0", " ").split("\n")
    assert words == ["S", "chart 18 1/2", "M", "chart 20 1/2", "L", "chart 22 1/2"]
    phone.get_by_role("button", name="point by point").tap()
    for digits, mark in (("20", "5/8"), ("20", "3/4"), ("22", "1/4"), ("22", "3/8")):
        reading(phone, digits, mark)
    assert cell(phone).startswith("XL-black-1, half chest")
    words = beside.inner_text().replace("\xa0", " ").split("\n")
    assert words == ["L", "22 1/4; 22 3/8", "XL", "chart 24 1/2"]
    phone.locator("#cells tbody button").first.tap()
    words = beside.inner_text().replace("\xa0", " ").split("\n")
    assert words == ["S", "chart 18 1/2", "other M", "20 3/4", "L", "22 1/4; 22 3/8"]


def test_another_tape_is_the_rounds(site: Path, phone: Any, tmp_path: Path) -> None:
    """Chosen before the first reading; the keys, the file and the check go by it."""
    choice = phone.get_by_label("tape read to")
    assert choice.input_value() == "1/8 in"
    choice.select_option("1/16 in")
    assert phone.locator(".keys").get_by_role("button", name="15/16", exact=True).is_visible()
    phone.reload()
    assert choice.input_value() == "1/16 in"
    choice.select_option("0.1 cm")
    phone.get_by_label("by", exact=True).fill("jt")
    phone.get_by_label("lot", exact=True).fill("7")
    assert "about 52.1 cm" in cell(phone)
    reading(phone, "523")
    assert choice.is_disabled()
    assert phone.get_by_text("One round, one tape").is_visible()
    tap(phone, "undo")
    assert choice.is_enabled()
    reading(phone, "523")
    round_ = finished(phone, tmp_path)
    assert round_.tape.unit == "cm"
    assert round_.tape.reads_to.written == "0.1"
    assert round_.pieces[0].received["half_chest"][0].mm == pytest.approx(523)


def test_a_cell_that_is_gone_to_is_typed_into_with_the_keyboard(phone: Any) -> None:
    """Enter takes what the keyboard typed, whichever button was clicked before."""
    phone.locator("#cells tbody button").nth(1).click()
    phone.keyboard.type("28+4")
    phone.keyboard.press("Enter")
    assert "M-black-1 body length: 28 1/2 in" in echo(phone)
    phone.locator(".keys").get_by_role("button", name="8", exact=True).click()
    phone.keyboard.type("+6")
    phone.keyboard.press("Enter")
    assert "M-black-1 sleeve length: 8 3/4 in" in echo(phone)


def test_what_was_read_is_said_to_those_who_do_not_see(phone: Any) -> None:
    """The echo and the number typed are live, and every key's name has what stands on it."""
    assert phone.locator(".echo").get_attribute("role") == "status"
    assert phone.locator("output.typed").count() == 1
    assert phone.locator("#bare").is_hidden()
    for button in phone.locator("#desk button:visible").all():
        name, seen = button.get_attribute("aria-label"), button.inner_text()
        if name and seen.isalpha():
            assert seen in name


def test_without_scripts_it_says_what_to_do_instead(site: Path, browser: Any) -> None:
    """And the table of the cells is there, to print and write on."""
    context = browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.goto((site / PAGE).as_uri())
    assert "blankbook enter" in page.locator("#bare").inner_text()
    assert page.locator("#cells tbody tr").count() == 6
    assert page.locator("#desk").is_hidden()
    context.close()


def test_one_file_alone_says_so(site: Path, browser: Any, tmp_path: Path) -> None:
    """As when only the page itself was sent to the phone."""
    alone = tmp_path / "alone.html"
    shutil.copyfile(site / PAGE, alone)
    page = browser.new_page()
    page.goto(alone.as_uri())
    assert "not this one file alone" in page.locator("#bare").inner_text()
    page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_is_broken_while_it_is_used(site: Path, browser: Any, scheme: str) -> None:
    """With a reading taken, one asked about, and nothing wider than the window."""
    with quality.watched(browser, 360, color_scheme=scheme, has_touch=True) as watch:
        watch.page.goto((site / PAGE).as_uri())
        assert quality.breaks_rules(watch.page) == []
        reading(watch.page, "20", "5/8")
        reading(watch.page, "40")
        assert quality.breaks_rules(watch.page) == []
        assert quality.scrolls_sideways(watch.page) == []
    assert watch.said == []


def test_the_data_is_plain(site: Path) -> None:
    """One assignment of JSON, and no file more is asked for."""
    text = (site / "data" / PAGE.replace(".html", ".js")).read_text(encoding="utf-8")
    data = json.loads(text.removeprefix("self.blankbookRound=").rstrip(";\n"))
    assert data["file"] == "2026-11-16-winter.yaml"
    assert [point["key"] for point in data["points"]][:1] == ["half_chest"]
