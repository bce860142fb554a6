"""A delivery looked over and measured with a phone: one fault a key, then the tape, then the file.

72 pieces at level II and AQL 2.5 are 20 to look at: MIL-STD-105E, tables I and II-A.
"""

import shutil
from pathlib import Path
from typing import Any

import pytest

from blankbook.commands.shared.find_blank import one_blank
from blankbook.pages.table.phone_page import delivery_pages
from blankbook.records.load_ledger import load_ledger
from browser.thumb import reading
from support import LedgerMaker, Program

pytestmark = pytest.mark.browser

BLANK = "tarn-thrush/h6"
FILE = f"blanks/{BLANK}/2024-03-04-bulk-delivery.yaml"
CAME = ("--came", "M=30,L=42", "--lot", "TT-2402-B", "--by", "jt", "--date", "2024-03-04")


@pytest.fixture
def root(ledger_factory: LedgerMaker, command: Program) -> Path:
    """Return a ledger with a delivery that was counted."""
    root = ledger_factory()
    assert command("receive", BLANK, *CAME, "--ledger", str(root)).code == 0
    return root


def page_file(root: Path, place: Path) -> Path:
    """Write the page of the delivery as one file."""
    source = {FILE: (root / FILE).read_bytes()}
    (spec,) = one_blank(root, BLANK, lambda judged: delivery_pages(judged, source))
    place.write_text(spec.files[1].text, encoding="utf-8")
    return place


def test_a_delivery_is_looked_over_measured_and_handed_over(
    root: Path, browser: Any, tmp_path: Path, command: Program
) -> None:
    """Kept through a reload; undo takes the last piece back; the file is taken and checks."""
    context = browser.new_context(
        viewport={"width": 360, "height": 640}, offline=True, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(page_file(root, tmp_path / "delivery.htm").as_uri())
    look = page.get_by_role("region", name="Look over")
    assert "of 72 pieces look at 20; up to 1 bad is accepted, 2 is rejected" in look.inner_text()

    def press(words: str) -> None:
        look.get_by_role("button", name=words).tap()

    for _ in range(3):
        press("nothing wrong")
    look.get_by_label("a fault is of size").select_option("L")
    look.get_by_label("where and how").fill("left: under the arm")
    press("a hole")
    press("a stain")
    press("undo")
    page.reload()
    assert "Look at piece 5 of 20" in look.inner_text()
    assert "4 looked at, 1 bad." in look.inner_text()
    for _ in range(16):
        press("nothing wrong")
    assert "All 20 looked at: now the tape" in look.inner_text()
    reading(page, "20")
    handed = tmp_path / "handed.yaml"
    handed.write_text(page.locator("#text").input_value(), encoding="utf-8")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert said == []
    context.close()

    other = Path(shutil.copytree(root, tmp_path / "other"))
    shutil.copyfile(handed, other / FILE)  # pasted over the file that is there
    day = ("--date", "2024-03-04")
    ended = command("enter", FILE, "--handed", str(handed), *day, "--ledger", str(root))
    assert ended.code == 0, ended.err
    again = command("enter", FILE, "--handed", str(handed), *day, "--ledger", str(root))
    assert "no change" in again.out, again.err
    for place in (root, other):
        loaded = load_ledger(place)
        assert [f.message for f in loaded.findings if f.level == "error"] == []
        assert loaded.ledger
        (delivery,) = loaded.ledger.blanks[BLANK].deliveries
        assert (delivery.inspected, delivery.flawed) == (20, 1)
        (flaw,) = delivery.flaws
        assert (flaw.size, flaw.fault, flaw.note) == ("L", "hole", "left: under the arm")
        assert delivery.pieces[0].received["half_chest"][0].written == "20"


def test_a_delivery_that_was_looked_at_has_no_page(root: Path, command: Program) -> None:
    """What was found is in its file: the page would begin anew."""
    command("enter", FILE, "--looked", "3", "--ledger", str(root))
    source = {FILE: (root / FILE).read_bytes()}
    assert one_blank(root, BLANK, lambda judged: delivery_pages(judged, source)) == []
