"""A round measured with a phone: typed by thumb, kept, handed over, and accepted as it is."""

import json
import random
import shutil
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest

from blankbook.commands.main import run
from blankbook.entry.expected import Target, warnings
from blankbook.records.load import load_ledger
from browser import quality
from support import ROOT

pytestmark = pytest.mark.browser
PAGE = "table/hobnettle/q5/2026-11-16-winter.html"
ROUND = "blanks/hobnettle/q5/2026-11-16-winter.yaml"


@pytest.fixture
def phone(site: Path, browser: Any) -> Iterator[Any]:
    """Return the page on a phone, opened from disk and without a network."""
    context = browser.new_context(
        viewport={"width": 360, "height": 640}, offline=True, accept_downloads=True
    )
    page = context.new_page()
    page.said = []
    page.on("console", lambda message: page.said.append(message.text))
    page.on("pageerror", lambda error: page.said.append(str(error)))
    page.goto((site / PAGE).as_uri())
    yield page
    assert page.said == []
    context.close()


def tap(page: Any, *keys: str) -> None:
    """Tap keys by what stands on them."""
    for key in keys:
        page.locator(".keys").get_by_role("button", name=key, exact=True).click()


def reading(page: Any, digits: str, mark: str = "") -> None:
    """Type a reading and take it."""
    tap(page, *digits, *([mark] if mark else []), "take")


def test_a_round_is_typed_kept_handed_over_and_accepted(phone: Any, tmp_path: Path) -> None:
    """With a reload in between; the file that comes out passes the check as it is."""
    phone.get_by_label("by", exact=True).fill("jt")
    phone.get_by_label("lot", exact=True).fill("HN: 1126 #2")
    reading(phone, "20", "5/8")
    assert "M-black-1 half chest: 20 5/8 in" in phone.locator(".echo").inner_text()
    reading(phone, "28", "1/2")
    reading(phone, "8", "3/4")
    phone.reload()
    assert phone.locator(".cell").inner_text().startswith("M-cream-2, half chest")
    reading(phone, "20", "3/4")
    tap(phone, "undo")
    assert "taken back" in phone.locator(".echo").inner_text()
    reading(phone, "20", "7/8")
    reading(phone, "29")
    tap(phone, "not measured")
    with phone.expect_download() as got:
        phone.get_by_role("link", name="download").click()
    place = tmp_path / "ledger"
    shutil.copytree(ROOT / "ledger", place, ignore=shutil.ignore_patterns("catalogue"))
    planned = (place / ROUND).read_text(encoding="utf-8").splitlines()
    got.value.save_as(place / ROUND)
    assert got.value.suggested_filename == "2026-11-16-winter.yaml"
    loaded = load_ledger(place)
    assert [one for one in loaded.findings if one.path == ROUND and one.level == "error"] == []
    assert loaded.ledger
    one = loaded.ledger.blanks["hobnettle/q5"].rounds[-1]
    assert (one.key, one.by, one.lot) == ("2026-11-16-winter", "jt", "HN: 1126 #2")
    read = {piece.key: {p: r[0].written for p, r in piece.received.items()} for piece in one.pieces}
    assert read["M-black-1"] == {
        "half_chest": "20 5/8", "body_length": "28 1/2", "sleeve_length": "8 3/4",
    }  # fmt: skip
    assert read["M-cream-2"] == {"half_chest": "20 7/8", "body_length": "29"}
    assert read["XL-cream-1"] == {}
    after = (place / ROUND).read_text(encoding="utf-8").splitlines()
    lost = [line for line in planned if line not in after]
    assert len(lost) == 2, lost
    assert run(["check", "--ledger", str(place)]) in {0, 1}


def test_an_odd_reading_is_asked_about(phone: Any) -> None:
    """It is taken when it is taken once more, and not before."""
    reading(phone, "22", "5/8")
    said = phone.locator(".echo").inner_text()
    assert "it measures as L: look at the label" in said
    assert "Take once more keeps it" in said
    assert phone.locator(".cell").inner_text().startswith("M-black-1, half chest")
    tap(phone, "take")
    assert phone.locator(".cell").inner_text().startswith("M-black-1, body length")


def test_what_no_garment_or_tape_can_be_is_refused(phone: Any) -> None:
    """In the same words as at the terminal."""
    reading(phone, "99")
    assert "half chest must be between" in phone.locator(".echo").inner_text()
    tap(phone, "delete", "delete", "take")
    assert "type a reading first" in phone.locator(".echo").inner_text()


def test_a_keyboard_does_the_same(phone: Any) -> None:
    """Digits, a plus before the marks, Enter; the arrow goes back."""
    phone.locator("h1").click()
    phone.keyboard.type("20+5")
    phone.keyboard.press("Enter")
    assert "20 5/8 in" in phone.locator(".echo").inner_text()
    phone.keyboard.press("ArrowUp")
    assert phone.locator(".cell").inner_text().startswith("M-black-1, half chest")


