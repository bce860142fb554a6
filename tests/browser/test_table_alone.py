"""The page of a planned round as one file: all that a phone was sent, and nothing beside it."""

import base64
import hashlib
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from browser.thumb import PAGE, cell, finished, on_phone, reading
from support import ROOT

pytestmark = pytest.mark.browser

ALONE = "data/table/hobnettle/q5/2026-11-16-winter.htm"


@pytest.fixture
def sent(site: Path, tmp_path: Path) -> Path:
    """Return a folder that holds the one file."""
    place = tmp_path / "phone" / PAGE
    place.parent.mkdir(parents=True)
    shutil.copyfile(site / ALONE, place)
    return tmp_path / "phone"


def test_a_round_is_filled_with_the_file_alone(sent: Path, browser: Any, tmp_path: Path) -> None:
    """Kept through a reload, and handed over as a file that the check accepts."""
    with on_phone(sent, browser) as phone:
        reading(phone, "20", "5/8")
        reading(phone, "28", "1/2")
        phone.reload()
        assert cell(phone).startswith("M-black-1, sleeve length")
        for label, text in (("by", "rv"), ("lot", "HN 1126")):
            phone.get_by_label(label, exact=True).fill(text)
        piece = finished(phone, tmp_path).pieces[0]
        assert {point: repeats[0].written for point, repeats in piece.received.items()} == {
            "half_chest": "20 5/8",
            "body_length": "28 1/2",
        }


def test_nothing_in_it_runs_but_what_its_policy_names(sent: Path) -> None:
    """Each script and style has its hash in the policy, worked out here once more (FIPS 180-4)."""
    text = (sent / PAGE).read_text(encoding="utf-8")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert policy
    assert policy[1].startswith("default-src 'none'; ")
    inline = re.findall(r"<(script|style)>(.*?)</\1>", text, re.DOTALL)
    assert len(inline) == 9
    for kind, body in inline:
        digest = base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()
        source = next(
            directive for directive in policy[1].split("; ") if directive.startswith(f"{kind}-src")
        )
        assert f"'sha256-{digest}'" in source
    assert not re.search(
        r"\b(?:src|href)=", re.sub(r"<(script|style)>.*?</\1>", "", text, flags=re.DOTALL)
    )
    assert len(text.encode()) < 100_000


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(sent: Path, browser: Any, scheme: str) -> None:
    """In both colours."""
    page = browser.new_page(color_scheme=scheme, viewport={"width": 360, "height": 640})
    page.goto((sent / PAGE).as_uri())
    found = Axe().run(page).response["violations"]
    assert [(violation["id"], violation["nodes"][0]["html"]) for violation in found] == []
    page.close()


def test_no_asset_ends_its_own_tag() -> None:
    """A script that spells an end tag would end where it does."""
    for place in (ROOT / "site/theme/assets").glob("*.[jc]s*"):
        assert not re.search(
            r"</(?:script|style)|<!--", place.read_text(encoding="utf-8"), re.IGNORECASE
        )
