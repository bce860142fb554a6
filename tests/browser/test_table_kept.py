"""A round measured with a phone: kept whatever the browser does, handed over, and accepted."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from blankbook.commands.main import run
from blankbook.records.load_ledger import load_ledger
from blankbook.text.yaml_tree import read_tree
from browser.thumb import (
    ROUND,
    again,
    cell,
    echo,
    file_of,
    finished,
    keep,
    on_phone,
    opened,
    reading,
    tap,
)
from support import ROOT

pytestmark = pytest.mark.browser


def test_a_round_is_typed_kept_handed_over_and_accepted(phone: Any, tmp_path: Path) -> None:
    """With a reload in between; the file that comes out passes the check as it is."""
    phone.get_by_label("by", exact=True).fill("jt")
    phone.get_by_label("lot", exact=True).fill("HN: 1126 #2")
    reading(phone, "20", "5/8")
    assert "M-black-1 half chest: 20 5/8 in" in echo(phone)
    reading(phone, "28", "1/2")
    reading(phone, "8", "3/4")
    phone.reload()
    assert cell(phone).startswith("M-cream-2, half chest")
    reading(phone, "20", "3/4")
    tap(phone, "undo")
    assert "taken back" in echo(phone)
    reading(phone, "20", "7/8")
    reading(phone, "29")
    tap(phone, "not measured")
    with phone.expect_download() as got:
        phone.get_by_role("link", name="download").tap()
    place = tmp_path / "ledger"
    shutil.copytree(ROOT / "ledger", place, ignore=shutil.ignore_patterns("catalogue"))
    planned = (place / ROUND).read_text(encoding="utf-8").splitlines()
    got.value.save_as(place / ROUND)
    assert got.value.suggested_filename == "2026-11-16-winter.yaml"
    loaded = load_ledger(place)
    assert [
        finding for finding in loaded.findings if finding.path == ROUND and finding.level == "error"
    ] == []
    assert loaded.ledger
    round_ = loaded.ledger.blanks["hobnettle/q5"].rounds[-1]
    assert (round_.key, round_.by, round_.lot) == ("2026-11-16-winter", "jt", "HN: 1126 #2")
    read = {
        piece.key: {p: r[0].written for p, r in piece.received.items()} for piece in round_.pieces
    }
    assert read["M-black-1"] == {
        "half_chest": "20 5/8", "body_length": "28 1/2", "sleeve_length": "8 3/4",
    }  # fmt: skip
    assert read["M-cream-2"] == {"half_chest": "20 7/8", "body_length": "29"}
    assert read["XL-cream-1"] == {}
    after = (place / ROUND).read_text(encoding="utf-8").splitlines()
    lost = [line for line in planned if line not in after]
    assert len(lost) == 2, lost
    assert run(["check", "--ledger", str(place)]) in {0, 1}


SAID = ["jt", "O'Hara \"Jo\"", "12", "on", "- x", "a: b", "#2", "x # y", "{a}", "é ß 衣", "~",
        "null", "1e3", "...", "?", "a\\b", "%x", "@x", "2026-01-01", ".inf", "😀"]  # fmt: skip


def test_whatever_is_said_of_the_lot_is_read_back(phone: Any) -> None:
    """As it was typed, whatever it means in YAML; without the blanks around it."""
    reading(phone, "20", "5/8")
    for text in SAID:
        phone.get_by_label("lot", exact=True).fill(f" {text} ")
        assert read_tree("", file_of(phone)).tree["lot"] == text
    phone.get_by_label("lot", exact=True).fill("\ufeffA\u20282\u202e")
    assert read_tree("", file_of(phone)).tree["lot"] == "A2"
    assert phone.get_by_label("by", exact=True).get_attribute("maxlength") == "60"
    phone.get_by_label("lot", exact=True).fill("")
    assert "lot" not in read_tree("", file_of(phone)).tree
    assert "Still to say: by, lot." in phone.get_by_text("Still to say").inner_text()


def test_why_an_odd_reading_is_right_stands_in_the_file(phone: Any, tmp_path: Path) -> None:
    """Asked for where the file is handed over, and only while a reading is odd."""
    phone.get_by_label("by", exact=True).fill("jt")
    phone.get_by_label("lot", exact=True).fill("7")
    reading(phone, "22", "5/8")
    keep(phone)
    phone.get_by_label("M-black-1, odd half chest: why it is right").fill("the tag says M twice")
    round_ = finished(phone, tmp_path)
    assert round_.pieces[0].confirmed == "the tag says M twice"
    phone.reload()
    assert phone.get_by_label("why it is right").input_value() == "the tag says M twice"
    tap(phone, "undo")
    assert phone.get_by_label("why it is right").count() == 0
    assert "confirmed" not in file_of(phone)


def test_the_day_is_that_of_the_first_reading(site: Path, browser: Any) -> None:
    """Not the day on which somebody looked at the page, nor one that was changed by hand later."""
    with on_phone(site, browser) as page:
        page.clock.set_fixed_time("2026-12-01T10:00:00")
        page.reload()
        assert page.get_by_label("day of measuring").input_value() == "2026-12-01"
        page.get_by_label("by", exact=True).fill("jt")
        page.clock.set_fixed_time("2026-12-03T10:00:00")
        page.reload()
        assert page.get_by_label("day of measuring").input_value() == "2026-12-03"
        reading(page, "20", "5/8")
        page.clock.set_fixed_time("2026-12-04T10:00:00")
        page.reload()
        reading(page, "28", "1/2")
        assert "\ndate: 2026-12-03\n" in file_of(page)
        page.get_by_label("day of measuring").fill("2026-12-02")
        assert "\ndate: 2026-12-02\n" in file_of(page)


def test_it_can_be_begun_anew(phone: Any) -> None:
    """After a second tap on what then says how much is lost."""
    reading(phone, "20", "5/8")
    reading(phone, "28", "1/2")
    phone.get_by_role("button", name="begin anew").tap()
    phone.get_by_role("button", name="forget 2 readings?").tap()
    assert "received" not in file_of(phone)
    assert cell(phone).startswith("M-black-1, half chest")
    phone.reload()
    assert "received" not in file_of(phone)


def test_what_was_taken_can_be_taken_back_after_a_reload(phone: Any) -> None:
    """One after the other, to the state before; then it says that nothing is left."""
    reading(phone, "20", "5/8")
    again(phone)
    reading(phone, "20", "1/2")
    reading(phone, "28", "1/2")
    phone.reload()
    tap(phone, "undo")
    assert cell(phone).startswith("M-black-1, body length")
    tap(phone, "undo")
    assert "half_chest: 20 5/8}" in file_of(phone)
    phone.reload()
    tap(phone, "undo", "undo")
    assert "Nothing is left to take back" in echo(phone)
    assert "received" not in file_of(phone)


def test_a_closed_window_goes_on_where_it_was(site: Path, phone: Any) -> None:
    """In a new window of the same browser, with the keys in sight at once."""
    reading(phone, "20", "5/8")
    context = phone.context
    phone.close()
    page = opened(context, site)
    assert cell(page).startswith("M-black-1, body length")
    assert page.locator(".work").bounding_box()["y"] == pytest.approx(0, abs=1)
    tap(page, "undo")
    assert "taken back: M-black-1 half chest" in echo(page)
    assert page.said == []


@pytest.mark.seldom(3)
def test_two_windows_fill_one_round(site: Path, phone: Any) -> None:
    """What one takes the other shows, and neither writes over the other's readings."""
    other = opened(phone.context, site)
    reading(phone, "20", "5/8")
    other.wait_for_function("document.querySelector('.cell').innerText.includes('body length')")
    assert other.locator("#cells tbody button").first.inner_text() == "20 5/8"
    tap(phone, "2")
    reading(other, "28", "1/2")
    phone.wait_for_function("document.querySelector('#text').value.includes('28 1/2')")
    assert cell(phone).startswith("M-black-1, body length"), "what is being typed stays where it is"
    tap(phone, "8", "1/4")
    reading(other, "8", "3/4")
    for page in (phone, other):
        page.wait_for_function("document.querySelector('#text').value.includes('8 3/4')")
        assert "{half_chest: 20 5/8, body_length: 28 1/4, sleeve_length: 8 3/4}" in file_of(page)
    tap(phone, "undo")
    assert "taken back: M-black-1 sleeve length" in echo(phone)
    other.get_by_label("by", exact=True).fill("mo")
    phone.wait_for_function("document.querySelector('#text').value.includes('by: mo')")
    assert other.said == []