def test_point_by_point_goes_down_the_pieces(phone: Any) -> None:
    """The person keeps the tape at one place."""
    phone.get_by_role("button", name="point by point").click()
    reading(phone, "20", "5/8")
    assert phone.locator(".cell").inner_text().startswith("M-cream-2, half chest")


def test_a_repeat_stands_beside_the_first(phone: Any) -> None:
    """Two readings of one point are a list in the file."""
    reading(phone, "20", "5/8")
    tap(phone, "next")
    phone.locator("#cells tbody button").first.click()
    phone.locator(".keys").get_by_role("button", name="one more reading").click()
    reading(phone, "20", "1/2")
    assert "half_chest: [20 5/8, 20 1/2]" in phone.locator("#text").input_value()


def test_a_repeat_is_held_against_the_first(phone: Any) -> None:
    """More than three marks apart is asked about, in the terminal's words."""
    reading(phone, "20", "5/8")
    phone.locator("#cells tbody button").first.click()
    phone.locator(".keys").get_by_role("button", name="one more reading").click()
    reading(phone, "20", "1/8")
    said = phone.locator(".echo").inner_text()
    assert "more than 3 marks from 20 5/8 in, read before" in said


def test_keys_are_large_enough_for_a_thumb_and_all_in_sight(phone: Any) -> None:
    """At least 44 by 44 CSS pixels (WCAG 2.2, 2.5.5), with what is typed above them."""
    reading(phone, "20", "5/8")
    boxes = [one.bounding_box() for one in phone.locator(".keys button").all()]
    assert min(min(box["width"], box["height"]) for box in boxes) >= 44
    top = phone.locator(".cell").bounding_box()["y"]
    bottom = max(box["y"] + box["height"] for box in boxes)
    assert bottom - top <= 640


def test_a_browser_that_keeps_nothing_is_told(site: Path, browser: Any) -> None:
    """The person must copy the file before leaving."""
    context = browser.new_context(viewport={"width": 360, "height": 640})
    context.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})"
    )
    page = context.new_page()
    page.goto((site / PAGE).as_uri())
    assert page.get_by_text("This browser keeps nothing").is_visible()
    context.close()


@pytest.mark.parametrize("held", ["{}", "null", '{"read": null}', "half a tex", "[]"])
def test_what_is_kept_may_be_damaged(site: Path, browser: Any, held: str) -> None:
    """The page begins anew, and says nothing wrong."""
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto((site / PAGE).as_uri())
    page.evaluate(
        "held => Object.keys(localStorage).forEach(k => localStorage.setItem(k, held))", held
    )
    page.reload()
    reading(page, "20", "5/8")
    assert "M-black-1 half chest: 20 5/8 in" in page.locator(".echo").inner_text()
    assert said == []
    context.close()


def test_it_warns_as_the_terminal_does(phone: Any) -> None:
    """Three thousand readings by the same rule, in both languages, word for word."""
    dice = random.Random(20261125)
    asked = []
    for _ in range(3000):
        charted = dice.choice([None, dice.randrange(80, 260) * 3.175])
        beside = {one: dice.randrange(80, 260) * 3.175 for one in dice.sample(["S", "L"], 1)}
        target = Target(
            charted, dice.choice([6.35, 9.525, 12.7]), beside, dice.choice([0.0, 9.3, 13.1])
        )
        around = charted or 500.0
        siblings = [around + dice.randrange(-8, 9) * 3.175 for _ in range(dice.randrange(4))]
        others = {"body_length": dice.randrange(180, 260) * 3.175}
        off = dice.choice([0, 1, 8, 16, -8, dice.randrange(-90, 90)]) * 3.175
        mm = max(25.4, around + off) * dice.choice([1, 1, 1, 1, 2.54, 1 / 2.54])
        unit = "in" if dice.random() < 0.7 else "cm"
        said = [one.says for one in warnings(mm, target, siblings, others, unit)]
        shape = asdict(target)
        asked.append(([mm, shape, siblings, [["body length", others["body_length"]]], unit], said))
    found = phone.evaluate(
        """rows => rows.map(([mm, target, siblings, others, unit]) =>
            self.blankbookOdd({unit, tape: {mm: 25.4}}).warnings(mm, target, siblings, others))""",
        [inputs for inputs, _ in asked],
    )
    wrong = [(i, s, f) for (i, s), f in zip(asked, found, strict=True) if s != f]
    assert wrong == []
    assert sum(bool(said) for _, said in asked) > 1000


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_is_broken_while_it_is_used(site: Path, browser: Any, scheme: str) -> None:
    """With a reading taken, one asked about, and nothing wider than the window."""
    with quality.watched(browser, 360, color_scheme=scheme) as watch:
        watch.page.goto((site / PAGE).as_uri())
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
    assert [one["key"] for one in data["points"]][:1] == ["half_chest"]
