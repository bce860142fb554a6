"""What holds today is the same wherever a site shows it, whatever a person decided."""

import html
import re
import shutil
from pathlib import Path

import pytest

from blankbook.build.build_site import build_site
from blankbook.commands.shared.judge_ledger import judge_ledger
from blankbook.commands.vet_report import blank_sheet
from blankbook.commands.vet_today import MOST_LINES
from blankbook.results.result_types import Judged
from blankbook.words.answers import SIGNS, MayOrder
from building import site_files

KEY = "tarn-thrush/h6"
"""The demo shop's best blank: approved, four lots, and every check that is required met."""


@pytest.fixture(scope="module")
def rejected(demo_ledger: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Return every file of the demo shop's site after its best blank was rejected."""
    folder = tmp_path_factory.mktemp("rejected")
    copy = folder / "ledger"
    shutil.copytree(demo_ledger, copy, ignore=shutil.ignore_patterns("catalogue", ".git"))
    newest = sorted((copy / "blanks" / KEY).glob("*.yaml"))
    (decided,) = [p for p in newest if "date: 2026-05-06" in p.read_text(encoding="utf-8")]
    text = decided.read_text(encoding="utf-8")
    changed = text.replace("decision: approved", "decision: rejected")
    assert changed != text
    decided.write_text(changed, encoding="utf-8")
    build_site(copy, folder / "site")
    return site_files(folder / "site")


def words(markup: bytes | str) -> str:
    """Return what a piece of a page reads, with plain blanks between the words."""
    text = markup.decode() if isinstance(markup, bytes) else markup
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).split())


def rows_of(site: dict[str, bytes]) -> dict[str, str]:
    """Return what the catalogue's row of each blank reads."""
    body = site["index.html"].decode().partition("<tbody")[2]
    rows = {}
    for row in re.split(r"<tr\b", body)[1:]:
        key = re.search(r"id=\"?([\w-]+/[\w-]+)", row)
        if key:
            rows[key[1]] = words("<tr" + row)
    return rows


def test_rejected_blank_is_nowhere_shown_as_one_that_may_be_ordered(
    rejected: dict[str, bytes],
) -> None:
    """Searched for in every page: its own, the lists, its supplier's, clients' and stand-ins'."""
    own = words(rejected[f"blanks/{KEY}.html"])
    assert "Today ■ do not order" in own
    assert "In the sizes none today" in own
    assert [path for path in rejected if "standard-tee" in path] == [], "clients still see it"
    lines = 0
    for path, body in rejected.items():
        for row in re.split(r"<tr\b", body.decode())[1:] if path.endswith(".html") else ():
            head = row.partition("</th>")[0]
            if f"blanks/{KEY}.html" in head and "sign" in row:
                lines += "do not order" in row
                assert "may be ordered" not in words(row.replace("data-head", "")), path
    assert lines == 2, "the catalogue and the supplier have a row each"
    assert KEY not in _stand_ins(rejected)


def _stand_ins(site: dict[str, bytes]) -> set[str]:
    """Return the blanks that any page names as one that could stand in for another."""
    found = set()
    for path, body in site.items():
        if path.startswith("blanks/") and b"nearest-caption" in body:
            table = body.decode().partition("nearest-caption")[2].partition("</table>")[0]
            found |= {f"{s}/{k}" for s, k in re.findall(r"blanks/([\w-]+)/([\w-]+)\.html", table)}
    assert found
    return found


def test_catalogue_and_page_say_the_same(rejected: dict[str, bytes]) -> None:
    """Row by row: the standing and the sentence are those of the page behind the link."""
    rows = rows_of(rejected)
    assert len(rows) == len([p for p in rejected if re.fullmatch(r"blanks/[^/]+/[^/]+\.html", p)])
    for key, text in rows.items():
        page = rejected[f"blanks/{key}.html"].decode()
        sentence = re.search(r"class=\"?headline\"?>(.*?)(?:</p>|<p)", page, re.DOTALL)
        assert sentence
        assert words(sentence[1]) in text, key
        kind = max((kind for kind in MayOrder if kind in text), key=len)
        assert f"Today {SIGNS[kind].shape} {kind}" in words(page), key


@pytest.fixture(scope="module")
def sheets(demo_ledger: Path) -> dict[str, str]:
    """Return what `vet` says of every blank of the demo shop."""

    def sheet(judged: Judged) -> tuple[str, str]:
        return judged.blank.style.key, blank_sheet(judged)

    return dict(judge_ledger(demo_ledger, sheet)[1])


def test_vet_of_one_blank_fits_one_screen(sheets: dict[str, str]) -> None:
    """80 columns by 40 lines, with cautions, plans and conditions."""
    for key, text in sheets.items():
        lines = text.split("\n")
        assert len(lines) <= MOST_LINES, key
        assert max(map(len, lines)) <= 80, key
        assert any(line.startswith("next: ") for line in lines), key