FILL = """() => {
  let text = 'x'.repeat(1 << 20);
  for (let n = 0; text; n += 1) {
    try { localStorage.setItem(`other/${n}`, text); }
    catch { text = text.slice(0, text.length >> 1); }
  }
}"""


def test_a_full_browser_says_so_beside_the_keys_and_loses_nothing(phone: Any) -> None:
    """The readings stay in the page, the file can be handed over, and leaving is asked about."""
    reading(phone, "20", "5/8")
    phone.evaluate(FILL)
    reading(phone, "28", "1/2")
    warning = phone.get_by_text("This browser keeps nothing")
    box = warning.bounding_box()
    assert 0 <= box["y"] <= 640 - box["height"]
    assert "body_length: 28 1/2" in file_of(phone)
    asked: list[str] = []

    def stay(dialog: Any) -> None:
        asked.append(dialog.type)
        dialog.dismiss()

    phone.once("dialog", stay)
    phone.close(run_before_unload=True)
    phone.wait_for_timeout(200)
    assert asked == ["beforeunload"]
    phone.evaluate("localStorage.removeItem('other/0')")
    reading(phone, "8", "3/4")
    assert warning.is_hidden()
    phone.reload()
    assert "{half_chest: 20 5/8, body_length: 28 1/2, sleeve_length: 8 3/4}" in file_of(phone)


