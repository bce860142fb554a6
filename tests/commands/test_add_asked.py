"""Adding at a terminal: a prompt asks again with the reason, and no answer is lost."""

from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from support import LedgerMaker
from terminals import Terminal

CHART = "inches,S,M,L\nChest,18,20,2x\nLength,28,29,30\n"


@pytest.fixture
def ledger(ledger_factory: LedgerMaker) -> Path:
    """Return a small ledger."""
    return ledger_factory()


def answer(at: Terminal, *pairs: tuple[str, str]) -> None:
    """Wait for each question, and answer it."""
    for words, text in pairs:
        at.until(words)
        at.until(": ")
        at.key(f"{text}\r")


def test_a_wrong_answer_is_asked_again_and_the_rest_stays(ledger: Path) -> None:
    """Days are a number; after Ctrl-C the next run offers what was answered."""
    at = Terminal(ledger, "supplier", "Moss Lane", door="add")
    answer(at, ("whom to ask for", "Ida"), ("website", "moss"))
    at.until("website must")
    answer(at, ("website", ""), ("terms", "30 days"), ("days from order", "3-5 days"))
    at.until("lead_time_days must be a whole number")
    at.until("days from order to door")
    at.key("\x03")
    assert at.end() == 130
    assert not (ledger / "suppliers/moss-lane.yaml").exists()
    again = Terminal(ledger, "supplier", "Moss Lane", door="add")
    again.until("Enter takes what you answered last time")
    again.until("whom to ask for [Ida]")
    again.key("\r")
    answer(again, ("website", ""), ("terms of payment [30 days]", "-"), ("days from", "5"))
    answer(again, ("how the goods come", "parcel"), ("the smallest order", ""))
    again.until("wrote suppliers/moss-lane.yaml")
    assert again.end() == 0
    text = (ledger / "suppliers/moss-lane.yaml").read_text(encoding="utf-8")
    assert "contact: Ida" in text
    assert "terms" not in text
    assert not list((ledger / ".blankbook").glob("answers-*"))


def test_a_chart_with_one_bad_cell_costs_no_answer(ledger: Path, tmp_path: Path) -> None:
    """The cell is named, the chart is asked for again, and everything else is there."""
    place = tmp_path / "chart.csv"
    place.write_text(CHART, encoding="utf-8")
    at = Terminal(ledger, "style", "tarn-thrush/h9", door="add")
    answer(at, ("what the supplier calls it", "H9 tee"), ("sized for", "adult"))
    answer(at, ("body is made", ""), ("neck label", ""), ("fibres", ""), ("mass", "heavy"))
    at.until("must be a mass per unit area")
    answer(at, ("mass", "6,1 oz/yd2"), ("price of one piece", "cheap"))
    at.until("each must be a number")
    answer(at, ("price of one piece", "2,95"), ("the size chart", str(place)))
    at.until("D2 2x")
    at.until("take the chart without these cells?")
    at.key("n\r")
    at.until("the size chart")
    place.write_text(CHART.replace("2x", "22"), encoding="utf-8")
    at.key("\r")
    answer(at, ("the colours that you buy", "black"), ("is that what the chart says?", "y"))
    at.until("wrote blanks/tarn-thrush/h9/style.yaml")
    assert at.end() == 0
    loaded = load_ledger(ledger).ledger
    assert loaded
    style = loaded.blanks["tarn-thrush/h9"].style
    assert style.prices[0].each == pytest.approx(2.95)
    assert style.charts[0].sizes["L"]["half_chest"].written == "22"


def test_answers_that_came_through_a_link_are_not_believed(ledger: Path, tmp_path: Path) -> None:
    """Nothing is read or written outside the ledger."""
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "answers-supplier-moss-lane.json").write_text('{"contact": "Eve"}')
    (ledger / ".blankbook").symlink_to(outside)
    at = Terminal(ledger, "supplier", "Moss Lane", door="add")
    answer(at, ("whom to ask for", "Ida"))
    at.until("website")
    at.key("\x03")
    at.end()
    assert "Eve" not in at.seen
    assert (outside / "answers-supplier-moss-lane.json").read_text() == '{"contact": "Eve"}'
