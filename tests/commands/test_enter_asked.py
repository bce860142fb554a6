"""What is asked at the table: an odd reading, and what stands above the pieces."""

from pathlib import Path

import pytest

from blankbook.records.load_ledger import load_ledger
from support import Program
from terminals import ROUND, WHO, Terminal, readings_of, round_tree

ASKED = "M-black-1  half chest (20 1/2 in) >"


def test_only_a_yes_keeps_what_is_odd(demo_copy: Path) -> None:
    """Enter asks once more, and no or undo writes nothing."""
    before = (demo_copy / ROUND).read_bytes()
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until(ASKED)
    for answer in ("n", "u", "no"):
        at.key("266\r")
        at.until("keep it?")
        at.key("\r")
        at.until("keep it?")
        at.key(f"{answer}\r")
        at.until(ASKED)
    assert (demo_copy / ROUND).read_bytes() == before
    at.key("266\r")
    at.until("keep it?")
    at.key("y\r")
    at.until("M-cream-2")
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "26 3/4"}
    at.key("u\r")
    at.until("taken back: M-black-1 half_chest")
    at.key("q\r")
    at.end()
    assert readings_of(demo_copy, "M-black-1") == {}


def test_undo_at_the_question_leaves_the_good_reading_before(demo_copy: Path) -> None:
    """It means the reading in question, which was never written."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until(ASKED)
    at.key("205\r")
    at.until("M-cream-2  half chest")
    at.key("266\r")
    at.until("keep it?")
    at.key("u\r")
    at.until("M-cream-2  half chest")
    at.key("q\r")
    at.end()
    assert readings_of(demo_copy, "M-black-1") == {"half_chest": "20 5/8"}


def test_all_around_is_asked_about_in_these_words(demo_copy: Path) -> None:
    """A circumference that a garment can hardly have is refused with the same question."""
    at = Terminal(demo_copy, "hobnettle/q5", *WHO, "--points", "half_chest")
    at.until(ASKED)
    at.key("41\r")
    at.until("twice the expected width of 20 1/2 in: measured all the way around?")
    at.key("q\r")
    at.end()


def test_what_no_day_is_is_asked_again(demo_copy: Path) -> None:
    """So is one to come; a lot that nobody knows is said to be not known."""
    at = Terminal(demo_copy, "hobnettle/q5", "--points", "half_chest")
    at.until("the day of measuring")
    for day, words in (("sam", "date must be a date"), ("2199-01-01", "date must be between")):
        at.key(f"{day}\r")
        at.until(words)
        at.until("the day of measuring")
    at.key("2026-11-24\r")
    at.until("who measures")
    at.key("rv\r")
    at.until("the lot")
    at.until("not known")
    at.key("\r")
    at.until("measured 2026-11-24, by rv, lot not known, read to 1/8 in")
    at.until(ASKED)
    at.key("205\r")
    at.until("M-cream-2")
    at.key("q\r")
    at.end()
    assert round_tree(demo_copy)["lot"] == "not known"
    ledger = load_ledger(demo_copy).ledger
    assert ledger
    assert ledger.blanks["hobnettle/q5"].rounds[-1].lot == "not known (2026-11-24)"


@pytest.mark.parametrize("lot", ["?", "-", "unknown"])
def test_a_sign_for_nothing_is_no_lot(demo_copy: Path, command: Program, lot: str) -> None:
    """Two lots that nobody knows are never one."""
    put = ("--put", "M-black-1.half_chest=205", "--by", "rv", "--date", "2026-11-24")
    ended = command("enter", "hobnettle/q5", *put, "--lot", lot, "--ledger", str(demo_copy))
    assert ended.code == 0
    assert round_tree(demo_copy)["lot"] == "not known"


def test_a_day_that_is_none_is_refused_in_a_list(demo_copy: Path, command: Program) -> None:
    """Nothing is written then."""
    before = (demo_copy / ROUND).read_bytes()
    put = ("--put", "M-black-1.half_chest=205", "--by", "rv", "--lot", "7", "--date", "sam")
    ended = command("enter", "hobnettle/q5", *put, "--ledger", str(demo_copy))
    assert ended.code == 2
    assert "date must be" in ended.err
    assert (demo_copy / ROUND).read_bytes() == before


def test_what_stands_above_is_shown_before_it_is_used_again(
    demo_copy: Path, command: Program
) -> None:
    """A second sitting does not repeat the first one's hand and lot silently."""
    put = ("--put", "M-black-1.half_chest=205", *WHO)
    command("enter", "hobnettle/q5", *put, "--ledger", str(demo_copy))
    at = Terminal(demo_copy, ROUND, "--points", "half_chest")
    at.until("measured 2026-11-24, by rv, lot HN 1126, read to 1/8 in")
    at.until("M-cream-2")
    at.key("q\r")
    at.end()