CLIPBOARDS = {
    "missing": "Object.defineProperty(navigator, 'clipboard', {value: undefined});",
    "denied": "navigator.clipboard.writeText = () => Promise.reject(new Error('no'));",
}


BY_HAND = "document.execCommand = () => false;"


@pytest.mark.parametrize("kind", CLIPBOARDS)
@pytest.mark.parametrize("old_way", [True, False])
def test_copying_goes_the_old_way_or_says_to_do_it_by_hand(
    site: Path, browser: Any, kind: str, old_way: bool
) -> None:
    """Where there is no clipboard, as on a page from disk, or it is refused."""
    with on_phone(site, browser, first=CLIPBOARDS[kind] + ("" if old_way else BY_HAND)) as page:
        page.evaluate(
            "document.addEventListener('copy', () => { self.copied = `${getSelection()}`; })"
        )
        reading(page, "20", "5/8")
        page.get_by_role("button", name="copy").tap()
        if old_way:
            page.get_by_text("Copied: paste it over").wait_for()
            marked = page.evaluate("self.copied")
            assert marked == file_of(page)
        else:
            page.get_by_text("Copy the marked text by hand").wait_for()
        ends = page.locator("#text").evaluate("one => [one.selectionStart, one.selectionEnd]")
        assert ends == [0, len(file_of(page))]


def test_the_clipboard_gets_the_file(site: Path, browser: Any) -> None:
    """Where the browser has one."""
    first = "self.kept = ''; navigator.clipboard.writeText = async (t) => { self.kept = t; };"
    with on_phone(site, browser, first=first) as page:
        reading(page, "20", "5/8")
        page.get_by_role("button", name="copy").tap()
        page.get_by_text("Copied: paste it over").wait_for()
        assert page.evaluate("self.kept") == file_of(page)


def test_a_browser_that_keeps_nothing_is_told(site: Path, browser: Any) -> None:
    """The person must copy the file before leaving; all else works, and leaving is asked about."""
    first = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})"
    with on_phone(site, browser, first=first) as page:
        assert page.get_by_text("This browser keeps nothing").is_visible()
        reading(page, "20", "5/8")
        tap(page, "undo")
        reading(page, "20", "3/4")
        assert "half_chest: 20 3/4}" in file_of(page)
        with page.expect_download():
            page.get_by_role("link", name="download").tap()
        asked: list[str] = []
        page.once("dialog", lambda dialog: asked.append(dialog.type))
        page.close(run_before_unload=True)
        assert asked == []


HELD = [
    "{}",
    "null",
    "[]",
    "half a tex",
    '{"read": null}',
    '{"head": 3, "read": {"M-black-1": 4}}',
    '{"head": {"by": 7}, "read": {"M-black-1": {"half_chest": "20"}}, "done": {"a": 1}}',
    '{"head": {}, "read": {"M-black-1": {"half_chest": [20, null, {}]}}, "done": [1, [2]]}',
    '{"head": {}, "read": {}, "tape": "3 ells", "done": [["gone", "half_chest", null]]}',
]


@pytest.mark.seldom(4)
@pytest.mark.parametrize("held", HELD)
def test_what_is_kept_may_be_damaged(site: Path, browser: Any, held: str) -> None:
    """The page begins anew, and says nothing wrong."""
    with on_phone(site, browser) as page:
        damage = "held => Object.keys(localStorage).forEach(k => localStorage.setItem(k, held))"
        page.evaluate(damage, held)
        page.reload()
        page.locator("#cells tbody button").first.tap()
        reading(page, "20", "5/8")
        assert "M-black-1 half chest: 20 5/8 in" in echo(page)
        tap(page, "undo", "undo", "undo")
        reading(page, "20", "5/8")
