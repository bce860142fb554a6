"""The demo shop's ledger with a short history, and what the review says of each step."""

import re
from pathlib import Path

import pytest

from blankbook.history.report.review_document import MOST_ANSWERS
from made_repositories import Repository
from support import Program

CHART = "blanks/dabchick/d50/style.yaml"
SLIP = "blanks/dabchick/d50/2025-09-15-reorder.yaml"
DRIFT = "blanks/dabchick/d50/2026-08-24-reorder.yaml"


@pytest.fixture
def story(demo_copy: Path) -> Repository:
    """The ledger before its newest lot; then a chart changed in silence, a lot, a slip put right.

    Invented, with fixed dates: nothing of it depends on this project's own commits.
    """
    made = Repository(demo_copy)
    newest, chart, slip = (demo_copy / path for path in (DRIFT, CHART, SLIP))
    lot, right = newest.read_text(encoding="utf-8"), slip.read_text(encoding="utf-8")
    newest.unlink()
    slip.write_text(right.replace("half_chest: 19 5/8,", "half_chest: 16 5/8,"), encoding="utf-8")
    made.commit("three lots of the everyday tee")
    made.git("tag", "begin")
    text = chart.read_text(encoding="utf-8")
    assert "L: {half_chest: 22," in text
    for old, new in (("M", (20, "19 3/4")), ("L", (22, "21 3/4"))):
        text = text.replace(f"{old}: {{half_chest: {new[0]},", f"{old}: {{half_chest: {new[1]},")
    chart.write_text(text, encoding="utf-8")
    made.commit("chart as the supplier's page has it now")
    made.git("tag", "chart")
    newest.write_text(lot, encoding="utf-8")
    made.commit("the lot of summer 2026")
    made.git("tag", "lot")
    slip.write_text(right, encoding="utf-8")
    made.commit("M-black-1 put right\n\nReason: the paper says 19 5/8")
    made.git("tag", "slip")
    return made


def review_text(made: Repository, program: Program, old: str, new: str) -> str:
    """Return what the command says between two tags, without its line breaks."""
    ended = program("changes", old, new, "--ledger", made.root)
    assert (ended.code, ended.err) == (0, "")
    return " ".join(ended.out.split())


def test_a_silent_change_of_chart(story: Repository, program: Program) -> None:
    """Two sizes a quarter narrower, in a chart by which three lots were judged."""
    text = review_text(story, program, "begin", "chart")
    assert "2 measures of size charts moved" in text
    assert "M half chest: 20 in → 19 3/4 in (-1/4 in, -0.6 cm)" in text
    assert "S to M half chest: 2 in → 1 3/4 in" in text
    assert "L to XL half chest: 2 in → 2 1/4 in" in text
    assert "judged by it: 2023-12-04-first, 2024-11-18-reorder, 2025-09-15-reorder" in text
    assert "the past is rewritten in 1 file, 1 without a reason" in text


def test_a_lot_that_drifts(story: Repository, program: Program) -> None:
    """New evidence rewrites nothing; what it does to the advice comes first."""
    text = review_text(story, program, "chart", "lot")
    assert "rewritten" not in text
    assert "dabchick/d50: standing and decisions" in text
    listed = re.findall(r" → (fails|not shown|not asked|meets)(?= -)", text)
    assert len(listed) == MOST_ANSWERS
    assert listed == sorted(listed, key=["fails", "not shown", "not asked", "meets"].index)
    assert listed[0] == "fails"
    assert re.search(r"\d+ more answers changed", text)
    assert "2026-08-24-reorder.yaml - added" in text


def test_a_corrected_slip(story: Repository, program: Program) -> None:
    """A rewrite of the past with its reason, and named for how far it moved."""
    text = review_text(story, program, "lot", "slip")
    assert "the past is rewritten in 1 file, 0 without a reason" in text
    assert "reason: the paper says 19 5/8" in text
    assert "16 5/8 in → 19 5/8 in (+3 in, +7.6 cm)" in text
    assert "look again: M-black-1, half chest: moved by an inch or more" in text
